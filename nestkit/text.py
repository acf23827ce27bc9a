"""Texts for people: aligned columns, sentences, counts and lists of numbers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence


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


def counted(count: int, thing: str) -> str:
    """Return a count with its thing, in the plural where that is due: ``1 part``, ``2 parts``."""
    return f"{count} {thing}" if count == 1 else f"{count} {thing}s"


def number_list(numbers: Iterable[int]) -> str:
    """Return numbers in order, runs of three and more joined.

    >>> number_list([7, 1, 2, 3, 9]), number_list([4, 5])
    ('1 to 3, 7, 9', '4, 5')
    """
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    said = [f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs]
    return ", ".join(said)
