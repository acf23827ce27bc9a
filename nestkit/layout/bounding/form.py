"""The functions that price sheets, in two forms: plain Python, and compiled and kept in the user's cache."""

from __future__ import annotations

from functools import cache
from types import ModuleType

from nestkit.layout.bounding import price, together
from nestkit.layout.rects.engine.twin import (
    Form,
    cache_folder,
    compiled_form,
    compilers,
    own_functions,
    source_of,
    twins,
)

MODULES: tuple[ModuleType, ...] = (together, price)


@cache
def plain() -> Form:
    """Return the functions in plain Python."""
    return Form("plain", lambda n: [0] * n, twins(own_functions(MODULES), lambda f: f, {}))


@cache
def compiled() -> Form:
    """Return the functions compiled, from the cache or else at their first call."""
    folder = cache_folder(*compilers(), f"bounds-{source_of(MODULES)}")
    return compiled_form(own_functions(MODULES), folder)
