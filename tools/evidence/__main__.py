"""`python -m tools.evidence TOPIC [--only WORD]`."""

from __future__ import annotations

import argparse
import sys

from tools.evidence.registry import topics
from tools.evidence.report import report


def main() -> int:
    """Read the arguments and report; the answer is the exit code."""
    parser = argparse.ArgumentParser(prog="python -m tools.evidence", description="Measure what a topic promises.")
    parser.add_argument("topic", choices=topics())
    parser.add_argument(
        "--only", default="", help="measure only what is registered under a name with this in it, into TOPIC-part.json"
    )
    options = parser.parse_args()
    return report(options.topic, options.only)


if __name__ == "__main__":
    sys.exit(main())
