"""A job file on the disk: written whole or not at all, the former version kept beside it."""

from __future__ import annotations

import os
import tempfile
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
        _replace(target.with_name(target.name + BEFORE), former, mode)
        _replace(target, content, mode)
    except OSError as fault:
        raise UserError(f"{path.name} cannot be written ({fault.strerror}); it is as it was") from fault


def write_new(path: Path, content: bytes) -> None:
    """Write a file that is not there yet, in one step.

    Raises :class:`~nestkit.errors.UserError` where there is one, or where it cannot be written.
    """
    try:
        fresh = _beside(path, content, 0o666 & ~_umask())
        try:
            # A link is made only where nothing has the name: nobody's file is written over.
            os.link(fresh, path)
        finally:
            fresh.unlink(missing_ok=True)
    except FileExistsError:
        raise UserError(f"{path.name} is there already; choose another name") from None
    except OSError as fault:
        raise UserError(f"{path.name} cannot be written ({fault.strerror}); choose another folder") from fault


def _replace(target: Path, content: bytes, mode: int) -> None:
    fresh = _beside(target, content, mode)
    try:
        fresh.replace(target)
    finally:
        fresh.unlink(missing_ok=True)


def _beside(target: Path, content: bytes, mode: int) -> Path:
    """Write a file's content under another name in its folder, to the disk itself."""
    handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    fresh = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        fresh.chmod(mode)
    except BaseException:
        with suppress(OSError):
            fresh.unlink()
        raise
    return fresh


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
