"""What the server keeps while it runs: the job's place, its workers, layouts at work, files to fetch."""

from __future__ import annotations

import asyncio
from collections.abc import Coroutine
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any

from starlette.requests import Request

from nestkit.page.answers import Refused
from nestkit.page.crew import Crew, Order
from nestkit.page.desk import Desk
from nestkit.page.runs import Prints, Runs

HEAVY, LIGHT = 2, 1
"""Workers for layouts and files, and for what is to be shown while these are at work."""


@dataclass
class State:
    """Everything that calls need, one for each server."""

    desk: Desk
    heavy: Crew = field(default_factory=lambda: Crew(HEAVY))
    light: Crew = field(default_factory=lambda: Crew(LIGHT))
    runs: Runs = field(default_factory=Runs)
    prints: Prints = field(default_factory=Prints)
    checks: dict[str, Order] = field(default_factory=dict)
    """The check of each tab that is not done yet."""
    warming: asyncio.Task[Any] | None = None
    _tasks: set[asyncio.Task[Any]] = field(default_factory=set)

    async def ready(self) -> None:
        """Wait while a worker is made ready: it is done before another would be that begins now."""
        if self.warming is not None:
            await asyncio.wait([self.warming])

    async def wanted(
        self, request: Request, crew: Crew, task: str, *given: Any, order: Order | None = None, **how: Any
    ) -> Any:
        """Return what a worker makes of a task, which is dropped once the browser has called it off."""
        order = order or Order()
        gone = asyncio.get_running_loop().create_task(_gone(request, order))
        try:
            return await crew.do(task, *given, order=order, **how)
        finally:
            gone.cancel()

    def background(self, work: Coroutine[Any, Any, Any]) -> asyncio.Task[Any]:
        """Let something go on while requests are answered; a refusal is told to nobody."""

        async def quietly() -> Any:
            with suppress(Refused):
                return await work

        task = asyncio.get_running_loop().create_task(quietly())
        # The loop itself forgets tasks that nobody holds.
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)
        return task

    def end(self) -> None:
        """End all workers."""
        self.heavy.end()
        self.light.end()


async def _gone(request: Request, order: Order) -> None:
    """Drop a task when its connection is closed, as a browser does with what it no longer waits for."""
    while (await request.receive())["type"] != "http.disconnect":
        pass
    order.drop()
