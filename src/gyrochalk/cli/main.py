"""Where the `gyrochalk` command begins, and where every way it can end gets its exit code.

0 fine; 1 problems in the user's material; 2 wrong usage; 3 our fault.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence

FINE, MATERIAL, USAGE, FAULT = 0, 1, 2, 3


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; `arguments` are those after the program's name (default: the ones it was started with)."""
    arguments = list(sys.argv[1:] if arguments is None else arguments)
    _speak_anywhere()
    if arguments == ["--version"]:
        from gyrochalk import __version__

        print(f"gyrochalk {__version__}")
        return FINE
    return _run(arguments)


def _run(arguments: list[str]) -> int:
    from gyrochalk.errors import MaterialError

    try:
        from gyrochalk.cli.app import application

        application(arguments, prog_name="gyrochalk")
    except SystemExit as stop:
        return stop.code if isinstance(stop.code, int) else FINE if stop.code is None else USAGE
    except MaterialError as error:
        for problem in error.problems:
            print(problem, file=sys.stderr)
        return MATERIAL
    except BrokenPipeError:
        _stop_writing()
        return FINE
    except Exception as fault:  # noqa: BLE001 whatever is left is a fault of ours and is told as one
        from gyrochalk.cli.fault import tell

        tell(fault, arguments)
        return FAULT
    return FINE


def _speak_anywhere() -> None:
    """A terminal that cannot show a sign such as ° shows a question mark instead of stopping the program."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")


def _stop_writing() -> None:
    """Whoever read our output has gone: keep Python from complaining when it closes the stream."""
    import os

    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


if __name__ == "__main__":
    sys.exit(main())
