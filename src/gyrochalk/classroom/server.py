"""Serves the built pages of a workspace to this machine's own browser."""

from __future__ import annotations

import socket
from collections.abc import Callable

from fastapi import FastAPI, Response

from gyrochalk.classroom.guard import Application, Guard
from gyrochalk.classroom.pages import missing_page, problem_page, waiting_page
from gyrochalk.classroom.shelf import Shelf
from gyrochalk.classroom.watch import Watch
from gyrochalk.errors import MaterialError, Problem

ADDRESS = "127.0.0.1"


def create_application(shelf: Shelf, port: int) -> Application:
    """The application that shows a shelf's pages.

    `port` is the one it is served at: requests that name another host or port are refused.
    """
    application = FastAPI(title="gyrochalk", openapi_url=None, docs_url=None, redoc_url=None)

    @application.get("/")
    def course() -> Response:
        if not shelf.shown.ready:
            return _html(waiting_page())
        if shelf.shown.problems:
            return _html(problem_page("The course", shelf.shown.problems))
        return _html(shelf.shown.pages["index"])

    @application.get("/state")
    def state() -> dict[str, int]:
        return {"edition": shelf.shown.edition}

    @application.get("/{name}.html")
    def lesson(name: str) -> Response:
        if name == "index":
            return course()
        entry = shelf.shown.entry(name)
        if entry is None:
            return _html(waiting_page() if not shelf.shown.ready else missing_page(), 404)
        if entry.problems:
            return _html(problem_page(entry.title, entry.problems))
        return _html(shelf.shown.pages[entry.name])

    @application.get("/{anything:path}")
    def nothing(anything: str) -> Response:
        return _html(missing_page(), 404)

    return Guard(application, port)


def _html(page: bytes, status: int = 200) -> Response:
    return Response(page, status_code=status, media_type="text/html; charset=utf-8")


def open_port(port: int) -> socket.socket:
    """Take a port of this machine's own address (0: any free one); refuses one that is taken."""
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    try:
        if hasattr(socket, "SO_EXCLUSIVEADDRUSE"):
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
        else:
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind((ADDRESS, port))
        listener.listen(128)
    except OSError as error:
        listener.close()
        what = f"port {port} cannot be used ({error.strerror})"
        problem = Problem("port-taken", what, "a free port from 1024 to 65535", "leave out --port to take any free one")
        raise MaterialError(problem) from error
    return listener


def serve(shelf: Shelf, port: int, announce: Callable[[str], None], on_fault: Callable[[Exception], None]) -> None:
    """Serve until interrupted.

    `port` 0 takes any free one; `announce` is called with the address once it is taken; `on_fault` with a fault of
    ours while the pages are rebuilt. Returns after Ctrl-C, when the last answer is given and the watch has stopped.
    """
    import uvicorn

    with open_port(port) as listener:
        taken = int(listener.getsockname()[1])
        watch = Watch(shelf.look, on_fault)
        settings = uvicorn.Config(
            create_application(shelf, taken),
            log_level="warning",
            access_log=False,
            server_header=False,
            timeout_graceful_shutdown=3,
        )
        watch.start()
        announce(f"http://{ADDRESS}:{taken}/")
        try:
            uvicorn.Server(settings).run(sockets=[listener])
        except KeyboardInterrupt:
            pass
        finally:
            watch.stop()
