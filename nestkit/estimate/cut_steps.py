"""Sticks that are cut alike, and their cuts in two ways of working: stick by stick, or by settings of a stop.

Whichever way, all pieces of a stick come off one end, the longest first: an order within a stick is free.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from nestkit.geometry.mitre import Mitre
from nestkit.layout.bars.result import BarsLayout, CutStick, PlacedTube, UnplacedTube
from nestkit.parts.tube import Tube
from nestkit.stock.bar import Bar

TIGHT = Fraction(1, 4)
"""Share of the kerf that a cut may take more than was reckoned (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Made:
    """So many pieces that become one part, of one hand."""

    tube: Tube
    opposite_hand: bool
    count: int


@dataclass(frozen=True, slots=True)
class CutRow:
    """Pieces of one length, in mm: how many each stick gives, and what those of all sticks become."""

    length: Fraction
    each: int
    parts: tuple[Made, ...]


@dataclass(frozen=True, slots=True)
class SticksAlike:
    """Sticks of one stock that give the same lengths, said once. ``rows`` are longest first."""

    stock: Bar
    numbers: tuple[int, ...]
    on_hand: bool
    kerf: Fraction
    rows: tuple[CutRow, ...]
    left: Fraction
    kept: bool

    @property
    def count(self) -> int:
        """How many sticks."""
        return len(self.numbers)

    @property
    def pieces(self) -> int:
        """How many pieces one stick gives."""
        return sum(row.each for row in self.rows)

    @property
    def totals(self) -> tuple[Fraction, ...]:
        """How much of a stick is gone after the trim and each row, a cut after each piece, in mm."""
        so_far = self.stock.trim
        found = []
        for row in self.rows:
            so_far += row.each * (row.length + self.kerf)
            found.append(so_far)
        return tuple(found)

    @property
    def used(self) -> Fraction:
        """What trims, lengths and cuts take of a stick, in mm; the last cut may fall on its end."""
        return self.stock.length - self.left

    @property
    def beyond(self) -> Fraction:
        """How much of the stick lies beyond its last piece, in mm: cut, rest and trim."""
        return self.stock.length - self.totals[-1] + self.kerf

    @property
    def last(self) -> Literal["cut", "shave", "none"]:
        """How the last piece gets its length: by a cut, by less than a blade's width, by itself."""
        if self.beyond <= 0:
            return "none"
        return "shave" if self.beyond < self.kerf else "cut"

    @property
    def cuts(self) -> int:
        """How many cuts one stick takes: the one that squares its end, and one a piece."""
        return (self.stock.trim > 0) + self.pieces - (self.last == "none")

    @property
    def tight(self) -> bool:
        """Say whether a kerf a little wider than reckoned would leave the last piece too short."""
        return self.beyond - self.kerf < self.cuts * self.kerf * TIGHT


@dataclass(frozen=True, slots=True)
class Take:
    """What a setting of the stop takes from sticks: ``each`` pieces of every one.

    ``before`` and ``after`` are the settings at which the sticks are cut before and after; None for none.
    """

    sticks: SticksAlike
    each: int
    before: int | None
    after: int | None

    @property
    def pieces(self) -> int:
        """Pieces of all these sticks."""
        return self.each * self.sticks.count


@dataclass(frozen=True, slots=True)
class StopSetting:
    """One setting of the stop, numbered from 1: its length in mm, the sticks cut at it, the parts."""

    number: int
    length: Fraction
    takes: tuple[Take, ...]
    parts: tuple[Made, ...]

    @property
    def pieces(self) -> int:
        """Pieces of this length in all."""
        return sum(take.pieces for take in self.takes)


@dataclass(frozen=True, slots=True)
class Mitred:
    """Parts that get a mitre after they were sawn square: of end 0 and end 1, as this hand has them."""

    part: Made
    ends: tuple[Mitre | None, Mitre | None]


def sticks_alike(laid: BarsLayout) -> tuple[SticksAlike, ...]:
    """Return the sticks of a group, those that give the same lengths together, in the layout's order."""
    found: dict[object, list[CutStick]] = {}
    for stick in laid.sticks:
        lengths = tuple(sorted(Counter(part.length for part in stick.parts).items(), reverse=True))
        key = stick.stock.name, stick.on_hand, lengths, stick.left, stick.kept
        found.setdefault(key, []).append(stick)
    return tuple(_alike(sticks, laid.group.kerf) for sticks in found.values())


def _alike(sticks: Sequence[CutStick], kerf: Fraction) -> SticksAlike:
    first = sticks[0]
    by_length: dict[Fraction, list[PlacedTube]] = {}
    for stick in sticks:
        for part in stick.parts:
            by_length.setdefault(part.length, []).append(part)
    rows = tuple(
        CutRow(length, len(parts) // len(sticks), made_of(parts))
        for length, parts in sorted(by_length.items(), reverse=True)
    )
    numbers = tuple(sorted(stick.number for stick in sticks))
    return SticksAlike(first.stock, numbers, first.on_hand, kerf, rows, first.left, first.kept)


def made_of(parts: Iterable[PlacedTube | UnplacedTube]) -> tuple[Made, ...]:
    """Return parts counted by name and hand, in the order in which they come."""
    return _together(Made(part.tube, part.opposite_hand, 1) for part in parts)


def _together(parts: Iterable[Made]) -> tuple[Made, ...]:
    counts: Counter[tuple[str, bool]] = Counter()
    first: dict[tuple[str, bool], Made] = {}
    for part in parts:
        key = part.tube.name, part.opposite_hand
        counts[key] += part.count
        first.setdefault(key, part)
    return tuple(replace(part, count=counts[key]) for key, part in first.items())


def stop_settings(sticks: Sequence[SticksAlike]) -> tuple[StopSetting, ...]:
    """Return the settings of the stop, one a length, the longest first.

    So each stick, too, is cut longest first, and no length is ever set twice: fewer settings there cannot be.
    """
    lengths = sorted({row.length for alike in sticks for row in alike.rows}, reverse=True)
    number = {length: n for n, length in enumerate(lengths, 1)}
    takes: dict[Fraction, list[Take]] = {length: [] for length in lengths}
    parts: dict[Fraction, list[Made]] = {length: [] for length in lengths}
    for alike in sticks:
        at = [None, *(number[row.length] for row in alike.rows), None]
        for place, row in enumerate(alike.rows):
            takes[row.length].append(Take(alike, row.each, at[place], at[place + 2]))
            parts[row.length] += row.parts
    return tuple(
        StopSetting(number[length], length, tuple(takes[length]), _together(parts[length]))
        for length in lengths
    )


def mitred(laid: BarsLayout) -> tuple[Mitred, ...]:
    """Return the placed parts of a group that have a mitre, by name and hand."""
    cut = (part for stick in laid.sticks for part in stick.parts if any(part.tube.mitres))
    return tuple(
        Mitred(made, (made.tube.mirrored() if made.opposite_hand else made.tube).mitres)
        for made in made_of(cut)
    )
