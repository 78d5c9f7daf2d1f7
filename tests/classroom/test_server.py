"""The server shows what is built, follows what changes, and gives nothing else away."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import threading
import time
import urllib.request
from pathlib import Path

import httpx
import pytest

from gyrochalk.classroom import Shelf, create_application, open_port
from gyrochalk.classroom.pages import WATCH_SCRIPT
from gyrochalk.classroom.watch import Watch
from gyrochalk.document import CAUTION
from gyrochalk.errors import MaterialError
from gyrochalk.lesson import Built, Workspace, build_lesson
from tests.classroom.browser import PORT, ask
from tests.lesson.desk import Desk


def shelf_of(desk: Desk) -> Shelf:
    return Shelf(Workspace(desk.root))


def get(shelf: Shelf, path: str) -> httpx.Response:
    return ask(create_application(shelf, PORT), path)


def touch(path: Path) -> None:
    """Let a file look changed, however coarse the clock of the file system is."""
    later = path.stat().st_mtime_ns + 2_000_000_000
    os.utime(path, ns=(later, later))


def test_before_the_first_build(desk: Desk) -> None:
    answer = get(shelf_of(desk), "/")
    assert (answer.status_code, "The pages are being built." in answer.text) == (200, True)
    assert get(shelf_of(desk), "/state").json() == {"edition": 0}


def test_the_course_and_a_lesson(desk: Desk) -> None:
    desk.write("It drifts [2.0°](claim:drift/gyro.end_error), [3°](claim:drift/gyro.end_error).\n", "one")
    shelf = shelf_of(desk)
    assert shelf.look()
    course = get(shelf, "/")
    assert course.headers["content-type"] == "text/html; charset=utf-8"
    assert "Test course" in course.text
    assert "1 false of 2 numbers" in course.text
    assert CAUTION in course.text.replace("&#x27;", "'")
    assert get(shelf, "/index.html").text == course.text
    lesson = get(shelf, "/one.html")
    assert lesson.status_code == 200
    assert WATCH_SCRIPT in lesson.text
    assert "(false: the run says 2.0°)" in lesson.text
    built = (desk.root / "out" / "one.html").read_text(encoding="utf-8")
    assert "<script" not in built


def test_a_change_is_followed(desk: Desk) -> None:
    path = desk.write("First.\n", "one")
    shelf = shelf_of(desk)
    shelf.look()
    assert not shelf.look()
    first = get(shelf, "/state").json()["edition"]
    desk.write("Second.\n", "one")
    touch(path)
    assert shelf.look()
    assert get(shelf, "/state").json()["edition"] == first + 1
    assert "Second." in get(shelf, "/one.html").text
    path.unlink()
    assert shelf.look()
    assert get(shelf, "/one.html").status_code == 404


def test_a_changed_demonstration_concerns_its_lessons(desk: Desk) -> None:
    desk.write("[2.0°](claim:drift/gyro.end_error)\n", "one")
    shelf = shelf_of(desk)
    shelf.look()
    path = desk.root / "demonstrations" / "drift.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("12 deg/h", "18 deg/h"), encoding="utf-8")
    touch(path)
    assert shelf.look()
    assert shelf.shown.entries[0].state == "1 false of 1 numbers"


def test_a_lesson_that_cannot_be_built_says_why(desk: Desk) -> None:
    desk.write("[2°](claim:none/x) <b>x</b>\n", "one")
    shelf = shelf_of(desk)
    shelf.look()
    assert "not built: 1 problem" in get(shelf, "/").text
    page = get(shelf, "/one.html")
    assert page.status_code == 200
    assert "1 problem keeps this page from being built." in page.text
    assert 'one.md:5:1  there is no demonstration "none"' in page.text


def test_a_broken_course_file_says_why(desk: Desk) -> None:
    (desk.root / "course.yaml").write_text("gyrochalk: 1\n", encoding="utf-8")
    shelf = shelf_of(desk)
    shelf.look()
    assert "course.yaml:1:1  &quot;title&quot; is missing" in get(shelf, "/").text.replace('"', "&quot;")


def test_a_fault_of_ours_spares_the_other_lessons(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    desk.write("Good.\n", "good")
    desk.write("Bad.\n", "bad")

    def faulty(path: Path, workspace: Workspace) -> Built:
        if path.stem == "bad":
            raise ZeroDivisionError("planted")
        return build_lesson(path, workspace)

    monkeypatch.setattr("gyrochalk.classroom.shelf.build_lesson", faulty)
    shelf = shelf_of(desk)
    with pytest.raises(ZeroDivisionError):
        shelf.look()
    assert "Good." in get(shelf, "/good.html").text
    assert "gyrochalk failed on this lesson." in get(shelf, "/bad.html").text


@pytest.mark.parametrize(
    "path",
    [
        "/../course.yaml",
        "/%2e%2e/course.yaml",
        "/..%2fcourse.yaml",
        "/..%5ccourse.yaml",
        "/course.yaml",
        "/lessons/one.md",
        "/out/one.html",
        "/..%2fout%2fone.html",
        "//etc/passwd",
        "/one.html/",
        "/one.html%00",
        "/docs",
        "/openapi.json",
        "/none.html",
    ],
)
def test_nothing_else_is_given_away(desk: Desk, path: str) -> None:
    desk.write("Words of the lesson.\n", "one")
    shelf = shelf_of(desk)
    shelf.look()
    answer = get(shelf, path)
    assert answer.status_code == 404
    assert "Words of the lesson" not in answer.text
    assert "Test course" not in answer.text


def test_a_taken_port_is_refused() -> None:
    with socket.socket() as holder:
        holder.bind(("127.0.0.1", 0))
        holder.listen()
        port = holder.getsockname()[1]
        with pytest.raises(MaterialError) as refused:
            open_port(port)
    assert str(refused.value) == (
        f"port {port} cannot be used (Address already in use); a free port from 1024 to 65535; "
        "leave out --port to take any free one  [port-taken]"
    )


def test_the_watch_tells_faults_and_goes_on() -> None:
    looks: list[int] = []
    faults: list[Exception] = []
    enough = threading.Event()

    def look() -> bool:
        looks.append(1)
        if len(looks) > 1:
            enough.set()
        raise ValueError("planted")

    watch = Watch(look, faults.append, interval_s=0.001)
    watch.start()
    assert enough.wait(10)
    watch.stop()
    assert {str(fault) for fault in faults} == {"planted"}


@pytest.mark.skipif(os.name != "posix", reason="sends a POSIX signal")
def test_served_and_ended_by_ctrl_c(desk: Desk) -> None:
    desk.write("Words.\n", "one")
    command = [sys.executable, "-m", "gyrochalk", "serve", "."]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8"
    ) as server:
        try:
            assert server.stdout is not None
            line = server.stdout.readline()
            address = line.split()[3]
            assert line == f"Lessons are at {address}  (Ctrl-C ends)\n"
            for _ in range(200):
                with urllib.request.urlopen(address + "state") as answer:
                    if b'"edition":1' in answer.read():
                        break
                time.sleep(0.05)
            with urllib.request.urlopen(address + "one.html") as answer:
                assert b"Words." in answer.read()
            server.send_signal(signal.SIGINT)
            out, err = server.communicate(timeout=20)
        finally:
            server.kill()
    assert (server.returncode, out, err) == (0, "Stopped.\n", "")
