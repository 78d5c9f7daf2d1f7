"""`gyrochalk serve`: show a workspace's pages to this machine's browser."""

from __future__ import annotations

import sys
from pathlib import Path

from gyrochalk.classroom import Shelf, serve_pages
from gyrochalk.cli.fault import tell
from gyrochalk.lesson import find_workspace


def serve(folder: Path, port: int) -> None:
    """Serve the workspace that `folder` lies in, at `port` (0: any free one), until Ctrl-C."""
    workspace = find_workspace(folder)
    told: set[str] = set()

    def on_fault(fault: Exception) -> None:
        if repr(fault) not in told:
            told.add(repr(fault))
            tell(fault, ["serve"])

    serve_pages(Shelf(workspace), port, _announce, on_fault)
    print("Stopped.")


def _announce(address: str) -> None:
    print(f"Lessons are at {address}  (Ctrl-C ends)")
    sys.stdout.flush()
