"""What a check finds, and the words that all checks share."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal, Protocol

from nestkit.geometry.points import Point
from nestkit.job.model import Group, Job
from nestkit.parts.holes import Drill, Opening
from nestkit.parts.panel import Panel
from nestkit.text import number_list
from nestkit.trade.rules import Rule
from nestkit.units import Unit, length_text

Level = Literal["error", "advice"]

AS_DRAWN = "as drawn"
"""The source of a finding that is plain measuring."""

NOTHING = 1e-6
"""Millimetres below which a distance is none."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found: an *error* cannot be made as described, an *advice* is a rule of thumb.

    ``rule`` is the number in the table of rules, empty for plain measuring; ``place`` is where in
    the job; ``source`` says what stands behind it.
    """

    level: Level
    rule: str
    place: str
    text: str
    remedy: str
    source: str


Check = Callable[[Job], Iterator[Finding]]
"""One rule: yields at most one finding for a panel (of its names: one for each)."""


def measured(place: str, text: str, remedy: str) -> Finding:
    """Return an error that needs no rule, only measuring."""
    return Finding("error", "", place, text, remedy, AS_DRAWN)


def by_rule(level: Level, rule: Rule, place: str, text: str, remedy: str) -> Finding:
    """Return a finding by a rule of the table, with what stands behind the rule."""
    return Finding(level, rule.id, place, text, remedy, rule.behind())


def panels_with_group(job: Job) -> Iterator[tuple[Panel, Group]]:
    """Yield every panel with the group that says how it is cut."""
    for group in job.groups:
        for panel in group.panels:
            yield panel, group


class AnyHole(Protocol):
    """A hole of a panel or of a tube, as far as its number and its drill."""

    @property
    def number(self) -> int:
        """Its number on every print."""

    @property
    def drill(self) -> Drill:
        """What makes it."""


@dataclass(frozen=True, slots=True)
class Holed:
    """A panel or a tube with holes: where it is in the job, and what makes its holes.

    ``by_hand``: its holes are all drilled by hand; ``cutter`` is the size of a cutter that makes the others.
    """

    place: str
    holes: tuple[AnyHole, ...]
    by_hand: bool
    cutter: float | None = None


def parts_with_holes(job: Job) -> Iterator[Holed]:
    """Yield every panel, then every tube; a tube is always drilled by hand."""
    ways = {panel.name: group.way for panel, group in panels_with_group(job)}
    for panel in job.panels:
        way = ways[panel.name]
        cutter = float(way.kerf) if way.round_tool else None
        yield Holed(panel.place, panel.holes, way.how in ("saw", "jigsaw"), cutter)
    for tube in job.tubes:
        yield Holed(tube.place, tube.holes, True)


def holes_said(holes: Iterable[AnyHole]) -> str:
    """Return ``hole 3`` or ``holes 1 to 4, 7``."""
    numbers = {hole.number for hole in holes}
    return f"{'hole' if len(numbers) == 1 else 'holes'} {number_list(numbers)}"


def opening_said(opening: Opening, panel: Panel) -> str:
    """Return which opening of its panel it is: ``slot 2``, ``cut-out 1``."""
    words = opening.place.removeprefix(panel.place).lstrip(", ")
    return words.replace("cutouts", "cut-out").replace("slots", "slot") or opening.kind


def place_said(at: Point, unit: Unit) -> str:
    """Return a place on a part, x and y from the lower left of its box: ``at 1 1/2, 3``."""
    return places_said((at,), unit)


def places_said(places: Iterable[Point], unit: Unit, most: int = 3) -> str:
    """Return places on a part, cut after some: ``at 1 1/2, 3; 4, 5 and 2 more``."""
    kept = list(dict.fromkeys(f"{length_text(at.x, unit)}, {length_text(at.y, unit)}" for at in places))
    rest = f" and {len(kept) - most} more" if len(kept) > most else ""
    return f"at {'; '.join(kept[:most])}{rest}"


def listed(words: Iterable[str], most: int = 4) -> str:
    """Return words with commas, cut after some: ``a, b, c, d and 3 more``.

    >>> listed("abcdef", 4), listed("ab")
    ('a, b, c, d and 2 more', 'a, b')
    """
    kept = list(words)
    rest = len(kept) - most
    return f"{', '.join(kept[:most])} and {rest} more" if rest > 0 else ", ".join(kept)
