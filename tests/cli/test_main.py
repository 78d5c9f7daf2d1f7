"""How the command begins and ends: version, help, wrong usage, and faults of our own."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from gyrochalk import __version__
from gyrochalk.cli import main as entry
from gyrochalk.cli.main import FAULT, FINE, MATERIAL, USAGE, main

COMMANDS = ("new", "run", "check", "refresh", "build", "serve", "schema")


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == FINE
    assert capsys.readouterr().out == f"gyrochalk {__version__}\n"


def test_version_imports_next_to_nothing() -> None:
    code = "import sys; from gyrochalk.cli.main import main; main(['--version']); print(sorted(sys.modules))"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, encoding="utf-8")
    for heavy in ("numpy", "typer", "rich", "pydantic", "fastapi"):
        assert f"'{heavy}'" not in out.stdout


def test_help_lists_every_command_and_imports_no_numbers() -> None:
    code = "import sys; from gyrochalk.cli.main import main; main(['--help']); print(sorted(sys.modules))"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, encoding="utf-8")
    for command in COMMANDS:
        assert re.search(rf"^  {command} ", out.stdout, re.MULTILINE)
    for heavy in ("numpy", "rich", "pydantic", "fastapi"):
        assert f"'{heavy}'" not in out.stdout


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([command, "--help"]) == FINE
    assert f"Usage: gyrochalk {command} [OPTIONS]" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["frob"], "No such command 'frob'."),
        (["check", "--frob"], "No such option: --frob"),
        (["run"], "Missing argument 'file'"),
        (["serve", "--port", "99999"], "Input should be less than or equal to 65535"),
    ],
)
def test_wrong_usage(arguments: list[str], message: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(arguments) == USAGE
    shown = capsys.readouterr()
    assert message.lower() in shown.err.lower()
    assert shown.out == ""


def test_problems_go_to_stderr_with_their_place(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    missing = tmp_path / "demonstrations" / "none.yaml"
    assert main(["run", str(missing)]) == MATERIAL
    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err == (
        f"{missing.as_posix()}  there is no such file; a file that exists; check the name and the folder  "
        f"[file-missing]\n"
    )


def test_a_fault_of_ours_is_one_message_and_a_report(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    import gyrochalk.cli.commands.schema as command

    def broken() -> None:
        raise ZeroDivisionError("planted")

    monkeypatch.setattr(command, "schema", broken)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    assert main(["schema"]) == FAULT
    shown = capsys.readouterr()
    first, second = shown.err.splitlines()
    assert first == "gyrochalk stopped by a fault of its own: ZeroDivisionError"
    told = re.fullmatch(r"Your files are as they were. Please send this report to the makers: (.+)", second)
    assert told is not None
    report = Path(told[1]).read_text(encoding="utf-8")
    assert report.startswith(f"gyrochalk {__version__}\nPython ")
    assert "command: gyrochalk schema" in report
    assert "ZeroDivisionError: planted" in report


def test_schema_is_json(capsys: pytest.CaptureFixture[str]) -> None:
    import json

    assert main(["schema"]) == FINE
    assert json.loads(capsys.readouterr().out)["required"] == ["gyrochalk"]


def test_module_and_command_are_the_same() -> None:
    out = subprocess.run(
        [sys.executable, "-m", "gyrochalk", "--version"], capture_output=True, text=True, check=True, encoding="utf-8"
    )
    assert out.stdout == f"gyrochalk {__version__}\n"
    assert callable(entry.main)
