"""`gyrochalk figure`: a picture leaves with its caption, or is told in words."""

from __future__ import annotations

from pathlib import Path

import pytest

from gyrochalk.cli.main import FINE, MATERIAL, main
from tests.lesson.desk import DRIFT, Desk


def test_a_figure_is_written_as_svg_and_png(desk: Desk, capsys: pytest.CaptureFixture[str]) -> None:
    desk.demonstration("drift", DRIFT)
    assert main(["figure", "drift", "show=gyro", "--svg", "a.svg", "--png", "a.png", "--theme", "dark"]) == FINE
    assert capsys.readouterr().out == "a.svg\na.png\n"
    assert Path("a.png").read_bytes()[:4] == b"\x89PNG"
    svg = Path("a.svg").read_text(encoding="utf-8")
    assert "#14181C" in svg
    assert "unslaved gyro" in svg


def test_without_a_file_it_is_told(desk: Desk, capsys: pytest.CaptureFixture[str]) -> None:
    desk.demonstration("drift", DRIFT)
    assert main(["figure", "drift", "show=gyro"]) == FINE
    assert "2.0° out" in capsys.readouterr().out


def test_an_unknown_option_is_refused(desk: Desk, capsys: pytest.CaptureFixture[str]) -> None:
    desk.demonstration("drift", DRIFT)
    assert main(["figure", "drift", "kid=faces"]) == MATERIAL
    assert "did you mean kind?  [figure-option]" in capsys.readouterr().err
