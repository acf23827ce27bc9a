"""Offering the known name that is nearest to a wrong one."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from itertools import islice

_OFFERED, _COMPARED = 100, 1000
"""How many wrong names are offered the nearest one, and among how many: each takes a long look."""


class Nearest:
    """Finds the known name that is most like a wrong one, for the first wrong names of a job."""

    __slots__ = ("_left",)

    def __init__(self) -> None:
        self._left = _OFFERED

    def __call__(self, name: str, names: Iterable[str]) -> str | None:
        """Return the name that is most like one, whatever its case; None where none is."""
        if not self._left:
            return None
        self._left -= 1
        plain = {known.lower(): known for known in islice(names, _COMPARED)}
        near = difflib.get_close_matches(name.lower(), plain, n=1, cutoff=0.6)
        return plain[near[0]] if near else None
