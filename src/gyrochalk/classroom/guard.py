"""Stands before the server: only this machine's own browser may ask, only to look, and pages may load nothing else."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any
from urllib.parse import urlsplit

from gyrochalk.classroom.pages import SCRIPT_HASH

Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
Application = Callable[[Message, Receive, Send], Awaitable[None]]

POLICY = (
    "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; "
    f"script-src {SCRIPT_HASH}; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""What a page may load: its own styles, pictures and fonts, and the one script that watches for changes. Each page
narrows this further to exactly its own style sheet."""

HEADERS = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "cache-control": "no-store",
}

HOSTS = ("127.0.0.1", "localhost")


class Guard:
    """Wraps an application.

    A request whose Host is not this machine's own address and port, or whose Origin is another site, is refused with
    403; any method but GET and HEAD with 405. Every answer carries `HEADERS`.
    """

    def __init__(self, application: Application, port: int) -> None:
        self._application = application
        self._hosts = frozenset(f"{host}:{port}" for host in HOSTS)

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] == "lifespan":
            await self._application(scope, receive, send)
            return
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1008})
            return
        guarded = _with_headers(send)
        refusal = self._refusal(scope)
        if refusal is None:
            await self._application(scope, receive, guarded)
            return
        status, words = refusal
        await guarded({"type": "http.response.start", "status": status, "headers": [(b"content-type", b"text/plain")]})
        await guarded({"type": "http.response.body", "body": words.encode("utf-8")})

    def _refusal(self, scope: Message) -> tuple[int, str] | None:
        headers = [(name.lower(), value.decode("latin-1")) for name, value in scope["headers"]]
        hosts = [value.lower() for name, value in headers if name == b"host"]
        if len(hosts) != 1 or hosts[0] not in self._hosts:
            return 403, "This page is for this machine's own browser only."
        origins = [value for name, value in headers if name == b"origin"]
        if any(urlsplit(origin).netloc.lower() != hosts[0] for origin in origins):
            return 403, "Another site may not ask for this page."
        if scope["method"] not in ("GET", "HEAD"):
            return 405, "Pages here can only be looked at."
        return None


def _with_headers(send: Send) -> Send:
    async def guarded(message: Message) -> None:
        if message["type"] == "http.response.start":
            own = [(name.encode(), value.encode()) for name, value in HEADERS.items()]
            kept = [(name, value) for name, value in message.get("headers", []) if name.decode() not in HEADERS]
            message = {**message, "headers": kept + own}
        await send(message)

    return guarded
