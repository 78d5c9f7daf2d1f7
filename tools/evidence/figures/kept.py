"""The pictures that are kept, and what the tests measure on them."""

from __future__ import annotations

from collections.abc import Iterator

from tests.figures.loop_pictures import LOOP_PICTURES
from tests.figures.pictures import PICTURES
from tests.figures.test_read_back import SEEDS
from tests.golden.comparing import KEPT

from gyrochalk.figures import THEMES
from gyrochalk.figures.examples import EXAMPLES
from gyrochalk.figures.options import kinds
from tools.evidence import Row, equal, rows
from tools.evidence.suite import rows_from_quick_tests


@rows("golden pictures")
def kept() -> Iterator[Row]:
    """Which pictures are kept in which theme, and which of them are drawn otherwise now."""
    names = [*PICTURES, *LOOP_PICTURES, *(f"gallery-{example.name}" for example in EXAMPLES)]
    missing = [f"{name}-{theme}" for name in names for theme in THEMES if not (KEPT / f"{name}-{theme}.svg").exists()]
    said = f"pictures × themes without a golden file, of {len(names)} × {len(THEMES)}"
    yield Row(said, len(missing), equal(0), "files", "counted here")
    drawn = {options.kind for _, options in (PICTURES | LOOP_PICTURES).values()}
    yield Row("kinds of picture with no golden file", len(set(kinds()) - drawn), equal(0), "kinds", "counted here")
    yield from rows_from_quick_tests("tests/golden")


@rows("labels that touch something, at three sizes, in both languages, with long names")
def overlaps() -> Iterator[Row]:
    """Every label against every other, every line end and the frame."""
    yield from rows_from_quick_tests("tests/figures/test_overlap.py", "tests/figures/test_loop_overlap.py")


@rows("values read back out of pictures of random runs")
def read_back() -> Iterator[Row]:
    """How many random runs there are, and whether the pictures say what the runs say."""
    yield Row("random runs read back", len(SEEDS), equal(50), "runs", "tests/figures/test_read_back.py")
    yield from rows_from_quick_tests(
        "tests/figures/test_read_back.py",
        "tests/figures/test_round_read_back.py",
        "tests/figures/test_path_read_back.py",
        "tests/figures/test_earth_read_back.py",
    )


@rows("contrast, colour vision and grey print")
def themes() -> Iterator[Row]:
    """The tests of the themes."""
    yield from rows_from_quick_tests("tests/figures/test_theme.py")


@rows("pages in a browser")
def browser() -> Iterator[Row]:
    """axe-core on the demo course and the gallery, and the slider by keyboard; a skipped test does not hold."""
    yield from rows_from_quick_tests("tests/browser")


@rows("one slider, export, the documented examples")
def around() -> Iterator[Row]:
    """What else a figure does."""
    yield from rows_from_quick_tests(
        "tests/lesson/test_slider.py", "tests/figures/test_raster.py", "tests/architecture/test_figure_examples.py"
    )
