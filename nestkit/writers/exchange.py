"""Two folders change places in one step, where the system can do that."""

from __future__ import annotations

import ctypes
import errno
import os
import sys
from collections.abc import Callable
from pathlib import Path

_AT_FDCWD = -100
_EXCHANGE = 2
_CANNOT = {errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP}


def exchange(a: Path, b: Path) -> bool:
    """Let two folders change names in one step; return False where the system has no such call.

    Raises ``OSError`` when the system has it and refuses.
    """
    call = _call()
    if call is None:
        return False
    if call(os.fsencode(a), os.fsencode(b)) == 0:
        return True
    number = ctypes.get_errno()
    if number in _CANNOT:
        return False
    raise OSError(number, os.strerror(number), str(b))


def _call() -> Callable[[bytes, bytes], int] | None:
    """Return the system's own call as a function of two paths, or None."""
    if sys.platform not in {"linux", "darwin"}:
        return None
    library = ctypes.CDLL(None, use_errno=True)
    if sys.platform == "linux" and hasattr(library, "renameat2"):
        return lambda a, b: int(library.renameat2(_AT_FDCWD, a, _AT_FDCWD, b, _EXCHANGE))
    if sys.platform == "darwin" and hasattr(library, "renamex_np"):
        return lambda a, b: int(library.renamex_np(a, b, _EXCHANGE))
    return None
