"""Holes for screws: clearance holes by standard and fit, and tap drills."""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, cast

from nestkit.errors import ToolFault, UserError
from nestkit.trade import drills
from nestkit.trade.tables import number, read, source_text
from nestkit.units import MM_PER_INCH

System = Literal["inch", "metric"]

FITS: dict[System, tuple[str, ...]] = {
    "inch": ("close", "normal", "loose"),
    "metric": ("fine", "medium", "coarse"),
}
"""The fits of a job: ASME B18.2.8 for inch screws, ISO 273 for metric ones."""

USUAL_FIT: dict[System, str] = {"inch": "normal", "metric": "medium"}


class UnknownScrew(UserError):
    """A screw or thread that the tables do not have; the message lists the ones near."""


class UnknownFit(UserError):
    """A fit that the screw's standard does not have; the message lists those it has."""


@dataclass(frozen=True, slots=True)
class ClearanceRow:
    """The clearance hole of a screw and a fit; diameters in mm, exact.

    ``hole`` is the drill's own diameter, ``hole_max`` the largest that the standard allows.
    """

    system: System
    screw: str
    major: Fraction
    fit: str
    drill: str
    hole: Fraction
    hole_max: Fraction | None
    standard: str
    source: str


@dataclass(frozen=True, slots=True)
class TapRow:
    """The tap drill of a thread; diameters in mm, exact; ``percent`` is the thread's height left."""

    thread: str
    major: Fraction
    drill: str
    dia: Fraction
    percent: Fraction
    standard: str
    source: str


@dataclass(frozen=True, slots=True)
class _Screw:
    """A screw's words taken apart: size ``#10``, ``1/4`` or ``M5``; pitch ``32``, ``0.8`` or empty."""

    size: str
    pitch: str

    @property
    def major(self) -> Fraction:
        """The major diameter in mm that the size stands for: .060 in and .013 in more a number."""
        if self.size.startswith("M"):
            return Fraction(self.size.removeprefix("M"))
        if self.size.startswith("#"):
            return (Fraction("0.060") + Fraction("0.013") * int(self.size.removeprefix("#"))) * MM_PER_INCH
        return Fraction(self.size) * MM_PER_INCH

    @property
    def text(self) -> str:
        """The name in one way of writing."""
        if not self.pitch:
            return self.size
        if self.size.startswith("M"):
            return f"{self.size}x{self.pitch}"
        return f"{self.size.removeprefix('#')}-{self.pitch}"


_METRIC = re.compile(r"m ?(\d{1,3}(?:\.\d{1,2})?)(?: ?[x*×-] ?(\d{1,2}(?:\.\d{1,3})?))?(?: ?mm)?", re.ASCII)
_NUMBER = re.compile(r"(?P<mark>#|no\.?|number)? ?(\d{1,2})(?: ?- ?(\d{1,2}))?", re.ASCII)
_INCH = re.compile(r"(\d{1,2}/[1-9]\d?)(?: ?(?:\"|in))?(?: ?- ?(\d{1,2}))?", re.ASCII)
_SERIES = re.compile(r" ?(?:unc|unf)$", re.ASCII)


def plain_screw(screw: str) -> str:
    """Return a screw's name in one way of writing: ``10-32``, ``#10``, ``1/4-20``, ``M5``, ``M5x0.8``.

    >>> [plain_screw(s) for s in ("No. 10 - 32", "#10", "1/4 in", "m5 X 0.80")]
    ['10-32', '#10', '1/4', 'M5x0.8']

    Raises :class:`UnknownScrew` for a text that names no screw.
    """
    return _taken_apart(screw).text


def _taken_apart(screw: str) -> _Screw:
    clean = _SERIES.sub("", " ".join(screw.lower().split()).replace("–", "-"))
    if metric := _METRIC.fullmatch(clean):
        return _Screw(f"M{_trimmed(metric[1])}", _trimmed(metric[2] or ""))
    if inch := _INCH.fullmatch(clean):
        return _Screw(inch[1], inch[2] or "")
    found = _NUMBER.fullmatch(clean)
    if found and (found["mark"] or found[3]):
        return _Screw(f"#{int(found[2])}", found[3] or "")
    if found:
        raise UnknownScrew(f'"{clean}" may mean No. {clean} or M{clean}; write "#{clean}" or "M{clean}"')
    sizes = ", ".join(size for system in FITS for size in _sizes(system))
    raise UnknownScrew(
        f'"{_shown(screw)}" is no screw that the tables have; write it as "10-32", "#10", "1/4-20" or "M5". '
        f"The tables have {sizes}"
    )


def _trimmed(digits: str) -> str:
    return digits.rstrip("0").rstrip(".") if "." in digits else digits


def _shown(text: str) -> str:
    """Return what the user wrote, cut and without characters that could disturb a terminal."""
    return text[:80].encode("unicode_escape").decode("ascii")


