"""The environment is built once and again only when the pins change."""

from __future__ import annotations

from pathlib import Path

import pytest

from tools import environment


class Workshop:
    """Stands in for pip and venv: notes what would have been made and installed."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, root: Path) -> None:
        self.root = root
        self.folder = root / ".venv"
        self.done: list[str] = []
        (root / "requirements").mkdir()
        for name in environment.LEVELS["develop"]:
            self.pin(name, "one")
        (root / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
        monkeypatch.setattr(environment, "ROOT", root)
        monkeypatch.setattr(environment, "make_folder", self.make_folder)
        monkeypatch.setattr(environment, "install", self.install)

    def pin(self, name: str, text: str) -> None:
        """Change a pin file."""
        (self.root / "requirements" / name).write_text(text, encoding="utf-8")

    def make_folder(self, folder: Path, *, clear: bool) -> None:
        """Pretend to create the environment."""
        self.done.append("fresh" if clear else "new")
        environment.python_of(folder).parent.mkdir(parents=True, exist_ok=True)
        environment.python_of(folder).touch()

    def install(self, folder: Path, what: str, arguments: list[str]) -> bool:
        """Pretend to run pip."""
        assert environment.python_of(folder).exists()
        self.done.append(what.removeprefix("requirements/") + " alone" * ("--no-deps" in arguments))
        return True

    def bring(self, level: str) -> list[str]:
        """What it takes to bring the environment to a level."""
        self.done = []
        assert environment.bring_to_level(self.folder, level) == 0
        return self.done


@pytest.fixture
def workshop(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Workshop:
    """An empty project with pins."""
    return Workshop(monkeypatch, tmp_path)


def test_levels_build_on_each_other_and_are_built_once(workshop: Workshop) -> None:
    assert workshop.bring("run") == ["new", "build.txt", "run.txt", "gyrochalk itself alone"]
    assert workshop.bring("run") == []
    assert workshop.bring("develop") == ["develop.txt", "samples.txt alone"]
    assert workshop.bring("develop") == []
    assert workshop.bring("run") == []


def test_a_changed_pin_starts_afresh(workshop: Workshop) -> None:
    workshop.bring("run")
    workshop.pin("run.txt", "two")
    assert workshop.bring("run") == ["fresh", "build.txt", "run.txt", "gyrochalk itself alone"]


def test_a_file_touched_but_not_changed_does_nothing(workshop: Workshop) -> None:
    workshop.bring("run")
    workshop.pin("run.txt", "one")
    assert workshop.bring("run") == []


def test_a_changed_package_is_installed_again_without_the_rest(workshop: Workshop) -> None:
    workshop.bring("run")
    (workshop.root / "pyproject.toml").write_text("[project]\nname = 'x'\n", encoding="utf-8")
    assert workshop.bring("run") == ["gyrochalk itself alone"]


def test_an_interrupted_build_is_completed(workshop: Workshop, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(environment, "install", lambda _folder, what, _arguments: what == "requirements/build.txt")
        assert environment.bring_to_level(workshop.folder, "run") == 1
    assert workshop.bring("run") == ["run.txt", "gyrochalk itself alone"]


def test_line_endings_do_not_change_a_pin(tmp_path: Path) -> None:
    (tmp_path / "unix").write_bytes(b"a\nb\n")
    (tmp_path / "dos").write_bytes(b"a\r\nb\r\n")
    assert environment.digest_of(tmp_path / "unix") == environment.digest_of(tmp_path / "dos")
