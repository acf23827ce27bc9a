"""Ctrl-C while the search runs: each press is heard at once, whatever the search is doing."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from nestkit.cli.interrupt import first_ends_the_search

ROOT = Path(__file__).resolve().parents[2]
BUSY = """
import hashlib, sys, typer
from nestkit.cli.interrupt import first_ends_the_search
from nestkit.cli.run import run

def act():
    with first_ends_the_search() as stop:
        print("searching", file=sys.stderr, flush=True)
        {}
        print("stopped" if stop() else "done", flush=True)
    return 0

try:
    run(act)
except typer.Exit as left:
    sys.exit(left.exit_code)
"""
IN_COMPILED_CODE = 'hashlib.pbkdf2_hmac("sha256", b"", b"", 2**31 - 1)'
"""Minutes in one call, in which Python's own handlers of signals are not asked."""
UNTIL_ASKED = "while not stop(): pass"

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="presses are signals here")


@contextmanager
def begun(work: str) -> Iterator[subprocess.Popen[bytes]]:
    """Start a search that does some work and hand it out once it is at it; killed if it takes long."""
    with subprocess.Popen(
        [sys.executable, "-c", BUSY.format(work)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    ) as run:
        late = threading.Timer(60, run.kill)
        late.start()
        try:
            assert run.stderr.readline() == b"searching\n"
            yield run
        finally:
            late.cancel()
            run.kill()


def test_two_presses_are_two_also_while_compiled_code_runs():
    """The first is answered in the middle of a call of minutes, and the second ends it with 130."""
    with begun(IN_COMPILED_CODE) as run:
        run.send_signal(signal.SIGINT)
        assert run.stderr.readline() == b"\n"
        assert b"best layout so far is kept" in run.stderr.readline()
        run.send_signal(signal.SIGINT)
        out, err = run.communicate()
    assert (run.returncode, out) == (130, b"")
    assert b"nothing was written" in err


def test_one_press_asks_the_search_to_end():
    """The search hears of it when it asks, and what comes after it is done."""
    with begun(UNTIL_ASKED) as run:
        run.send_signal(signal.SIGINT)
        out, err = run.communicate()
    assert (run.returncode, out) == (0, b"stopped\n")
    assert b"best layout so far is kept" in err


def test_afterwards_a_press_is_what_it_was_before():
    """Who presses after the search interrupts, and no thread is left."""
    threads = set(threading.enumerate())
    before = signal.getsignal(signal.SIGINT)
    with first_ends_the_search() as stop:
        assert not stop()
        assert signal.getsignal(signal.SIGINT) is not before
    assert signal.getsignal(signal.SIGINT) is before
    assert signal.set_wakeup_fd(-1) == -1
    assert set(threading.enumerate()) <= threads


def test_apart_from_the_main_thread_nothing_is_heard():
    """Python gives signals to its main thread only; elsewhere a search is never asked to end."""
    found = []

    def search() -> None:
        with first_ends_the_search() as stop:
            found.append(stop())

    thread = threading.Thread(target=search)
    thread.start()
    thread.join()
    assert found == [False]
