"""Tasks at workers: what is asked for meanwhile reaches them in order, what nobody wants is not worked on."""

from __future__ import annotations

import asyncio
import json
from pathlib import Path

import pytest

from nestkit.page import crew, runs
from nestkit.page.answers import Refused
from nestkit.page.crew import Crew, Order
from nestkit.page.desk import Desk
from nestkit.page.runs import Runs
from nestkit.page.state import State
from tests.page.within import StandIn, asking, until


@pytest.fixture(autouse=True)
def workers(monkeypatch):
    """Let stand-ins work, and return the list of them."""
    made: list[StandIn] = []
    monkeypatch.setattr(crew, "Worker", StandIn)
    monkeypatch.setattr(StandIn, "made", made, raising=False)
    StandIn.starting.set()
    StandIn.taking.set()
    return made


async def reached(workers, count=1):
    """Return the last worker, once there are so many and a task is on its way to it."""
    await until(lambda: len(workers) == count and workers[-1].reached.is_set())
    return workers[-1]


def test_nothing_comes_between_a_task_and_its_worker(workers):
    """While a task is being sent nothing else is: to stop is said after it, and once only."""

    async def run():
        StandIn.taking.clear()
        order = Order()
        done = asyncio.create_task(Crew(1).do("layout", order=order))
        worker = await reached(workers)
        order.stop()
        order.stop()
        assert worker.words == []
        StandIn.taking.set()
        assert await done == b'"the best so far"'
        assert worker.words == ["task", "stop"]

    asyncio.run(run())


def test_a_task_dropped_on_its_way_is_dropped_at_the_worker(workers):
    """A task that nobody wants any more by the time it is sent is dropped there, and the worker is kept."""

    async def run():
        StandIn.taking.clear()
        order, two = Order(), Crew(1)
        done = asyncio.create_task(two.do("layout", order=order))
        worker = await reached(workers)
        order.drop()
        StandIn.taking.set()
        with pytest.raises(Refused):
            await done
        assert worker.words == ["task", "drop"]
        assert worker.alive

    asyncio.run(run())


def test_a_task_dropped_before_there_is_a_worker_is_not_sent(workers):
    """A task dropped while its worker starts is never sent; the worker does the next one."""

    async def run():
        StandIn.starting.clear()
        order, one = Order(), Crew(1)
        done = asyncio.create_task(one.do("layout", order=order))
        await until(lambda: len(workers) == 1)
        order.drop()
        StandIn.starting.set()
        with pytest.raises(Refused):
            await done
        assert workers[0].words == []
        workers[0].says("done", 7)
        assert await one.do("checked") == 7
        assert len(workers) == 1

    asyncio.run(run())


def test_when_its_time_is_over_a_layout_hands_over_what_it_has(workers):
    """A task that knows how to stop is asked to before it is ended; any other is ended."""

    async def run():
        stopping, order = Crew(1), Order()
        found = await stopping.do("layout", order=order, most_s=0.01, last_s=30)
        assert found == b'"the best so far"'
        assert order.stopped
        with pytest.raises(Refused, match="took longer"):
            await Crew(1).do("checked", most_s=0.01)
        assert [worker.alive for worker in workers] == [True, False]

    asyncio.run(run())


def check_of(state, tab, name):
    """Return the check of a tab's draft of this name, to be asked."""
    what = {"tree": {"job": name}, "tab": tab}
    return asking(state, "POST", "/api/check", what)


def test_of_the_checks_of_a_tab_only_the_newest_waits(workers):
    """Checks that a newer one of their tab overtakes are not worked on; those of other tabs are."""

    async def run():
        state = State(Desk(Path(), None))
        first = asyncio.create_task(check_of(state, "a", "other tab").answer())
        worker = await reached(workers)
        waiting = []
        for name in ("one", "two", "three"):
            before = state.checks.get("b")
            waiting.append(asyncio.create_task(check_of(state, "b", name).answer()))
            await until(lambda before=before: state.checks.get("b") is not before)
        worker.says("done", b"1")
        worker.says("done", b"3")
        answers = [await task for task in (first, *waiting)]
        assert [answer.status for answer in answers] == [200, 409, 409, 200]
        assert [said[2][0]["job"] for said in worker.told] == ["other tab", "three"]
        assert state.checks == {}

    asyncio.run(run())


@pytest.mark.parametrize(("call", "task"), [("check", "checked"), ("fit", "fit"), ("what_if", "what_if")])
def test_a_question_called_off_is_dropped(workers, call, task):
    """When the browser closes the line, what it asked is dropped at the worker."""

    async def run():
        state = State(Desk(Path(), None))
        asked = asking(state, "POST", f"/api/{call}", {"tree": {}})
        done = asyncio.create_task(asked.answer())
        worker = await reached(workers)
        asked.leave()
        await until(lambda: len(worker.told) == 2)
        assert (worker.told[0][1], worker.words) == (task, ["task", "drop"])
        assert (await done).status == 409

    asyncio.run(run())


def test_a_layout_says_that_it_waits(workers):
    """A layout for which no worker is free says so."""

    async def run():
        state = State(Desk(Path(), None), heavy=Crew(1))
        found = []
        for tab in "ab":
            answer = await asking(state, "POST", "/api/layout", {"tree": {}, "tab": tab}).answer()
            found.append(state.runs.named(json.loads(answer.body)["run"]))
            await reached(workers)
        await until(lambda: found[1].n > 1)
        assert [run.say for run in found] == ["Reading the job", "Waiting for other work to end"]
        for run in found:
            run.order.drop()
            await run.task

    asyncio.run(run())


def test_a_layout_that_nobody_asks_for_is_ended(monkeypatch):
    """A layout whose tab was closed is dropped; one that is asked for goes on."""

    async def run():
        every = Runs()
        monkeypatch.setattr(runs, "UNASKED_S", 0.05)
        monkeypatch.setattr(runs, "LONGEST_WAIT_S", 0.2)
        (_, left), (_, wanted) = every.begin("a", {}), every.begin("b", {})
        monkeypatch.setattr(runs, "UNASKED_S", 1000.0)
        assert json.loads(await wanted.after(1))["state"] == "working"
        assert not wanted.order.dropped
        await until(lambda: left.order.dropped)
        assert (left.state, left.say) == ("stopped", "Ended, as no page asked for it any more")

    asyncio.run(run())
