"""Texts for people: aligned columns, sentences, counts and lists of numbers."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from fractions import Fraction

TYPE_LETTERS = (
    (0x20, 0x7E), (0xA0, 0xAC), (0xAE, 0xFF), (0x106, 0x107), (0x10C, 0x111), (0x11E, 0x11F), (0x130, 0x131),
    (0x141, 0x142), (0x152, 0x153), (0x15E, 0x161), (0x178, 0x178), (0x17D, 0x17E), (0x192, 0x192),
    (0x2C6, 0x2C7), (0x2D8, 0x2DD), (0x3A9, 0x3A9), (0x3C0, 0x3C0), (0x2013, 0x2026), (0x2030, 0x2030),
    (0x2039, 0x203A), (0x20AC, 0x20AC), (0x2122, 0x2122), (0x2202, 0x2206), (0x220F, 0x221E),
    (0x222B, 0x222B), (0x2248, 0x2248), (0x2260, 0x2265), (0x25CA, 0x25CA), (0xFB01, 0xFB02),
)  # fmt: skip
"""The letters, from and to, that the type of the prints has: known here, as reading the typeface takes long.

A test compares them with the typeface.
"""


WIDTH = 96
"""Letters of a line for a terminal."""


def not_in_type(text: str) -> tuple[str, ...]:
    """Return the letters of a text that prints show as their codes, each once, in their order.

    >>> not_in_type("lid Ø 5"), not_in_type("lid " + chr(0x9762) * 2)
    ((), ('面',))
    """
    if text.isascii() and text.isprintable():
        return ()
    missing = (c for c in text if not any(first <= ord(c) <= last for first, last in TYPE_LETTERS))
    return tuple(dict.fromkeys(missing))


def wrapped(text: str, *, first: str = "", rest: str = "", width: int = WIDTH) -> list[str]:
    """Return a text as lines, the first and the rest behind their indents; no word and no name is parted.

    >>> wrapped("side-deck to rail", first="- ", rest="  ", width=12)
    ['- side-deck', '  to rail']
    """
    return textwrap.wrap(
        text,
        width,
        initial_indent=first,
        subsequent_indent=rest,
        break_long_words=False,
        break_on_hyphens=False,
    )


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


def money_text(value: Fraction) -> str:
    """Return an amount of the job's currency, up to the next hundredth: nobody pays more than was said.

    >>> money_text(Fraction("38.5")), money_text(Fraction(1234)), money_text(Fraction("21.9604"))
    ('38.50', '1234.00', '21.97')
    """
    whole, part = divmod(-(-value * 100 // 1), 100)
    return f"{whole}.{part:02}"


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
