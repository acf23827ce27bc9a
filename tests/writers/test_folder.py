"""A job folder is written whole or not at all, and never over somebody's own files."""

from __future__ import annotations

import errno
import multiprocessing
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from nestkit.errors import FolderError
from nestkit.writers import exchange as exchange_module
from nestkit.writers.folder import write_folder

FILES = [("layout.json", b"{}"), ("sheets/one-01.dxf", b"0\nEOF\n")]


def content(folder: Path) -> dict[str, bytes]:
    """Return every file below a folder with its bytes."""
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.fixture(params=["one step", "two steps"])
def way_of_exchange(request, monkeypatch):
    """Run a test with the system's exchange and without it."""
    if request.param == "two steps":
        monkeypatch.setattr(exchange_module, "_call", lambda: None)
    return request.param


def test_a_new_folder_holds_the_files_and_their_list(tmp_path):
    """What was asked for is there, the list names all of it, and nothing else stays behind."""
    count = write_folder(tmp_path / "a" / "out", FILES)
    assert content(tmp_path / "a" / "out") == {
        "layout.json": b"{}",
        "sheets/one-01.dxf": b"0\nEOF\n",
        "files.txt": b"files.txt\nlayout.json\nsheets/one-01.dxf\n",
    }
    assert count == 3
    assert os.listdir(tmp_path / "a") == ["out"]


def test_a_former_run_is_replaced(tmp_path, way_of_exchange):
    """The second run leaves only its own files, on systems with and without a one-step exchange."""
    write_folder(tmp_path / "out", FILES)
    (tmp_path / "out" / ".DS_Store").write_bytes(b"x")
    write_folder(tmp_path / "out", [("buy.csv", b"stock")])
    assert set(content(tmp_path / "out")) == {"buy.csv", "files.txt"}
    assert os.listdir(tmp_path) == ["out"]


@pytest.mark.parametrize("name", ["notes.txt", "sheets/mine.dxf", "photos/a.jpg"])
def test_a_foreign_file_stops_the_run(tmp_path, name, way_of_exchange):
    """A folder that holds anything else is left exactly as it was, and the message names the file."""
    write_folder(tmp_path / "out", FILES)
    mine = tmp_path / "out" / name
    mine.parent.mkdir(exist_ok=True)
    mine.write_text("mine")
    before = content(tmp_path / "out")
    with pytest.raises(FolderError, match=r"did not write \((notes|sheets/mine|photos)"):
        write_folder(tmp_path / "out", [("buy.csv", b"")])
    assert content(tmp_path / "out") == before
    assert os.listdir(tmp_path) == ["out"]


def test_an_empty_folder_may_be_used_and_an_unlisted_one_not(tmp_path):
    """An empty folder is taken; one with files and no list is somebody's."""
    (tmp_path / "empty").mkdir()
    write_folder(tmp_path / "empty", FILES)
    assert (tmp_path / "empty" / "layout.json").exists()
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "thesis.txt").write_text("x")
    with pytest.raises(FolderError, match=r"thesis\.txt"):
        write_folder(tmp_path / "full", FILES)


def test_a_file_put_in_at_the_last_moment_is_kept(tmp_path, way_of_exchange):
    """A file that appears in the old folder while the new one is written stops the exchange."""
    write_folder(tmp_path / "out", FILES)

    def slow():
        yield FILES[0]
        (tmp_path / "out" / "late.txt").write_text("mine")

    with pytest.raises(FolderError, match=r"late\.txt"):
        write_folder(tmp_path / "out", slow())
    assert (tmp_path / "out" / "late.txt").read_text() == "mine"
    assert (tmp_path / "out" / "sheets" / "one-01.dxf").exists()


def test_a_file_in_the_way_stops_the_run(tmp_path):
    """A file of the folder's name is not replaced."""
    (tmp_path / "out").write_text("mine")
    with pytest.raises(FolderError, match="a file of that name"):
        write_folder(tmp_path / "out", FILES)
    assert (tmp_path / "out").read_text() == "mine"


def test_a_failing_source_of_files_leaves_nothing(tmp_path):
    """When a file cannot be made, the old folder stays and the new one is cleared, parents too."""

    def failing():
        yield FILES[0]
        raise RuntimeError("planted")

    with pytest.raises(RuntimeError, match="planted"):
        write_folder(tmp_path / "deep" / "out", failing())
    assert os.listdir(tmp_path) == []


