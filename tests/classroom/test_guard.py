"""Only this machine's own browser may ask, and only to look."""

from __future__ import annotations

import asyncio

import pytest

from gyrochalk.classroom.guard import HEADERS, Guard, Message, Receive, Send
from tests.classroom.browser import PORT, ask


async def hello(scope: Message, receive: Receive, send: Send) -> None:
    """An application that says yes to everything."""
    headers = [(b"content-type", b"text/plain"), (b"cache-control", b"public")]
    await send({"type": "http.response.start", "status": 200, "headers": headers})
    await send({"type": "http.response.body", "body": b"yes"})


GUARDED = Guard(hello, PORT)


def test_own_browser_is_answered_under_the_policy() -> None:
    answer = ask(GUARDED)
    assert (answer.status_code, answer.text) == (200, "yes")
    assert {name: answer.headers[name] for name in HEADERS} == HEADERS
    assert answer.headers.get_list("cache-control") == ["no-store"]
    assert "'unsafe-inline'" not in HEADERS["content-security-policy"].replace("style-src 'unsafe-inline'", "")


@pytest.mark.parametrize("host", [f"127.0.0.1:{PORT}", f"localhost:{PORT}", f"LOCALHOST:{PORT}"])
def test_own_names(host: str) -> None:
    assert ask(GUARDED, headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "host", ["example.org", f"example.org:{PORT}", "127.0.0.1", "127.0.0.1:80", f"127.0.0.1:{PORT}.example.org", ""]
)
def test_foreign_host_is_refused(host: str) -> None:
    answer = ask(GUARDED, headers={"host": host})
    assert (answer.status_code, answer.text) == (403, "This page is for this machine's own browser only.")
    assert answer.headers["content-security-policy"] == HEADERS["content-security-policy"]


@pytest.mark.parametrize("origin", ["https://example.org", "null", f"http://localhost:{PORT}.example.org", ""])
def test_foreign_origin_is_refused(origin: str) -> None:
    answer = ask(GUARDED, headers={"origin": origin})
    assert (answer.status_code, answer.text) == (403, "Another site may not ask for this page.")


def test_own_origin_is_answered() -> None:
    assert ask(GUARDED, headers={"origin": f"http://127.0.0.1:{PORT}"}).status_code == 200


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_only_looking_is_possible(method: str) -> None:
    answer = ask(GUARDED, method=method)
    assert (answer.status_code, answer.text) == (405, "Pages here can only be looked at.")


def test_sockets_are_closed() -> None:
    sent: list[Message] = []

    async def receive() -> Message:
        return {"type": "websocket.connect"}

    async def send(message: Message) -> None:
        sent.append(message)

    asyncio.run(GUARDED({"type": "websocket", "path": "/", "headers": []}, receive, send))
    assert sent == [{"type": "websocket.close", "code": 1008}]
