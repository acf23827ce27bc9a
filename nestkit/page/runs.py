"""Layouts at work and done, and prints to be fetched: kept for a while, the oldest forgotten first."""

from __future__ import annotations

import asyncio
import secrets
from collections import OrderedDict
from dataclasses import dataclass, field
from typing import Any, Literal

from nestkit.page.bench import READING
from nestkit.page.crew import Order
from nestkit.page.objects import Object, json_bytes

KEPT = 12
"""Layouts, and sets of prints, that are kept at most."""
LONGEST_WAIT_S = 10.0
"""Seconds that a browser waits for something new of a layout before it asks again."""

UNASKED_S = 30.0
"""Seconds after which a layout is ended that no browser asked for: its tab was closed."""
WAITING = "Waiting for other work to end"

RunState = Literal["working", "done", "stopped", "failed"]


def new_id() -> str:
    """Return a name that nobody guesses."""
    return secrets.token_urlsafe(12)


@dataclass
class Run:
    """One layout: how far it is. ``result`` is the newest, as JSON; ``pickled`` the layout behind it.

    It is of the draft ``tree``. ``n`` counts what has changed, ``result_n`` is where the newest result came.
    """

    tab: str
    tree: Object
    order: Order = field(default_factory=Order)
    n: int = 1
    state: RunState = "working"
    say: str = READING
    result: bytes = b"null"
    result_n: int = 0
    pickled: bytes = b""
    error: Object | None = None
    task: asyncio.Task[None] | None = None
    _changed: asyncio.Event = field(default_factory=asyncio.Event)
    _alone: asyncio.TimerHandle | None = None

    def now(self, **what: Any) -> None:
        """Change what is known, and tell whoever waits."""
        for name, value in what.items():
            setattr(self, name, value)
        self.n += 1
        if "result" in what:
            self.result_n = self.n
        self._changed.set()
        self._changed = asyncio.Event()

    def asked(self) -> None:
        """Note that somebody wants this layout: it goes on for a while."""
        if self._alone is not None:
            self._alone.cancel()
        self._alone = asyncio.get_running_loop().call_later(UNASKED_S, self._left_alone)

    def _left_alone(self) -> None:
        if self.state == "working":
            self.order.drop()
            self.now(state="stopped", say="Ended, as no page asked for it any more")

    async def after(self, n: int) -> bytes:
        """Wait until there is something newer than ``n``, not for ever; return it as JSON."""
        self.asked()
        if self.n <= n and self.state == "working":
            try:
                async with asyncio.timeout(LONGEST_WAIT_S):
                    await self._changed.wait()
            except TimeoutError:
                pass
        head = json_bytes({"n": self.n, "state": self.state, "say": self.say, "error": self.error})
        result = self.result if self.result_n > n else b"null"
        return head[:-1] + b', "result": ' + result + b"}"


class Runs:
    """The layouts of all tabs by name; a newer one of a tab ends its older."""

    def __init__(self) -> None:
        self._kept: OrderedDict[str, Run] = OrderedDict()

    def begin(self, tab: str, tree: Object) -> tuple[str, Run]:
        """Return a new run and its name."""
        for run in self._kept.values():
            if run.tab == tab and run.state == "working":
                run.order.drop()
                run.now(state="stopped", say="A newer layout took its place")
        while len(self._kept) >= KEPT:
            _, oldest = self._kept.popitem(last=False)
            oldest.order.drop()
        name, run = new_id(), Run(tab, tree)
        self._kept[name] = run
        run.asked()
        return name, run

    def named(self, name: str) -> Run | None:
        """Return a run by its name."""
        return self._kept.get(name)


class Prints:
    """Sets of files by name, each file by its path in the job folder."""

    def __init__(self) -> None:
        self._kept: OrderedDict[str, dict[str, bytes]] = OrderedDict()

    def keep(self, files: dict[str, bytes]) -> str:
        """Keep a set of files; return its name."""
        while len(self._kept) >= KEPT // 3:
            self._kept.popitem(last=False)
        name = new_id()
        self._kept[name] = files
        return name

    def named(self, name: str) -> dict[str, bytes] | None:
        """Return a set of files by its name."""
        return self._kept.get(name)
