"""The holes of a panel: what makes each, where it is, and its number."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from nestkit.errors import LengthError
from nestkit.geometry.points import Point
from nestkit.job.drills_of import NO_DRILL, drill_of_dia
from nestkit.job.entry import Entry
from nestkit.job.patterns import read_free_pattern, read_pattern
from nestkit.job.schema import LevelName
from nestkit.job.shown import shown
from nestkit.job.values import MOST_PIECES, choice, length, text
from nestkit.parts.holes import Drill, Hole
from nestkit.trade import drills, screws
from nestkit.units import SMALLEST, parse_length

MADE_BY = ("screw", "tap", "drill", "dia")
FITS = ("close", "normal", "loose", "fine", "medium", "coarse")
# A job asks for few screws, and for each of them many times.
clearance_of: Callable[[str, str | None], screws.ClearanceRow] = lru_cache(maxsize=256)(screws.clearance)
_tap: Callable[[str], screws.TapRow] = lru_cache(maxsize=256)(screws.tap)

LARGEST_DRILL = Fraction(100)
"""Millimetres; a larger round opening is a cut-out."""

LONGEST_DRILL_NAME = 20
"""Characters; anything longer is no drill, and a message need not repeat it."""

DRILL_REMEDY = 'Write its name as on the drill: "#80" to "#1", "A" to "Z", "1/64" to "1 in", or "5.5 mm"'


def read_holes(
    panel: Entry,
    width: Fraction,
    height: Fraction,
    *,
    before: Sequence[Hole] = (),
    taken: frozenset[str] = frozenset(),
) -> tuple[Hole, ...]:
    """Return all holes of a panel in file order, numbered from 1; those ``before`` them come first.

    ``taken`` are names that its groups cannot have.
    """
    return _numbered(panel, "holes", lambda entry: read_pattern(entry, width, height), before, taken)


def read_bought_holes(bought: Entry) -> tuple[Hole, ...]:
    """Return all holes of a bought part in file order, numbered from 1, in its own frame."""
    return _numbered(bought, "bought holes", read_free_pattern)


def _numbered(
    part: Entry,
    level: LevelName,
    pattern: Callable[[Entry], list[Point] | None],
    before: Sequence[Hole] = (),
    taken: frozenset[str] = frozenset(),
) -> tuple[Hole, ...]:
    holes: list[Hole] = list(before)
    part.notes.holes += len(holes)
    names: set[str] = set(taken)
    for entry in part.children("holes", level):
        name = text(entry, "name", slash=False)
        if name and name in names:
            entry.wrong("name", f"two groups of holes of this part are called {shown(name)}", "Rename one")
        names.add(name or "")
        drill = read_drill(entry)
        places = pattern(entry)
        part.notes.holes += len(places or ())
        if name is not None and drill and places and part.notes.holes <= MOST_PIECES:
            holes += [Hole(len(holes) + i + 1, p, drill, name) for i, p in enumerate(places)]
    return tuple(holes)


def read_drill(entry: Entry) -> Drill | None:
    """Return what makes the holes of a group; None where it is wrong."""
    which = entry.one_of(MADE_BY, "Say what makes the hole: screw, tap, drill or dia")
    if "fit" in entry and "screw" not in entry and any(key in entry for key in MADE_BY):
        entry.wrong("fit", "a fit goes with a screw only", "Leave it out, or give the screw")
    # Where two stand, each is still read, so that its own mistakes show in the same run.
    read = {key: reader(entry) for key, reader in _READERS.items() if key in entry}
    return read[which] if which is not None else None


def _for_screw(entry: Entry) -> Drill | None:
    name = text(entry, "screw")
    fit = choice(entry, "fit", FITS) if "fit" in entry else None
    if not name or ("fit" in entry and fit is None):
        return None
    try:
        row = clearance_of(name, fit)
    except (screws.UnknownScrew, screws.UnknownFit) as fault:
        note_unknown(entry, "fit" if isinstance(fault, screws.UnknownFit) else "screw", str(fault))
        return None
    return Drill(float(row.hole), row.drill, row.source, name, row.fit, None, float(row.major))


def _for_tap(entry: Entry) -> Drill | None:
    name = text(entry, "tap")
    if not name:
        return None
    try:
        row = _tap(name)
    except screws.UnknownScrew as fault:
        reason = str(fault).partition("; ")[0]
        entry.wrong("tap", reason, "Write a thread that the tap table has, or the drill itself")
        return None
    return Drill(float(row.dia), row.drill, row.source, tap=row.thread, fastener_dia=float(row.major))


def note_unknown(entry: Entry, key: str, message: str) -> None:
    """Note what the tables say of a screw or a fit that they do not have."""
    reason, _, remedy = message.partition("; ")
    entry.wrong(key, reason, remedy[:1].upper() + remedy[1:])


def _by_drill(entry: Entry) -> Drill | None:
    value = entry.data["drill"]
    if isinstance(value, bool) or not isinstance(value, str | int | Decimal):
        remedy = 'Write its name, such as "#7", "F", "1/4" or "5.5 mm"'
        entry.wrong("drill", f"a drill is wanted, not {shown(value)}", remedy)
        return None
    # Python does not turn whole numbers of thousands of digits into text, and no drill has a long name.
    name = str(value).strip() if not isinstance(value, int) or abs(value) < 10**9 else "-"
    name = name if len(name) <= LONGEST_DRILL_NAME else "-"
    bare = re.fullmatch(r"0*\.[0-9]+|0+", name)
    if bare and entry.notes.unit == "in":
        entry.wrong(
            "drill",
            f"{shown(value)} may be inches or a drill in millimetres",
            f'Write "{name} in" or "{name} mm"',
        )
        return None
    row = drills.drill(name)
    if row is not None:
        return Drill(float(row.dia), row.name, row.source)
    dia = decimal_size(name)
    if dia is None or not SMALLEST <= dia <= LARGEST_DRILL:
        entry.wrong("drill", f"the drill tables have no {shown(value)}", DRILL_REMEDY)
        return None
    near = drills.named(dia, entry.notes.unit)
    if near is not None:
        return Drill(float(near.dia), near.name, near.source)
    return Drill(float(dia), "", NO_DRILL)


def decimal_size(name: str) -> Fraction | None:
    """Return a decimal size in mm; a bare one is a metric drill's, in any job."""
    if not re.fullmatch(r'[0-9]*\.?[0-9]+\s*(mm|in|")?', name, re.IGNORECASE):
        return None
    try:
        return parse_length(name.lower(), "mm")
    except LengthError:
        return None


def _by_dia(entry: Entry) -> Drill | None:
    dia = length(entry, "dia")
    if dia is None:
        return None
    if dia > LARGEST_DRILL:
        entry.wrong(
            "dia",
            f"{shown(entry.data['dia'])} is too large for a drilled hole",
            "Make it a cut-out with disc",
        )
        return None
    return drill_of_dia(dia, entry.notes.unit)


_READERS: dict[str, Callable[[Entry], Drill | None]] = {
    "screw": _for_screw,
    "tap": _for_tap,
    "drill": _by_drill,
    "dia": _by_dia,
}
