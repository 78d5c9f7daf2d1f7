"""axe-core finds nothing to object to on the demo course and the gallery, on a screen, a phone, light or dark."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from gyrochalk.lesson import Flights, Workspace, build_index, build_lesson, course_entries
from gyrochalk.lesson.gallery import build_gallery
from tests.browser.chromium import axe_source, browser, violations

COURSE = Path(__file__).parents[2] / "course"
PAGES = (
    "index",
    "01-why-join-them",
    "gallery-light",
    "gallery-dark",
    "gallery-grey",
    "gallery-projector",
)


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    """One browser for all tests here."""
    with browser() as opened:
        yield opened


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo course and the gallery, built into a folder of their own."""
    folder = tmp_path_factory.mktemp("pages")
    for name in ("lessons", "demonstrations"):
        shutil.copytree(COURSE / name, folder / name)
    (folder / "course.yaml").write_bytes((COURSE / "course.yaml").read_bytes())
    workspace = Workspace(folder)
    flights = Flights(workspace)
    done = [build_lesson(path, workspace, flights) for path in workspace.lesson_files()]
    assert all(one.path for one in done)
    build_index(workspace, course_entries(workspace, {one.entry.name: one.entry for one in done}))
    build_gallery(flights, workspace.out)
    return workspace.out


@pytest.fixture(scope="module")
def look(chromium: Any, built: Path) -> Callable[[str, int, str], list[str]]:
    """Open a page at a width [px] in a colour scheme and say what axe-core objects to."""
    axe = axe_source()

    def looking(name: str, width_px: int, scheme: str) -> list[str]:
        page = chromium.new_page(
            viewport={"width": width_px, "height": 900}, color_scheme=scheme, bypass_csp=True, reduced_motion="reduce"
        )
        try:
            page.goto((built / f"{name}.html").as_uri())
            return violations(page, axe)
        finally:
            page.close()

    return looking


@pytest.mark.parametrize("name", PAGES)
def test_a_screen_has_no_violation(look: Callable[[str, int, str], list[str]], name: str) -> None:
    assert look(name, 1280, "light") == []


@pytest.mark.parametrize("name", PAGES[:2])
def test_a_phone_in_the_dark_has_no_violation(look: Callable[[str, int, str], list[str]], name: str) -> None:
    assert look(name, 360, "dark") == []


def test_a_fault_is_seen(chromium: Any) -> None:
    page = chromium.new_page()
    pale = '<p style="color:#ddd;background:#fff">Words too pale to read</p>'
    page.set_content(f'<html lang="en"><title>Pale</title><main><h1>Pale</h1>{pale}</main>')
    assert violations(page, axe_source()) == ["color-contrast: ['p']"]
    page.close()


def test_the_slider_moves_by_keyboard(chromium: Any, built: Path) -> None:
    page = chromium.new_page(viewport={"width": 1280, "height": 900})
    page.goto((built / "01-why-join-them.html").as_uri())
    stops = page.locator(".stops input")
    assert stops.count() == 12
    shown = page.locator(".slide:visible .at")
    assert shown.all_inner_texts() == ["Slow rate: 1 °/min"]
    stops.first.focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    assert shown.all_inner_texts() == ["Slow rate: 3 °/min"]
    page.emulate_media(media="print")
    assert shown.all_inner_texts() == ["Slow rate: 1 °/min"]
    assert page.locator(".ends:visible tbody tr").count() == 2
    page.close()
