"""Texts for people: columns that align."""

from __future__ import annotations

from collections.abc import Sequence


def columns(rows: Sequence[Sequence[str]], *, right: frozenset[int] = frozenset()) -> list[str]:
    """Return rows as lines of aligned columns, two spaces between; those in ``right`` end together.

    >>> columns([("panel", "no."), ("lid", "12")], right=frozenset({1}))
    ['panel  no.', 'lid     12']
    """
    if not rows:
        return []
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        "  ".join(
            cell.rjust(width) if i in right else cell.ljust(width)
            for i, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]
