"""The page's server within the test's own process: asked without a port, its workers stand-ins."""

from __future__ import annotations

import asyncio
import json
import threading
from dataclasses import dataclass, field
from typing import Any

from nestkit.page.app import app_for
from nestkit.page.state import State
from tests.page.served import Answer

PORT, TOKEN = 4711, "token"
HEADS = [
    (b"host", f"127.0.0.1:{PORT}".encode()),
    (b"x-nestkit-token", TOKEN.encode()),
    (b"content-type", b"application/json"),
]


@dataclass
class Asking:
    """One request: ``leave`` closes its connection."""

    app: Any
    method: str
    path: str
    body: bytes
    _left: asyncio.Event = field(default_factory=asyncio.Event)
    _given: bool = False

    def leave(self) -> None:
        self._left.set()

    async def answer(self) -> Answer:
        """Ask, and return what comes back."""
        sent: list[dict[str, Any]] = []

        async def send(message: dict[str, Any]) -> None:
            sent.append(message)

        path, _, query = self.path.partition("?")
        scope = {
            "type": "http",
            "http_version": "1.1",
            "method": self.method,
            "path": path,
            "raw_path": path.encode(),
            "query_string": query.encode(),
            "headers": HEADS,
            "scheme": "http",
            "server": ("127.0.0.1", PORT),
        }
        await self.app(scope, self._receive, send)
        found = {name.decode().lower(): value.decode() for name, value in sent[0]["headers"]}
        return Answer(sent[0]["status"], found, b"".join(part.get("body", b"") for part in sent[1:]))

    async def _receive(self) -> dict[str, Any]:
        if not self._given:
            self._given = True
            return {"type": "http.request", "body": self.body, "more_body": False}
        await self._left.wait()
        return {"type": "http.disconnect"}


def asking(state: State, method: str, path: str, what: Any = None) -> Asking:
    """Return a request of the page itself, to be asked."""
    body = b"" if what is None else json.dumps(what).encode()
    return Asking(app_for(state, port=PORT, token=TOKEN), method, path, body)


def ask(state: State, method: str, path: str, what: Any = None) -> Answer:
    """Ask and return what comes back."""
    return asyncio.run(asking(state, method, path, what).answer())


class StandIn:
    """A worker that does nothing by itself: ``told`` is what it was told, ``says`` is what comes from it.

    One told to stop hands over what it has; one told to drop its task does so.
    """

    made: list[StandIn]
    """All that were made in this test."""
    starting = threading.Event()
    taking = threading.Event()
    """Whether one may come to be, and whether tasks get through to it."""

    def __init__(self, loop: asyncio.AbstractEventLoop) -> None:
        self._loop = loop
        self.told: list[tuple[Any, ...]] = []
        self.reached = threading.Event()
        self.heard: asyncio.Queue[tuple[str, Any]] = asyncio.Queue()
        self.alive = True
        self.made.append(self)
        assert self.starting.wait(30)

    def tell(self, *what: Any) -> None:
        if what[0] == "task":
            self.reached.set()
            assert self.taking.wait(30)
        self.told.append(what)
        if what[0] == "stop":
            self.says("done", b'"the best so far"')
        if what[0] == "drop":
            self.says("dropped", None)

    def says(self, kind: str, what: Any) -> None:
        self._loop.call_soon_threadsafe(self.heard.put_nowait, (kind, what))

    def end(self) -> None:
        self.alive = False

    @property
    def words(self) -> list[str]:
        """The first word of all that it was told."""
        return [what[0] for what in self.told]


async def until(true: Any) -> None:
    """Wait until something is true, half a minute at most."""
    async with asyncio.timeout(30):
        while not true():
            await asyncio.sleep(0.001)
