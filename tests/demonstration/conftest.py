"""A workspace of its own for every test, and a cache that is thrown away."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from gyrochalk.demonstration import forget_runs, load
from gyrochalk.errors import MaterialError

Refusal = Callable[..., list[str]]


@pytest.fixture(autouse=True)
def own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A cache folder that only this test sees."""
    folder = tmp_path / "cache"
    monkeypatch.setenv("XDG_CACHE_HOME", str(folder))
    forget_runs()
    return folder


@pytest.fixture
def workspace(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A workspace with a course file, as the working folder, so that messages name files as a person would."""
    (tmp_path / "demonstrations").mkdir()
    (tmp_path / "flights").mkdir()
    (tmp_path / "course.yaml").write_text("gyrochalk: 1\ntitle: Test\n", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def refusal(workspace: Path) -> Refusal:
    """What is said when a demonstration of this text is loaded: one line a problem, without the file's name."""

    def refuse(text: str | bytes, name: str = "orbit") -> list[str]:
        path = Path("demonstrations") / f"{name}.yaml"
        path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
        with pytest.raises(MaterialError) as caught:
            load(path)
        return [str(problem).replace(f"{path.as_posix()}:", "", 1) for problem in caught.value.problems]

    return refuse
