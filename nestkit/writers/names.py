"""File names made from names in a job: plain, safe on every system, never equal."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

_DEVICES = {"con", "prn", "aux", "nul"} | {f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10)}


def file_stem(name: str) -> str:
    """Return a name as a file name without ending.

    >>> file_stem("PC 1/8 2x4"), file_stem("Größe Ø"), file_stem("//"), file_stem("COM1")
    ('pc-1-8-2x4', 'gro-e', 'part', 'com1-x')
    """
    bare = "".join(c for c in unicodedata.normalize("NFKD", name) if not unicodedata.combining(c))
    stem = re.sub(r"[^a-z0-9]+", "-", bare.lower()).strip("-") or "part"
    return f"{stem}-x" if stem in _DEVICES else stem


def file_stems(names: Iterable[str]) -> list[str]:
    """Return a file name for each name, in order; equal ones get ``-2``, ``-3``.

    >>> file_stems(["Lid", "lid!", "lid 2"])
    ['lid', 'lid-2', 'lid-2-2']
    """
    used: set[str] = set()
    stems = []
    for name in names:
        plain = file_stem(name)
        stem, count = plain, 1
        while stem in used:
            count += 1
            stem = f"{plain}-{count}"
        used.add(stem)
        stems.append(stem)
    return stems
