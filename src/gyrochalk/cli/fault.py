"""What the user sees when the fault is ours: one line, and a file with everything we need to mend it."""

from __future__ import annotations

import datetime
import platform
import sys
import tempfile
import traceback
from collections.abc import Sequence
from pathlib import Path

from gyrochalk import __version__


def tell(fault: BaseException, arguments: Sequence[str]) -> Path | None:
    """Write a report file and say on stderr where it lies; returns its path, or None if it could not be written."""
    print(f"gyrochalk stopped by a fault of its own: {type(fault).__name__}", file=sys.stderr)
    report = _report(fault, arguments)
    try:
        path = _write(report)
    except OSError:
        print(report, file=sys.stderr)
        return None
    print(f"Your files are as they were. Please send this report to the makers: {path}", file=sys.stderr)
    return path


def _report(fault: BaseException, arguments: Sequence[str]) -> str:
    moment = datetime.datetime.now(datetime.UTC).isoformat(timespec="seconds")
    head = [
        f"gyrochalk {__version__}",
        f"Python {platform.python_version()} on {platform.platform()}",
        f"at {moment}",
        "command: gyrochalk " + " ".join(arguments),
        "",
    ]
    return "\n".join(head) + "".join(traceback.format_exception(fault))


def _write(report: str) -> Path:
    with tempfile.NamedTemporaryFile(
        "w", encoding="utf-8", prefix="gyrochalk-report-", suffix=".txt", delete=False
    ) as file:
        file.write(report)
    return Path(file.name)
