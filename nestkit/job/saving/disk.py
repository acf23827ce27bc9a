"""A job file on the disk: written whole or not at all, the former version kept beside it."""

from __future__ import annotations

import os
import secrets
from contextlib import suppress
from pathlib import Path

from nestkit.errors import UserError

BEFORE = ".before"
"""What the former version's name has at its end; there is one of it."""


def write_over(path: Path, content: bytes) -> None:
    """Put new content in the place of a file, in one step; what was there is kept as ``NAME.before``.

    Raises :class:`~nestkit.errors.UserError` where it cannot be written; then the file is as it was.
    """
    target = Path(os.path.realpath(path))
    try:
        former, mode = target.read_bytes(), target.stat().st_mode & 0o777
        # Another takes its place, so that the system itself would not ask whether it may be written.
        if not os.access(target, os.W_OK):
            raise UserError(
                f"{path.name} is marked read-only and is as it was; take that off, then save again"
            )
        _replace(target.with_name(target.name + BEFORE), former, mode)
        _replace(target, content, mode)
    except OSError as fault:
        raise UserError(f"{path.name} cannot be written ({fault.strerror}); it is as it was") from fault


def write_new(path: Path, content: bytes) -> None:
    """Write a file that is not there yet, in one step.

    Raises :class:`~nestkit.errors.UserError` where there is one, or where it cannot be written.
    """
    try:
        fresh = _beside(path, content, None)
        try:
            _name_first(fresh, path)
        finally:
            fresh.unlink(missing_ok=True)
    except FileExistsError:
        raise UserError(f"{path.name} is there already; choose another name") from None
    except OSError as fault:
        raise UserError(f"{path.name} cannot be written ({fault.strerror}); choose another folder") from fault


def _name_first(fresh: Path, path: Path) -> None:
    """Give a file a name that nothing has. Raises ``FileExistsError`` where something does."""
    try:
        # A link is made only where nothing has the name: nobody's file is written over.
        os.link(fresh, path)
    except FileExistsError:
        raise
    except OSError:
        # A memory stick or a network drive may know no links: the name is taken empty, then filled.
        os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666))
        try:
            fresh.replace(path)
        except OSError:
            path.unlink(missing_ok=True)
            raise


def _replace(target: Path, content: bytes, mode: int) -> None:
    fresh = _beside(target, content, mode)
    try:
        fresh.replace(target)
    finally:
        fresh.unlink(missing_ok=True)


def _beside(target: Path, content: bytes, mode: int | None) -> Path:
    """Write a file's content under another name in its folder, to the disk itself; no mode: a new file's."""
    fresh = target.with_name(f".{target.name}.{secrets.token_hex(4)}")
    # The system itself knows what a new file may be; one that has its mode is closed until it gets that.
    rights = 0o666 if mode is None else 0o600
    handle = os.open(fresh, os.O_CREAT | os.O_EXCL | os.O_WRONLY | getattr(os, "O_BINARY", 0), rights)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        if mode is not None:
            fresh.chmod(mode)
    except BaseException:
        with suppress(OSError):
            fresh.unlink()
        raise
    return fresh
