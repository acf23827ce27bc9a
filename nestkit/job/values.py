"""Reading one value of a table: each function notes what is wrong and returns None then."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Literal, TypeVar

from nestkit.errors import LengthError
from nestkit.job.cells import CellFault
from nestkit.job.entry import LONGEST_NAME, Entry
from nestkit.job.shown import shown
from nestkit.units import LARGEST, SMALLEST, parse_length

Kind = Literal["size", "amount", "place"]
"""``size``: 0.1 mm to 100 m. ``amount``: may be 0. ``place``: a coordinate, may be negative."""

Pair = tuple[Fraction, Fraction]
Word = TypeVar("Word", bound=str)

MOST_PIECES = 100_000
"""Pieces a job at most; also holes, and the points of one outline are held to it."""

_SIZE_REMEDY = 'Write a length such as 12.5, "18 3/4" or "152.4 mm"'
# Marks that change the direction of text after them: a name could read as another one.
_BIDI = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def length(entry: Entry, key: str, kind: Kind = "size", *, required: bool = False) -> Fraction | None:
    """Return a length in mm, or None where it is not given or wrong."""
    if not _given(entry, key, required, _SIZE_REMEDY):
        return None
    return _length(entry, key, entry.data[key], kind)


def length_at(entry: Entry, key: str, index: int, kind: Kind = "size") -> Fraction | None:
    """Return one length in mm of a list that is known to have it, or None where it is wrong."""
    value = entry.data[key]
    return _length(entry, key, value[index] if isinstance(value, list) else value, kind, index)


def pair(entry: Entry, key: str, kind: Kind = "size", *, required: bool = False) -> Pair | None:
    """Return two lengths in mm, x and y, or None where they are not given or wrong."""
    if not _given(entry, key, required, "Write two lengths, such as [24, 48]"):
        return None
    return _pair(entry, key, entry.data[key], kind)


def points(entry: Entry, key: str, *, least: int) -> list[Pair] | None:
    """Return a list of points in mm, at least so many, or None where it is not given or wrong."""
    if key not in entry:
        return None
    value = entry.data[key]
    remedy = "Write a list of points, such as [[0, 0], [12, 0], [12, 9]]"
    if not isinstance(value, list):
        entry.wrong(key, f"a list of points is wanted, not {shown(value)}", remedy)
        return None
    if not least <= len(value) <= MOST_PIECES:
        most = f" to {MOST_PIECES:,}" if len(value) > least else " or more"
        entry.wrong(key, f"{least}{most} points are wanted, not {len(value)}", remedy)
        return None
    found = [_pair(entry, key, v, "place", i) for i, v in enumerate(value)]
    whole = [p for p in found if p is not None]
    return whole if len(whole) == len(found) else None


def count(
    entry: Entry, key: str, default: int | None = None, *, least: int = 0, most: int = MOST_PIECES
) -> int | None:
    """Return a whole number; ``default`` None makes it required."""
    remedy = f"Write a whole number from {least} to {most}"
    if not _given(entry, key, default is None, remedy):
        return default
    value = entry.data[key]
    if isinstance(value, bool) or not isinstance(value, int):
        entry.wrong(key, f"a whole number is wanted, not {shown(value)}", remedy)
        return None
    if not least <= value <= most:
        entry.wrong(key, f"{shown(value)} is out of range", remedy)
        return None
    return value


def number(
    entry: Entry, key: str, default: int, *, least: Fraction | int, most: Fraction | int, remedy: str
) -> Fraction | None:
    """Return a plain number without a unit, exactly as written."""
    if key not in entry:
        return Fraction(default)
    return _number(entry, key, entry.data[key], least, most, remedy)


def two_numbers(
    entry: Entry, key: str, *, least: Fraction | int, most: Fraction | int, remedy: str
) -> Pair | None:
    """Return two plain numbers of a list, or None where they are not given or wrong."""
    if key not in entry:
        return None
    value = entry.data[key]
    if not isinstance(value, list) or len(value) != 2:
        entry.wrong(key, f"two plain numbers are wanted, not {shown(value)}", remedy)
        return None
    first, second = (_number(entry, key, value[i], least, most, remedy, i) for i in (0, 1))
    return None if first is None or second is None else (first, second)


def _number(
    entry: Entry,
    key: str,
    value: object,
    least: Fraction | int,
    most: Fraction | int,
    remedy: str,
    *index: int,
) -> Fraction | None:
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        entry.wrong(key, f"a plain number is wanted, not {shown(value)}", remedy, *index)
        return None
    # A number of very many digits is refused before it is made exact.
    wild = isinstance(value, Decimal) and (not value.is_finite() or (value and abs(value.adjusted()) > 30))
    if wild or not least <= value <= most:
        entry.wrong(key, f"{shown(value)} is out of range", remedy, *index)
        return None
    return Fraction(value)


def flag(entry: Entry, key: str, default: bool) -> bool:
    """Return true or false."""
    value = entry.data.get(key, default)
    if not isinstance(value, bool):
        entry.wrong(
            key, f"true or false is wanted, not {shown(value)}", "Write true or false, without quotes"
        )
        return default
    return value


def choice(entry: Entry, key: str, allowed: Sequence[Word], default: Word | None = None) -> Word | None:
    """Return one of some words; ``default`` None makes it required."""
    remedy = f"Write {_either(allowed)}"
    if not _given(entry, key, default is None, remedy):
        return default
    value = entry.data[key]
    found = next((word for word in allowed if isinstance(value, str) and value.strip() == word), None)
    if found is None:
        entry.wrong(key, f"{shown(value)} is not known here", remedy)
    return found


def text(
    entry: Entry, key: str, *, required: bool = False, longest: int = LONGEST_NAME, slash: bool = True
) -> str | None:
    """Return a text without outer spaces, empty where it is not given; None where it is wrong.

    Control characters and those that turn the direction of text are mistakes, and without
    ``slash`` a ``/`` is one.
    """
    if not _given(entry, key, required, "Write a text in quotes"):
        return None if required else ""
    value = entry.data[key]
    if not isinstance(value, str):
        entry.wrong(key, f"a text is wanted, not {shown(value)}", f'Write it in quotes, {key} = "..."')
        return None
    clean = value.strip()
    if not clean:
        entry.wrong(key, "the text is empty", "Write something, or leave the line out")
        return None
    fault = name_fault(clean, longest, slash)
    if fault:
        entry.wrong(key, *fault)
        return None
    return clean


def name_fault(clean: str, longest: int = LONGEST_NAME, slash: bool = True) -> tuple[str, str] | None:
    """Return text and remedy of what makes a name unfit, or None."""
    if len(clean) > longest:
        return f"{shown(clean)} has {len(clean)} characters", f"Write at most {longest}"
    for char in clean:
        if char.isascii() and char.isprintable():
            continue
        if unicodedata.category(char) in {"Cc", "Zl", "Zp", "Cs"}:
            return f"{shown(clean)} has a control character", "Write it in plain letters, on one line"
        if char in _BIDI:
            return (
                f"{shown(clean)} has a mark that turns the direction of text",
                "Write it without such marks",
            )
    if not slash and "/" in clean:
        return f'{shown(clean)} has a "/", which parts a part from its holes', "Write another sign"
    return None


def _given(entry: Entry, key: str, required: bool, remedy: str) -> bool:
    """Say whether a value is there to be read; what is missing or a faulty cell is noted."""
    if key in entry:
        value = entry.data[key]
        if isinstance(value, CellFault):
            entry.wrong(key, value.reason, value.remedy)
        return not isinstance(value, CellFault)
    if required:
        entry.missing(key, remedy)
    return False


def _either(words: Sequence[str]) -> str:
    quoted = [f'"{word}"' for word in words]
    return quoted[0] if len(quoted) == 1 else f"{', '.join(quoted[:-1])} or {quoted[-1]}"


def _pair(entry: Entry, key: str, value: object, kind: Kind, *index: int) -> Pair | None:
    if not isinstance(value, list) or len(value) != 2:
        entry.wrong(
            key, f"two lengths are wanted, not {shown(value)}", "Write [x, y], such as [24, 48]", *index
        )
        return None
    x = _length(entry, key, value[0], kind, *index, 0)
    y = _length(entry, key, value[1], kind, *index, 1)
    return None if x is None or y is None else (x, y)


def _length(entry: Entry, key: str, value: object, kind: Kind, *index: int) -> Fraction | None:
    if not isinstance(value, str | int | Decimal):
        entry.wrong(key, f"a length is wanted, not {shown(value)}", _SIZE_REMEDY, *index)
        return None
    try:
        mm = parse_length(value, entry.notes.unit)
    except LengthError as fault:
        entry.wrong(key, fault.reason, fault.remedy[:1].upper() + fault.remedy[1:], *index)
        return None
    if kind == "place":
        fits = abs(mm) <= LARGEST
    else:
        fits = (SMALLEST if kind == "size" else 0) <= mm <= LARGEST
    if fits:
        return mm
    if (kind == "size" and mm <= 0) or (kind == "amount" and mm < 0):
        entry.wrong(
            key,
            f"{shown(value)} is {'nothing' if mm == 0 else 'negative'}",
            "Write a length above 0" if kind == "size" else "Write 0 or a length above it",
            *index,
        )
    else:
        entry.wrong(key, f"{shown(value)} is out of range", "Sizes run from 0.1 mm to 100 m", *index)
    return None
