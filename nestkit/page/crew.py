"""The processes that work for the page, and the orders that they are given one at a time."""

from __future__ import annotations

import asyncio
import multiprocessing
import threading
from collections.abc import Callable
from contextlib import suppress
from typing import Any

from nestkit.errors import Mistake
from nestkit.page import bench
from nestkit.page.answers import Refused, cannot, with_mistakes
from nestkit.page.guard import our_fault, say_fault

PATIENCE_S = 5.0
"""Seconds that a worker has to let go of a task before it is ended and another takes its place."""


class WorkerEnded(Exception):
    """A worker came to its end in the middle of a task."""


class Worker:
    """One process, and what comes from it."""

    def __init__(self, loop: asyncio.AbstractEventLoop) -> None:
        context = multiprocessing.get_context("spawn")
        self._line, far_end = context.Pipe()
        self._process = context.Process(target=bench.serve, args=(far_end,), daemon=True)
        self._process.start()
        far_end.close()
        self._loop = loop
        self._telling = threading.Lock()
        self.heard: asyncio.Queue[tuple[str, Any]] = asyncio.Queue()
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        """Pass on whatever the process says, and that it has ended."""
        while True:
            try:
                said = self._line.recv()
            except (EOFError, OSError):
                said = ("ended", None)
            with suppress(RuntimeError):
                # RuntimeError: the server itself has come to its end.
                self._loop.call_soon_threadsafe(self.heard.put_nowait, said)
            if said[0] == "ended":
                return

    @property
    def alive(self) -> bool:
        """Say whether the process is there."""
        return self._process.is_alive()

    def tell(self, *what: Any) -> None:
        """Say something to the process; one that has ended does not hear it."""
        with suppress(OSError), self._telling:
            self._line.send(what)

    def end(self) -> None:
        """End the process, whatever it does."""
        self._process.kill()
        self._process.join(PATIENCE_S)
        with suppress(OSError):
            self._line.close()


class Order:
    """One task at a worker: it can be asked to stop with what it has, or dropped.

    The worker hears of either once, and only after the task: nothing else is on the line while that is sent.
    """

    def __init__(self) -> None:
        self.stopped = False
        self.dropped = False
        self._worker: Worker | None = None

    def stop(self) -> None:
        """Ask for what there is by now."""
        if not self.stopped:
            self.stopped = True
            self._tell("stop")

    def drop(self) -> None:
        """Ask for nothing more."""
        if not self.dropped:
            self.dropped = True
            self._tell("drop")

    def begun(self, worker: Worker) -> None:
        """Note which worker has the whole task; it hears what was asked meanwhile."""
        self._worker = worker
        if self.stopped:
            self._tell("stop")
        if self.dropped:
            self._tell("drop")

    def ended(self) -> None:
        """Note that no worker has the task any more."""
        self._worker = None

    def _tell(self, what: str) -> None:
        if self._worker is not None:
            self._worker.tell(what)


class Crew:
    """So many workers at most, each begun when it is first needed."""

    def __init__(self, most: int) -> None:
        self._free: list[Worker] = []
        self._all: set[Worker] = set()
        self._places = asyncio.Semaphore(most)

    @property
    def busy(self) -> bool:
        """Say whether a task that comes now has to wait for another."""
        return self._places.locked()

    async def do(
        self,
        task: str,
        *given: Any,
        order: Order | None = None,
        heard: Callable[[Any], None] | None = None,
        most_s: float = 300.0,
        last_s: float = 0.0,
    ) -> Any:
        """Return what a worker makes of a task in ``most_s`` seconds; ``heard`` gets what it tells before.

        A task that knows how to stop is then asked to, and has ``last_s`` more to hand over what it has.
        Raises :class:`Refused` for a job with mistakes, for what cannot be done, and for a fault of ours.
        """
        order = order or Order()
        async with self._places:
            if order.dropped:
                raise _not_wanted()
            worker = await self._worker()
            if order.dropped:
                self._free.append(worker)
                raise _not_wanted()
            kept = False
            try:
                await asyncio.to_thread(worker.tell, "task", task, given)
                order.begun(worker)
                kind, what = await _in_time(worker, order, heard, most_s, last_s)
                kept = kind != "ended"
            except TimeoutError:
                raise Refused(
                    422, f"This took longer than {most_s:.0f} seconds and was ended", "Make the job smaller"
                ) from None
            except WorkerEnded:
                say_fault(f"the process at work on {task} came to its end")
                raise our_fault() from None
            finally:
                order.ended()
                if kept:
                    self._free.append(worker)
                else:
                    self._all.discard(worker)
                    worker.end()
        return _outcome(kind, what)

    async def _worker(self) -> Worker:
        while self._free:
            worker = self._free.pop()
            if worker.alive:
                return worker
            # One that was ended from outside while it had nothing to do.
            self._all.discard(worker)
            worker.end()
        loop = asyncio.get_running_loop()
        worker = await asyncio.to_thread(Worker, loop)
        self._all.add(worker)
        return worker

    def end(self) -> None:
        """End all processes."""
        for worker in self._all:
            worker.end()


async def _in_time(
    worker: Worker, order: Order, heard: Callable[[Any], None] | None, most_s: float, last_s: float
) -> tuple[str, Any]:
    """Wait for a worker as long as it may take. Raises ``TimeoutError`` when that is over."""
    try:
        async with asyncio.timeout(most_s):
            return await _end_of(worker, order, heard)
    except TimeoutError:
        if not last_s:
            raise
    order.stop()
    async with asyncio.timeout(last_s):
        return await _end_of(worker, order, heard)


async def _end_of(worker: Worker, order: Order, heard: Callable[[Any], None] | None) -> tuple[str, Any]:
    """Wait until a worker is done; one that does not let go of a dropped task is ended."""
    left = PATIENCE_S
    while True:
        try:
            async with asyncio.timeout(1.0):
                kind, what = await worker.heard.get()
        except TimeoutError:
            left -= order.dropped
            if left <= 0:
                return "ended", None
            continue
        if kind == "ended":
            raise WorkerEnded
        if kind != "heard":
            return kind, what
        if heard is not None and not order.dropped:
            heard(what)


def _not_wanted() -> Refused:
    return Refused(409, "A newer request took the place of this one, or nobody waits for it any more")


def _outcome(kind: str, what: Any) -> Any:
    if kind == "done":
        return what
    if kind == "mistakes":
        mistakes: tuple[Mistake, ...] = what
        raise with_mistakes(mistakes)
    if kind == "refused":
        raise cannot(what)
    if kind in ("dropped", "ended"):
        raise _not_wanted()
    say_fault(what)
    raise our_fault()
