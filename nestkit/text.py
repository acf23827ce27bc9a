"""Texts for people: columns that align, sentences that begin and end as such."""

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


def sentence(text: str) -> str:
    """Return a text as a sentence, with a capital and a full stop; empty stays empty.

    >>> sentence("move the hole inwards"), sentence("Why?"), sentence("#7 is a drill"), sentence("")
    ('Move the hole inwards.', 'Why?', '#7 is a drill.', '')
    """
    text = text.strip()
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".!?" else ".")