def test_a_full_disk_is_said_and_leaves_nothing(tmp_path, monkeypatch):
    """When the system refuses to write, the message says so and nothing has changed."""
    write_folder(tmp_path / "out", FILES)
    before = content(tmp_path / "out")

    def full(self, data):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(FolderError, match="No space left"):
        write_folder(tmp_path / "out", [("buy.csv", b"")])
    monkeypatch.undo()
    assert content(tmp_path / "out") == before
    assert os.listdir(tmp_path) == ["out"]


def test_what_a_dead_run_left_is_cleared(tmp_path):
    """A hidden folder without a living owner is cleared by the next run."""
    left = tmp_path / ".out.nestkit"
    (left / "new" / "sheets").mkdir(parents=True)
    (left / "new" / "half.dxf").write_bytes(b"0")
    (left / "lock").touch()
    write_folder(tmp_path / "out", FILES)
    assert os.listdir(tmp_path) == ["out"]
    assert "half.dxf" not in content(tmp_path / "out")


def test_an_old_folder_set_aside_by_a_dead_run_comes_back(tmp_path):
    """Where a run died between its two steps, the next one first puts the old folder back."""
    write_folder(tmp_path / "out", FILES)
    left = tmp_path / ".out.nestkit"
    left.mkdir()
    (tmp_path / "out").rename(left / "old")

    def failing():
        raise RuntimeError("planted")
        yield

    with pytest.raises(RuntimeError):
        write_folder(tmp_path / "out", failing())
    assert "layout.json" in content(tmp_path / "out")


def hold(target: Path, ready, go) -> None:
    """Write slowly: say when the lock is held, then wait to be let go."""

    def files():
        ready.set()
        go.wait(20)
        yield ("slow.txt", b"slow")

    write_folder(target, files())


def test_the_later_of_two_runs_waits_or_ends(tmp_path):
    """While a run writes, a second ends with a clear message or, given time, follows it."""
    context = multiprocessing.get_context("spawn")
    ready, go = context.Event(), context.Event()
    first = context.Process(target=hold, args=(tmp_path / "out", ready, go))
    first.start()
    assert ready.wait(20)
    with pytest.raises(FolderError, match="another run"):
        write_folder(tmp_path / "out", FILES, wait_s=0.1)
    go.set()
    write_folder(tmp_path / "out", FILES, wait_s=20)
    first.join(20)
    assert first.exitcode == 0
    assert "layout.json" in content(tmp_path / "out")
    assert os.listdir(tmp_path) == ["out"]


KILLED = """
import sys
from pathlib import Path
from nestkit.writers.folder import write_folder
which = sys.argv[2]
print("started", flush=True)
while True:
    write_folder(Path(sys.argv[1]), [(f"part-{i}.txt", which.encode()) for i in range(40)])
"""


@pytest.mark.skipif(sys.platform == "win32", reason="killed by a signal")
def test_killing_a_run_never_leaves_a_torn_folder(tmp_path):
    """However a run is killed, the folder is one run's whole work, and the next run can follow."""
    for attempt in range(12):
        run = subprocess.Popen(
            [sys.executable, "-c", KILLED, str(tmp_path / "out"), str(attempt)], stdout=subprocess.PIPE
        )
        run.stdout.readline()
        time.sleep(0.02 + 0.013 * attempt)
        run.send_signal(signal.SIGKILL)
        run.wait()
        run.stdout.close()
        if (tmp_path / "out").exists():
            found = content(tmp_path / "out")
            assert len(found) == 41
            assert len({v for k, v in found.items() if k != "files.txt"}) == 1
    write_folder(tmp_path / "out", FILES)
    assert os.listdir(tmp_path) == ["out"]


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="needs a user whom permissions bind")
def test_no_permission_is_said(tmp_path):
    """A folder that may not be written gives a clear message."""
    (tmp_path / "locked").mkdir(mode=0o500)
    with pytest.raises(FolderError, match="cannot be written"):
        write_folder(tmp_path / "locked" / "out", FILES)


def test_a_refused_folder_is_said(tmp_path, monkeypatch):
    """A folder that may not be made gives a clear message (as any user, root too)."""

    def refuse(self, *args, **kwargs):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(FolderError, match="Permission denied"):
        write_folder(tmp_path / "out", FILES)


def test_the_link_to_a_folder_is_followed(tmp_path):
    """A link stays a link: the folder that it leads to is replaced."""
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "real")
    write_folder(tmp_path / "link", FILES)
    assert (tmp_path / "link").is_symlink()
    assert "layout.json" in content(tmp_path / "real")


def test_the_root_is_no_target():
    """The root of the disk is refused."""
    with pytest.raises(FolderError):
        write_folder(Path(Path.cwd().anchor), FILES)