@functools.cache
def all_clearances() -> tuple[ClearanceRow, ...]:
    """Return every clearance hole that is a fit of a job, in the order of the table."""
    rows = []
    for row in read("clearance_holes"):
        system = cast(System, row["system"])
        if row["fit"] not in FITS[system]:
            continue  # the older handbook chart is for reading, not a fit
        inch = system == "inch"
        largest = number(row["hole_max_in" if inch else "hole_max_mm"])
        rows.append(
            ClearanceRow(
                system=system,
                screw=row["screw"],
                major=_taken_apart(row["screw"]).major,
                fit=row["fit"],
                drill=row["drill"],
                hole=_drill_dia(row["drill"]),
                hole_max=largest * MM_PER_INCH if inch and largest is not None else largest,
                standard=row["standard"],
                source=f"{row['standard']}, {row['fit']} fit; {row['basis']}: {source_text(row['source'])}",
            )
        )
    return tuple(rows)


def _drill_dia(name: str) -> Fraction:
    found = drills.drill(name)
    if found is None:
        raise ToolFault(f"a trade table names a drill {name!r} that the drill table does not have")
    return found.dia


@functools.cache
def _clearance_index() -> dict[tuple[str, str], ClearanceRow]:
    return {(row.screw, row.fit): row for row in all_clearances()}


@functools.cache
def _sizes(system: System) -> tuple[str, ...]:
    return tuple(dict.fromkeys(row.screw for row in all_clearances() if row.system == system))


def clearance(screw: str, fit: str | None = None) -> ClearanceRow:
    """Return the clearance hole for a screw; without a fit normal (inch) or medium (metric).

    ``screw`` is ``10-32``, ``#10``, ``No. 10``, ``1/4-20``, ``1/4``, ``M5`` or ``M5x0.8``. A thread is
    checked against the tap table, since a wrong one would be bought wrong.

    >>> clearance("10-32").drill, clearance("M5", "fine").drill
    ('#2', '5.3 mm')

    Raises :class:`UnknownScrew` or :class:`UnknownFit`.
    """
    parts = _taken_apart(screw)
    system: System = "metric" if parts.size.startswith("M") else "inch"
    if parts.size not in _sizes(system):
        sizes = ", ".join(_sizes(system))
        raise UnknownScrew(f'no clearance hole for a screw "{parts.text}"; the tables have {sizes}')
    if parts.pitch:
        _thread_row(parts)
    wanted = fit.strip().lower() if fit is not None else USUAL_FIT[system]
    if wanted not in FITS[system]:
        raise UnknownFit(_wrong_fit(fit or "", parts.text, system))
    return _clearance_index()[parts.size, wanted]


def _wrong_fit(fit: str, screw: str, system: System) -> str:
    kind, standard = ("an inch", "ASME B18.2.8") if system == "inch" else ("a metric", "ISO 273")
    fits = ", ".join(FITS[system])
    return f'"{_shown(fit)}" is no fit of {screw}, {kind} screw; by {standard} the fits are {fits}'


@functools.cache
def all_taps() -> tuple[TapRow, ...]:
    """Return every thread with its tap drill, in the order of the table."""
    rows = []
    for row in read("tap_drills"):
        parts, dia = _taken_apart(row["thread"]), _drill_dia(row["tap_drill"])
        pitch = MM_PER_INCH / int(row["tpi"]) if row["tpi"] else Fraction(row["pitch_mm"])
        # As the trade counts it, 100 percent is 3/4 of the height of a sharp V of 60 degrees, on both sides.
        percent = (parts.major - dia) / (Fraction("1.299038") * pitch) * 100
        rows.append(
            TapRow(
                thread=parts.text,
                major=parts.major,
                drill=row["tap_drill"],
                dia=dia,
                percent=percent,
                standard=row["series"],
                source=f"tap drill table, {row['series']}; {row['basis']}: {source_text(row['source'])}",
            )
        )
    return tuple(rows)


def tap(thread: str) -> TapRow:
    """Return the tap drill for a thread: ``10-32``, ``1/4-20``, ``M5`` or ``M5x0.8`` (M5 alone is coarse).

    >>> tap("10-32").drill, tap("M5").drill
    ('#21', '4.2 mm')

    Raises :class:`UnknownScrew`.
    """
    return _thread_row(_taken_apart(thread))


def _thread_row(parts: _Screw) -> TapRow:
    alike = [row for row in all_taps() if _taken_apart(row.thread).size == parts.size]
    for row in alike:
        if row.thread == parts.text or (not parts.pitch and parts.size.startswith("M")):
            return row
    known = ", ".join(row.thread for row in alike)
    if alike and not parts.pitch:
        raise UnknownScrew(
            f'"{parts.text}" is cut with more than one thread; write {known.replace(", ", " or ")}'
        )
    if alike:
        raise UnknownScrew(
            f'no thread "{parts.text}" in the tap table, which has {known}; '
            f'for a clearance hole of any other thread write "{parts.size}"'
        )
    by_size = sorted(all_taps(), key=lambda row: abs(row.major - parts.major))
    near = ", ".join(row.thread for row in by_size[:4])
    raise UnknownScrew(f'no thread "{parts.text}" in the tap table; the nearest are {near}')
