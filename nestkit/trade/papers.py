"""Papers and rolls to print on."""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass
from fractions import Fraction

from nestkit.errors import LengthError, UserError
from nestkit.trade.tables import read
from nestkit.units import MM_PER_INCH, decimal_text, parse_length

ROLL_LEAST, ROLL_MOST = Fraction(100), Fraction(5000)
"""Widths in mm between which a text is taken for a roll's width."""


class UnknownPaper(UserError):
    """A paper that the table does not have; the message lists the names."""


@dataclass(frozen=True, slots=True)
class PaperRow:
    """A paper, short side first, in exact mm; a roll has its width as short side and no long one."""

    name: str
    short: Fraction
    long: Fraction | None
    standard: str


def _plain(name: str) -> str:
    return re.sub(r"\s+|(?<=[^\W\d_])[-_](?=[^\W\d_])", " ", name.strip().casefold())


@functools.cache
def all_papers() -> tuple[PaperRow, ...]:
    """Return every paper and roll of the table."""
    return tuple(
        PaperRow(
            row["name"],
            _side(row["short_mm"], row["short_in"], row["standard"]),
            _side(row["long_mm"], row["long_in"], row["standard"]) if row["kind"] == "sheet" else None,
            row["standard"],
        )
        for row in read("papers")
    )


def _side(mm: str, inches: str, standard: str) -> Fraction:
    """The side in mm, from the unit that defines it."""
    metric = standard.startswith(("ISO", "metric"))
    return Fraction(mm) if metric else Fraction(inches) * MM_PER_INCH


@functools.cache
def _by_name() -> dict[str, PaperRow]:
    found: dict[str, PaperRow] = {}
    for paper_row, row in zip(all_papers(), read("papers"), strict=True):
        for name in (row["name"], *filter(None, row["alias"].split(";"))):
            found[_plain(name)] = paper_row
    return found


def paper(name: str) -> PaperRow:
    """Return a paper by its name: ``letter``, ``A4``, ``tabloid``, ``ANSI C``, ``Arch D``, ``roll 24 in``.

    Case, spaces and hyphens do not matter. A roll may have any width with its unit.

    >>> paper("a4").long, paper("Roll 24 in").short, paper("roll 500 mm").name
    (Fraction(297, 1), Fraction(3048, 5), 'roll 500 mm')

    Raises :class:`UnknownPaper`.
    """
    plain = _plain(name)
    if plain in _by_name():
        return _by_name()[plain]
    if plain.startswith("roll "):
        return _roll(name.strip()[4:].strip())
    shown = name[:80].encode("unicode_escape").decode("ascii")
    sheets = ", ".join(row.name for row in all_papers() if row.long is not None)
    raise UnknownPaper(
        f'"{shown}" is no paper of the table; write one of {sheets}, '
        'a roll such as "roll 24 in", or [width, height]'
    )


def _roll(width: str) -> PaperRow:
    remedy = 'write it as "roll 24 in" or "roll 610 mm"'
    if re.fullmatch(r"[\d./ -]+", width):
        raise UnknownPaper(f"a roll's width needs its unit; {remedy}")
    try:
        mm = parse_length(width, "mm")
    except LengthError as fault:
        raise UnknownPaper(f"a roll's width is no length: {fault.reason}; {remedy}") from fault
    if not ROLL_LEAST <= mm <= ROLL_MOST:
        raise UnknownPaper(
            f"a roll {decimal_text(mm)} mm wide is none to print on; widths run from 100 mm to 5 m; {remedy}"
        )
    for row in all_papers():
        if row.long is None and row.short == mm:
            return row
    return PaperRow(f"roll {decimal_text(mm)} mm", mm, None, "as given")
