"""A lock on a file that the system lets go when its process dies."""

from __future__ import annotations

import os
import sys
from pathlib import Path

if sys.platform == "win32":  # pragma: no cover - the same promise by another system call
    import msvcrt

    def _try_lock(descriptor: int) -> bool:
        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _try_lock(descriptor: int) -> bool:
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        return True


class FileLock:
    """Holds an exclusive lock on a file, which it makes where there is none."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._descriptor: int | None = None

    def acquire(self) -> bool:
        """Return True with the lock held, False where another process holds it.

        Raises ``OSError`` when the file cannot be opened.
        """
        descriptor = os.open(self.path, os.O_RDWR | os.O_CREAT, 0o644)
        if _try_lock(descriptor) and self._still_there(descriptor):
            self._descriptor = descriptor
            return True
        os.close(descriptor)
        return False

    def _still_there(self, descriptor: int) -> bool:
        """Say whether the path still names the file that was opened.

        Who held the lock before may have removed the file on its way out: a lock on that one
        would keep nobody away.
        """
        try:
            return os.path.samestat(os.fstat(descriptor), os.stat(self.path))
        except FileNotFoundError:
            return False

    def release(self) -> None:
        """Let the lock go; the file stays."""
        if self._descriptor is not None:
            os.close(self._descriptor)
            self._descriptor = None
