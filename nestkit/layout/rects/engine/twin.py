"""The engine's functions in two forms: as they stand, and compiled from the same source.

The compiled form is kept in the user's cache folder under a name that changes with the source and the
versions of what made it. Whoever can write there can run code as the user, so the folder must belong to
the user alone; else what is compiled is not kept.
"""

from __future__ import annotations

import hashlib
import os
import stat
import sys
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from types import FunctionType, ModuleType
from typing import Any, Literal

from nestkit.layout.rects.engine import arrays, chance, exchange, moves, room, saw, seen, split

MODULES: tuple[ModuleType, ...] = (chance, seen, saw, room, split, moves, exchange)
"""Every module of functions that both forms have, those that are called before those that call."""

INLINED = ("draw", "clear", "cut_strips", "occupy", "put", "best_place")
"""Small functions of the inner loops: compiled into their callers the search is a quarter faster."""


@dataclass(frozen=True, slots=True)
class Form:
    """A form of the engine: its name, how a row of numbers is made, its functions by name."""

    name: Literal["plain", "compiled"]
    row: Callable[[int], Any]
    functions: dict[str, Callable[..., Any]]


def sorted_first(codes: list[int], number: int) -> None:
    """Sort the first numbers of a list in place: what plain Python does faster than the common source."""
    codes[:number] = sorted(codes[:number])


def own_functions(modules: tuple[ModuleType, ...]) -> dict[str, FunctionType]:
    """Return the functions that modules define, by name, in their order."""
    return {
        name: f
        for module in modules
        for name, f in vars(module).items()
        if isinstance(f, FunctionType) and f.__module__ == module.__name__
    }


def twins(
    functions: dict[str, FunctionType], wrap: Callable[[FunctionType], Any], swap: dict[str, Any]
) -> dict[str, Any]:
    """Return copies of functions that call each other's copies; ``swap`` replaces some by others."""
    names: dict[str, Any] = {}
    for f in functions.values():
        names |= {k: v for k, v in f.__globals__.items() if k not in functions}
    found: dict[str, Any] = {}
    for name, f in functions.items():
        twin = FunctionType(f.__code__, names, name, f.__defaults__)
        twin.__module__ = f.__module__
        found[name] = swap[name] if name in swap else wrap(twin)
        names[name] = found[name]
    return found


@cache
def plain() -> Form:
    """Return the engine in plain Python."""
    functions = own_functions(MODULES)
    return Form("plain", lambda n: [0] * n, twins(functions, lambda f: f, {"sort_first": sorted_first}))


def can_compile() -> bool:
    """Say whether the compiler is installed here; it has no build for some platforms and new Pythons."""
    return find_spec("numba") is not None


def compiled_form(
    functions: dict[str, FunctionType], folder: Path | None, inlined: tuple[str, ...] = ()
) -> Form:
    """Return functions compiled, from a cache folder or else at their first call; None keeps nothing."""
    import numba
    import numpy

    settings: Any = numba.config
    before = settings.CACHE_DIR
    settings.CACHE_DIR = "" if folder is None else str(folder)
    try:
        made = twins(
            functions,
            lambda f: numba.njit(
                f,
                cache=folder is not None,
                nogil=True,
                error_model="numpy",
                inline="always" if f.__name__ in inlined else "never",
            ),
            {},
        )
    finally:
        settings.CACHE_DIR = before
    return Form("compiled", lambda n: numpy.zeros(n, numpy.int64), made)


@cache
def compiled() -> Form:
    """Return the compiled engine."""
    return compiled_form(own_functions(MODULES), cache_folder(*compilers()), INLINED)


@dataclass(frozen=True, slots=True)
class Kernels:
    """Other modules of functions that have both forms, kept under a name of their own."""

    name: str
    modules: tuple[ModuleType, ...]
    inlined: tuple[str, ...] = ()

    def plain(self) -> Form:
        """Return the functions in plain Python."""
        return Form("plain", lambda n: [0] * n, twins(own_functions(self.modules), lambda f: f, {}))

    def compiled(self) -> Form:
        """Return the functions compiled, from the cache or else at their first call."""
        return compiled_form(own_functions(self.modules), self._folder(), self.inlined)

    def is_kept(self) -> bool:
        """Say whether the compiled code is there from an earlier run."""
        return holds_code(self._folder())

    def _folder(self) -> Path | None:
        return cache_folder(*compilers(), f"{self.name}-{source_of(self.modules)}")


def compilers() -> tuple[str, str]:
    """Return the versions of what compiles."""
    import numba
    import numpy

    return numba.__version__, numpy.__version__


def is_kept() -> bool:
    """Say whether compiled code is there from an earlier run, so that nothing has to be compiled."""
    return holds_code(cache_folder(*compilers()))


def holds_code(folder: Path | None) -> bool:
    """Say whether a folder holds compiled code."""
    return folder is not None and any(folder.rglob("*.nbi"))


def cache_folder(*versions: str) -> Path | None:
    """Return the folder for compiled code, made if need be; None where none is safe."""
    source = source_of((*MODULES, arrays))
    tag = "-".join([f"{sys.implementation.name}{sys.version_info[0]}{sys.version_info[1]}", *versions])
    folder = user_cache() / "nestkit" / f"engine-{tag}-{source}"
    try:
        for one in (folder.parent, folder):
            one.mkdir(parents=True, exist_ok=True, mode=0o700)
            if not _ours_alone(one):
                return None
    except OSError:
        return None
    return folder


def source_of(modules: tuple[ModuleType, ...]) -> str:
    """Return a short name that changes with the source of modules, and with where and when it was installed.

    What was compiled for another copy of the same source is not used, and so must not count as kept.
    """
    found = hashlib.sha256()
    for module in modules:
        file = Path(str(module.__file__))
        found.update(f"{file.resolve()} {file.stat().st_mtime_ns}".encode())
        found.update(file.read_bytes())
    return found.hexdigest()[:16]


def user_cache() -> Path:
    """Return the folder in which the user's programs keep what they can make again."""
    home = Path.home()
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or home / "AppData" / "Local")
    if sys.platform == "darwin":
        return home / "Library" / "Caches"
    return Path(os.environ.get("XDG_CACHE_HOME") or home / ".cache")


def _ours_alone(folder: Path) -> bool:
    """Say whether a folder is the user's, nobody else may write there, and the user may."""
    if sys.platform == "win32":
        return os.access(folder, os.W_OK)
    facts = folder.stat()
    others = stat.S_IWGRP | stat.S_IWOTH
    return facts.st_uid == os.getuid() and not facts.st_mode & others and os.access(folder, os.W_OK)
