"""Demonstrations: the files an instructor writes, read into setups, flown, kept and saved."""

from gyrochalk.demonstration.demonstration import Demonstration, Variant
from gyrochalk.demonstration.fingerprint import fingerprint
from gyrochalk.demonstration.flying import fly, fly_setup, forget_runs
from gyrochalk.demonstration.json_schema import json_schema
from gyrochalk.demonstration.loading import load, read
from gyrochalk.demonstration.recording import read_csv
from gyrochalk.demonstration.saving import save_run
from gyrochalk.demonstration.sweeps import Sweep
from gyrochalk.demonstration.upgrading import upgrade
from gyrochalk.demonstration.workspace import (
    demonstration_file,
    demonstration_files,
    parse_address,
    workspace_of,
)

__all__ = [
    "Demonstration",
    "Sweep",
    "Variant",
    "demonstration_file",
    "demonstration_files",
    "fingerprint",
    "fly",
    "fly_setup",
    "forget_runs",
    "json_schema",
    "load",
    "parse_address",
    "read",
    "read_csv",
    "save_run",
    "upgrade",
    "workspace_of",
]
