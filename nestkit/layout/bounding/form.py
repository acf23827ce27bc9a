"""The functions that price sheets, in two forms: plain Python, and compiled and kept in the user's cache."""

from __future__ import annotations

import hashlib
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

from nestkit.layout.bounding import price, together
from nestkit.layout.rects.engine.twin import Form, cache_folder, own_functions, twins

MODULES: tuple[ModuleType, ...] = (together, price)


@cache
def plain() -> Form:
    """Return the functions in plain Python."""
    return Form("plain", lambda n: [0] * n, twins(own_functions(MODULES), lambda f: f, {}))


@cache
def compiled() -> Form:
    """Return the functions compiled, from the cache or else at their first call."""
    import numba
    import numpy

    source = hashlib.sha256(b"".join(Path(str(m.__file__)).read_bytes() for m in MODULES))
    folder = cache_folder(numba.__version__, numpy.__version__, f"bounds-{source.hexdigest()[:16]}")
    settings: Any = numba.config
    before = settings.CACHE_DIR
    settings.CACHE_DIR = "" if folder is None else str(folder)
    try:
        made = twins(
            own_functions(MODULES),
            lambda f: numba.njit(f, cache=folder is not None, nogil=True, error_model="numpy"),
            {},
        )
    finally:
        settings.CACHE_DIR = before
    return Form("compiled", lambda n: numpy.zeros(n, numpy.int64), made)
