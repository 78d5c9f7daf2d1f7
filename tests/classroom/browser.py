"""A browser for tests: asks an application directly, without a network."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping

import httpx

from gyrochalk.classroom.guard import Application

PORT = 8123


def ask(
    application: Application, path: str = "/", method: str = "GET", headers: Mapping[str, str] | None = None
) -> httpx.Response:
    """One request and its answer."""

    async def asking() -> httpx.Response:
        transport = httpx.ASGITransport(app=application)
        async with httpx.AsyncClient(transport=transport, base_url=f"http://127.0.0.1:{PORT}") as client:
            return await client.request(method, path, headers=dict(headers or {}))

    return asyncio.run(asking())
