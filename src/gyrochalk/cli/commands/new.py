"""`gyrochalk new`: start a workspace."""

from __future__ import annotations

from pathlib import Path

from gyrochalk.lesson import start_workspace


def new(folder: Path) -> None:
    """Make a workspace in a folder and say what to do next."""
    workspace = start_workspace(folder)
    print(f"A course lies in {workspace.root}: course.yaml, lessons, demonstrations.")
    print(f'Look at it:  gyrochalk serve "{workspace.root}"')
    print(f'Check it:    gyrochalk check "{workspace.root}"')
