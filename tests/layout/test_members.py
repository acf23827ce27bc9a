"""Searches from several seeds: one answer whatever the number of cores, and an end when it is asked for."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import pytest

from nestkit.errors import ToolFault
from nestkit.layout import apart, members
from nestkit.layout.apart import run_apart
from nestkit.layout.bounds import bounds_of
from nestkit.layout.deeply import Seeded
from nestkit.layout.members import best_of
from nestkit.layout.problem import Box, Problem, Stock
from nestkit.layout.rects.engine.twin import can_compile
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.stop import Rounds

pytestmark = pytest.mark.skipif(not can_compile(), reason="the compiler is not installed here")

SIZES = [(61, 37), (48, 22), (35, 55), (29, 41), (52, 18), (44, 44), (23, 67), (31, 28), (58, 26), (39, 33)]
PROBLEM = Problem(
    tuple(Box(w, h, 3, ((0, 90),)) for w, h in SIZES),
    (Stock(100, 100, 0, 0, 0, 0, None, Fraction(1)),),
    0,
    0,
)


def tasks(number, rounds=2):
    """Return tasks from a quick layout, each with its own seed."""
    start = Greedy()(PROBLEM, seed=1, stop=Rounds(1))
    return [Seeded(PROBLEM, start, bounds_of(PROBLEM), seed, rounds) for seed in range(1, number + 1)]


def test_the_answer_does_not_depend_on_the_number_of_cores(monkeypatch):
    """One process, and one with others beside it, come to the same layout."""
    first, *others = tasks(3)
    first.run(lambda: False)  # from here on nothing has to be compiled
    found = []
    for cores in (1, 3):
        monkeypatch.setattr(members, "cores", lambda cores=cores: cores)
        found.append(best_of(lambda: first.run(lambda: False), others, lambda: False, kept=True))
    assert found[0] == found[1]
    assert not any(found[0].left_over)


def test_a_process_of_its_own_finds_what_this_one_does():
    """A task that goes out and comes back as bytes is the same search."""
    (task,) = tasks(1)
    assert run_apart(task, lambda: False) == task.run(lambda: False)


def test_what_else_is_said_does_not_spoil_the_answer(monkeypatch):
    """A library that speaks on standard output is passed over; no answer at all is a fault."""
    (task,) = tasks(1)
    monkeypatch.setattr(apart, "PROGRAM", f"print('welcome', flush=True); {apart.PROGRAM}")
    assert run_apart(task, lambda: False) == task.run(lambda: False)
    monkeypatch.setattr(apart, "PROGRAM", "print('nothing')")
    with pytest.raises(ToolFault, match="process of its own"):
        run_apart(task, lambda: False)


def test_a_search_apart_ends_when_it_is_asked_to():
    """Ended, it answers with the layout that it began with."""
    (task,) = tasks(1, rounds=10**6)
    assert run_apart(task, lambda: True) == task.start


def test_the_earliest_of_equal_layouts_counts():
    """Where the first search is as good as any other, its layout is the answer."""
    first, *others = tasks(3)
    best = best_of(lambda: first.run(lambda: False), others, lambda: True, kept=True)
    assert best == min([first.run(lambda: False), first.start], key=lambda b: len(b.sheets))


def test_a_fault_in_another_process_is_told(monkeypatch):
    """What a process said that failed is part of the fault that is raised."""
    (task,) = tasks(1)
    monkeypatch.setattr(apart, "PROGRAM", "raise SystemExit('no more room here')")
    with pytest.raises(ToolFault, match="no more room here"):
        run_apart(task, lambda: False)
    monkeypatch.setattr(members, "cores", lambda: 2)
    with pytest.raises(ToolFault, match="no more room here"):
        # The first search waits until the others have had their turn.
        best_of(lambda: _slow(task), [task], lambda: False, kept=True)


ROOT = Path(__file__).resolve().parents[2]
CHILD = """
import os, socket
from nestkit.layout.apart import answer
from nestkit.layout.deeply import Seeded
run = Seeded.run
def connected(task, ended):
    global line
    line = socket.create_connection(("127.0.0.1", {port}))
    line.sendall(os.getpid().to_bytes(8, "big"))
    return run(task, ended)
Seeded.run = connected
answer()
"""
PARENT = """
import time
from fractions import Fraction
from nestkit.layout import apart, members
from nestkit.layout.bounds import Bounds
from nestkit.layout.deeply import Seeded
from nestkit.layout.problem import Box, Problem, Stock
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.stop import Rounds
boxes = tuple(Box(w, h, 3, ((0, 90),)) for w, h in {sizes})
problem = Problem(boxes, (Stock(100, 100, 0, 0, 0, 0, None, Fraction(1)),), 0, 0)
start = Greedy()(problem, seed=1, stop=Rounds(1))
apart.PROGRAM = {child!r}
members.cores = lambda: 3
tasks = [Seeded(problem, start, Bounds(None, None), seed, 10**9) for seed in (2, 3)]
members.best_of(lambda: time.sleep(600), tasks, lambda: False, kept=True)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="killed by a signal")
@pytest.mark.parametrize("number", ["SIGKILL", "SIGTERM", "SIGHUP"])
def test_searches_end_with_the_process_that_began_them(number):
    """However it is killed, no search goes on by itself: each holds a line to this test until it is gone."""
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(60)
        child = CHILD.format(port=server.getsockname()[1])
        with subprocess.Popen(
            [sys.executable, "-c", PARENT.format(sizes=SIZES, child=child)],
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stderr=subprocess.DEVNULL,
        ) as parent:
            try:
                lines = [server.accept()[0] for _ in range(2)]
                parent.send_signal(getattr(signal, number))
                assert parent.wait(60) == -getattr(signal, number)
            finally:
                parent.kill()
        for line in lines:
            _wait_for_its_end(line)


def _wait_for_its_end(line):
    """Wait until the process at the other end of a line is gone; kill it where that takes too long."""
    with line:
        line.settimeout(60)
        number = int.from_bytes(line.recv(8), "big")
        try:
            assert line.recv(1) == b""
        except TimeoutError:
            os.kill(number, signal.SIGKILL)
            raise


def _slow(task):
    import time

    time.sleep(1.5)
    return task.start
