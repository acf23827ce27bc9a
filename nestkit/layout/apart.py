"""A search in a process of its own, which never outlives the process that began it."""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from collections.abc import Callable
from contextlib import suppress
from io import FileIO
from threading import Thread
from typing import TYPE_CHECKING

from nestkit.errors import ToolFault

if TYPE_CHECKING:
    from nestkit.layout.members import Found, Task

POLL_S = 0.1
"""Seconds between looks at whether a search is to end while it runs in another process."""
MARK = b"\0found\0"
"""Before the answer, since other things may have been said on standard output."""
PROGRAM = "from nestkit.layout.apart import answer; answer()"


def run_apart(task: Task[Found], ended: Callable[[], bool]) -> Found:
    """Return what a task finds in a process of its own, or its start where it is ended before.

    Raises :class:`~nestkit.errors.ToolFault` with what that process said where it fails.
    """
    hears, tells = os.pipe()
    # The line stays open as long as an answer is waited for. At the end of this process, however it comes,
    # the system closes it, and the child that listens ends, too.
    with FileIO(tells, "w") as line, FileIO(hears) as far_end, _child(far_end) as child:
        far_end.close()
        try:
            _tell(line, pickle.dumps(task))
            answer = _answer_of(child, ended)
        finally:
            child.kill()
    if answer is None:
        return task.start
    found: Found = pickle.loads(answer)
    return found


def _child(hears: FileIO) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        # Nothing is found by way of the current folder, where anybody may have put files.
        [sys.executable, "-P", "-c", PROGRAM],
        stdin=hears,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(p for p in sys.path if p)},
        # Ctrl-C is for the first process alone, which then ends the others.
        start_new_session=True,
    )


def _tell(line: FileIO, message: bytes) -> None:
    rest = memoryview(message)
    # A child that is gone before it has read all says why elsewhere.
    with suppress(BrokenPipeError):
        while rest:
            rest = rest[line.write(rest) :]


def _answer_of(child: subprocess.Popen[bytes], ended: Callable[[], bool]) -> bytes | None:
    """Wait for a child's answer; None where the search is ended before."""
    while True:
        try:
            said, words = child.communicate(timeout=POLL_S)
            break
        except subprocess.TimeoutExpired:
            if ended():
                return None
    _, marked, answer = said.rpartition(MARK)
    if child.returncode or not marked:
        raise ToolFault(f"a search in a process of its own failed: {words.decode(errors='replace')}")
    return answer


def answer() -> None:
    """Read a task from standard input, run it, and write what it finds to standard output."""
    task: Task[object] = pickle.load(sys.stdin.buffer)
    Thread(target=_end_with_the_line, daemon=True).start()
    sys.stdout.buffer.write(MARK + pickle.dumps(task.run(lambda: False)))


def _end_with_the_line() -> None:
    """End this process once nobody can say anything to it any more."""
    # Not by way of the buffer: whoever waits there keeps Python from ending at last.
    if not os.read(sys.stdin.fileno(), 1):
        os._exit(1)
