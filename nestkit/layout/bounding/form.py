"""What prices sheets, in its two forms."""

from __future__ import annotations

from functools import cache

from nestkit.layout.bounding import price, together
from nestkit.layout.rects.engine.twin import Form, Kernels

PRICING = Kernels("bounds", (together, price))


@cache
def plain() -> Form:
    """Return the functions in plain Python."""
    return PRICING.plain()


@cache
def compiled() -> Form:
    """Return the functions compiled, from the cache or else at their first call."""
    return PRICING.compiled()
