"""A job folder, written whole or not at all.

Everything is first written into a hidden folder beside the target, under a lock; then the new
folder and the old one change places in one step. A run that dies leaves the old folder as it was;
the next run clears what it left.
"""

from __future__ import annotations

import os
import shutil
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath

from nestkit.errors import FolderError
from nestkit.writers.exchange import exchange
from nestkit.writers.lock import FileLock

LIST = "files.txt"
"""What a run wrote, one relative path a line, itself included."""

_LEFT_BY_SYSTEMS = {".ds_store", "thumbs.db", "desktop.ini", ".directory"}
WAIT_S = 30.0
"""How long a run waits for another that writes into the same folder."""


def check_target(target: Path) -> None:
    """Raise :class:`FolderError` unless the folder may be written or replaced."""
    if target.is_symlink() and not target.exists():
        raise FolderError(
            f"{target}: a link that leads nowhere is in the way; remove it or choose another --out"
        )
    if not target.exists():
        return
    if not target.is_dir():
        raise FolderError(f"{target}: a file of that name is in the way; move it or choose another --out")
    foreign = _foreign(target)
    if foreign:
        raise FolderError(
            f"{target}: holds files that nestkit did not write ({foreign[0]}"
            f"{f' and {len(foreign) - 1} more' if len(foreign) > 1 else ''}); "
            "nothing was touched. Move them away or choose another folder with --out"
        )


def write_folder(target: Path, files: Iterable[tuple[str, bytes]], *, wait_s: float = WAIT_S) -> int:
    """Write all files, given as relative path and content, and put them in the target's place.

    Returns how many were written, the list included. Raises :class:`FolderError` when the target
    holds anything else, another run holds it, or the system refuses; then nothing has changed.
    """
    target = Path(os.path.realpath(target))
    if not target.name:
        raise FolderError(f"{target}: not a folder that can be written; choose another --out")
    check_target(target)
    try:
        with _made(target.parent), _claimed(target, wait_s) as claim:
            new = claim / "new"
            written = _fill(new, files)
            _put_in_place(new, target, claim / "old")
            return written
    except OSError as fault:
        what = fault.strerror or str(fault)
        raise FolderError(
            f"{target}: cannot be written ({what}); nothing was changed. Choose another --out"
        ) from fault


def _foreign(folder: Path) -> list[str]:
    """Return the relative paths in a folder that its own list does not name, sorted."""
    known: set[str] = set()
    listing = folder / LIST
    if listing.is_file() and not listing.is_symlink():
        known = set(listing.read_text(encoding="utf-8", errors="replace").splitlines())
    kept = {parent.as_posix() for name in known for parent in PurePosixPath(name).parents} - {"."}
    found = []
    for root, folders, names in os.walk(folder):
        here = Path(root).relative_to(folder)
        for name in folders:
            path = Path(root, name)
            # A folder of ours that was emptied is no loss; a link or a folder of someone else is.
            if path.is_symlink() or (here / name).as_posix() not in kept:
                found.append((here / name).as_posix())
        for name in names:
            if (here / name).as_posix() not in known and name.lower() not in _LEFT_BY_SYSTEMS:
                found.append((here / name).as_posix())
    return sorted(found)


@contextmanager
def _made(parent: Path) -> Iterator[None]:
    """Make the folders above the target; take away again what stayed empty."""
    missing = [p for p in (parent, *parent.parents) if not p.exists()]
    parent.mkdir(parents=True, exist_ok=True)
    try:
        yield
    finally:
        for path in missing:
            if not any(path.iterdir()):
                path.rmdir()


@contextmanager
def _claimed(target: Path, wait_s: float) -> Iterator[Path]:
    """Yield a hidden folder beside the target that this run alone may write in."""
    claim = target.with_name(f".{target.name}.nestkit")
    lock = FileLock(claim / "lock")
    until = time.monotonic() + wait_s
    while not _locked(claim, lock):
        if time.monotonic() > until:
            raise FolderError(
                f"{target}: another run is writing this folder; wait for it or choose another --out"
            )
        time.sleep(0.05)
    try:
        _recover(claim, target)
        yield claim
    finally:
        _clear(claim / "new")
        _clear(claim / "old")
        lock.path.unlink()
        lock.release()
        _remove_if_empty(claim)


def _locked(claim: Path, lock: FileLock) -> bool:
    """Make the hidden folder and take its lock; False where another run holds it or just left."""
    claim.mkdir(exist_ok=True)
    try:
        return lock.acquire()
    except FileNotFoundError:
        return False


def _remove_if_empty(claim: Path) -> None:
    """Remove the hidden folder, unless the next run has already put its lock there."""
    try:
        claim.rmdir()
    except OSError:
        if not claim.exists() or any(claim.iterdir()):
            return
        raise


def _recover(claim: Path, target: Path) -> None:
    """Undo what a dead run left: half a new folder, or an old one set aside."""
    if (claim / "old").exists() and not target.exists():
        (claim / "old").rename(target)
    _clear(claim / "new")
    _clear(claim / "old")


def _clear(folder: Path) -> None:
    if folder.exists():
        shutil.rmtree(folder)


def _fill(new: Path, files: Iterable[tuple[str, bytes]]) -> int:
    """Write every file and the list of them; return how many."""
    new.mkdir()
    names = []
    for name, content in files:
        path = new / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
        names.append(name)
    names = sorted([*names, LIST])
    (new / LIST).write_bytes("".join(f"{name}\n" for name in names).encode())
    return len(names)


def _put_in_place(new: Path, target: Path, old: Path) -> None:
    """Let the new folder take the target's place, in one step where the system can."""
    if not target.exists():
        new.rename(target)
        return
    check_target(target)
    if exchange(new, target):
        try:
            # Something may have been put into the old folder in the last moment.
            check_target(new)
        except FolderError:
            exchange(new, target)
            raise
        return
    target.rename(old)
    try:
        new.rename(target)
    except OSError:
        old.rename(target)
        raise
