"""The instructor's own pictures go inside the page; nothing from elsewhere does."""

from __future__ import annotations

import base64
from pathlib import Path

import pytest

from gyrochalk.errors import MaterialError
from gyrochalk.lesson.directives.picture import embed
from gyrochalk.lesson.mentions import Picture
from gyrochalk.lesson.source import Place
from gyrochalk.lesson.workspace import Workspace

PNG = b"\x89PNG\r\n\x1a\n" + b"rest"


@pytest.fixture
def workspace(tmp_path: Path) -> Workspace:
    root = tmp_path / "course"
    for folder in ("lessons", "images"):
        (root / folder).mkdir(parents=True)
    (root / "images" / "a b.png").write_bytes(PNG)
    (tmp_path / "outside.png").write_bytes(PNG)
    return Workspace(root)


def embedded(workspace: Workspace, target: str) -> str:
    return embed(Picture(target, "a", Place("l.md", 3, 7)), workspace.lessons / "l.md", workspace)


@pytest.mark.parametrize("target", ["images/a%20b.png", "../images/a%20b.png"])
def test_picture_is_put_inside(workspace: Workspace, target: str) -> None:
    assert embedded(workspace, target) == "data:image/png;base64," + base64.b64encode(PNG).decode()


@pytest.mark.parametrize(
    ("target", "message"),
    [
        (
            "images/no.png",
            "l.md:3:7  there is no picture images/no.png; a file in images/; check the name and the folder  "
            "[file-missing]",
        ),
        (
            "../../outside.png",
            "l.md:3:7  ../../outside.png lies outside the workspace; pictures lie in images/; copy it there and "
            "name it "
            "images/…  [picture-unusable]",
        ),
        (
            "..%2F..%2Foutside.png",
            "l.md:3:7  ..%2F..%2Foutside.png lies outside the workspace; pictures lie in images/; copy it there "
            "and name "
            "it images/…  [picture-unusable]",
        ),
        (
            "https://example.org/a.png",
            "l.md:3:7  https://example.org/a.png is not a file of the workspace; a page needs no network; "
            "save the picture in images/ and name it from there  [picture-unusable]",
        ),
        (
            "images/big.png",
            "l.md:3:7  images/big.png has 4.0 MB; at most 4 MB a picture; save it smaller  [picture-unusable]",
        ),
        (
            "images/fake.png",
            "l.md:3:7  images/fake.png is not what its name says; a file ending in .png holds image/png; save "
            "it again  "
            "[picture-unusable]",
        ),
        (
            "images/text.txt",
            "l.md:3:7  images/text.txt is not a picture this can show; pictures end in .png, .jpg, .jpeg, .gif, .webp, "
            ".svg; save it as PNG or JPEG  [picture-unusable]",
        ),
    ],
)
def test_refusals(workspace: Workspace, target: str, message: str) -> None:
    images = workspace.root / "images"
    (images / "big.png").write_bytes(PNG + bytes(4_000_000))
    (images / "fake.png").write_bytes(b"<html>")
    (images / "text.txt").write_bytes(b"words")
    with pytest.raises(MaterialError) as refused:
        embedded(workspace, target)
    assert str(refused.value) == message


def test_a_link_out_of_the_workspace_is_followed_and_refused(workspace: Workspace) -> None:
    link = workspace.root / "images" / "link.png"
    try:
        link.symlink_to(workspace.root.parent / "outside.png")
    except OSError:
        pytest.skip("links cannot be made here")
    with pytest.raises(MaterialError, match=r"lies outside the workspace"):
        embedded(workspace, "images/link.png")
