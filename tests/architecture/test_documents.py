"""The documents list what the project has: decisions, sources, dependencies, targets."""

from __future__ import annotations

import csv
import re
from pathlib import Path

from tests.architecture.tree import ROOT, project_files

DOCS = ROOT / "docs"
DATA = ROOT / "tests" / "outside" / "data"


def read(path: Path) -> str:
    """The text of a document."""
    return path.read_text(encoding="utf-8")


def source_ids() -> set[str]:
    """The ids in the first column of the tables of `docs/sources.md`."""
    return set(re.findall(r"^\| `([^`]+)` \|", read(DOCS / "sources.md"), flags=re.MULTILINE))


def check_values() -> list[dict[str, str]]:
    """The rows of the table of check values."""
    with (DATA / "check_values.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def decisions() -> list[Path]:
    """The files with one decision each."""
    return [path for path in project_files() if path.parent == DOCS / "decisions" and path.name != "README.md"]


def test_every_decision_is_listed_with_its_title() -> None:
    wanted = [f"* [{read(path).splitlines()[0].removeprefix('# ')}]({path.name})" for path in decisions()]
    listed = [line for line in read(DOCS / "decisions" / "README.md").splitlines() if line.startswith("* [")]
    assert listed == wanted, "docs/decisions/README.md should list:\n" + "\n".join(wanted)


def test_decisions_are_numbered_and_titled() -> None:
    paths = decisions()
    numbers = [path.name[:4] for path in paths]
    assert [p.name for p in paths if not re.fullmatch(r"\d{4}-[a-z0-9-]+\.md", p.name)] == []
    assert len(set(numbers)) == len(numbers)
    assert [path.name for path in paths if not read(path).startswith(f"# {path.name[:4]} ")] == []


def test_check_values_marked_published_name_a_source() -> None:
    published = [row for row in check_values() if row["mark"] == "S"]
    assert published
    assert {row["source"].split(" (")[0] for row in published} <= source_ids()


def test_check_values_that_are_common_practice_say_so() -> None:
    assert [row["id"] for row in check_values() if row["mark"] == "C" and "common practice" not in row["source"]] == []


def test_every_check_value_has_a_mark_and_a_tolerance() -> None:
    assert {row["mark"] for row in check_values()} <= {"S", "C", "D", "M", "D/S"}
    assert [row["id"] for row in check_values() if not row["tolerance"]] == []


def test_every_source_named_in_a_test_is_listed() -> None:
    named = {
        (path.name, source)
        for path in project_files()
        if path.suffix == ".py" and path.is_relative_to(ROOT / "tests")
        for source in re.findall(r"\bsource: ?`?([a-z][a-z0-9.-]+-[a-z0-9.-]*[a-z0-9])\b", read(path))
    }
    assert {(name, source) for name, source in named if source not in source_ids()} == set()


def test_every_dependency_earns_its_place() -> None:
    listed = set(re.findall(r"^\| `([^`]+)` \|", read(DOCS / "dependencies.md"), flags=re.MULTILINE))
    wanted = {
        line.split("==")[0].strip()
        for path in (ROOT / "requirements").glob("*.in")
        for line in read(path).splitlines()
        if line and not line.startswith(("#", "-"))
    }
    assert listed == wanted


def test_run_time_dependencies_are_those_of_the_package() -> None:
    listed = {line for line in read(ROOT / "requirements" / "run.in").splitlines() if line and not line.startswith("#")}
    project = read(ROOT / "pyproject.toml").split("dependencies = [")[1].split("]")[0]
    assert set(re.findall(r'"([A-Za-z0-9._-]+)', project)) == listed


def test_pins_are_hashed_and_name_no_registry() -> None:
    for path in sorted((ROOT / "requirements").glob("*.txt")):
        logical = read(path).replace("\\\n", " ").splitlines()
        pins = [line for line in logical if line and not line.lstrip().startswith("#")]
        assert pins, path.name
        assert [line for line in pins if "==" not in line or "--hash=sha256:" not in line or "://" in line] == []


def test_readme_shows_the_caution_and_targets_that_exist() -> None:
    readme = read(ROOT / "README.md")
    targets = set(re.findall(r"^([a-z]+):.*##", read(ROOT / "Makefile"), flags=re.MULTILINE))
    assert set(re.findall(r"`make ([a-z]+)", readme)) <= targets
    assert {"run", "test"} <= set(re.findall(r"make ([a-z]+)", readme))
    assert (
        "For teaching only. Not for navigation, for adjusting or releasing an aircraft's compass, or in place of the "
        "maker's manual, the approved maintenance data, local regulations or a licensed engineer's or examiner's "
        "judgement." in " ".join(readme.replace("\n> ", "\n").split())
    )


def test_links_between_documents_lead_somewhere() -> None:
    broken = [
        f"{path.relative_to(ROOT)}: {target}"
        for path in project_files()
        if path.suffix == ".md" and (path.is_relative_to(DOCS) or path.parent == ROOT)
        for target in re.findall(
            r"\]\((?![a-z]+:|[#<])([^)#?\s]+)", re.sub(r"```.*?```|`[^`\n]*`", "", read(path), flags=re.DOTALL)
        )
        if not (path.parent / target).exists()
    ]
    assert broken == []
