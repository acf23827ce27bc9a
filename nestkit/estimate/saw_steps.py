"""A sheet's saw cuts as a person does them: which piece, which edge at the fence, how far, what it gives."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.layout.offcuts import least_side
from nestkit.layout.result import Cut, CutSheet, PlacedPart
from nestkit.layout.sawing import FENCE_OPENS, Held, held_by, measured_side, shortest_at_fence
from nestkit.text import counted
from nestkit.trade.rules import rule
from nestkit.units import MM_PER_INCH, Unit, decimal_text, fraction_text, grid_down

Box = tuple[Fraction, Fraction, Fraction, Fraction]
"""Left, bottom, right, top in mm, in the sheet's frame."""

FINEST = MM_PER_INCH / 64
"""A fence in inches is set to 1/64."""
FINEST_MM = Fraction(1, 10)
"""A fence in millimetres is set to 0.1 mm."""

EDGES = (("left", "right"), ("lower", "upper"))
"""The edges of a piece that a cut across x and one across y can be measured from."""


@dataclass(frozen=True, slots=True)
class Gained:
    """A piece that a cut leaves: its name, its box, and what is in it.

    ``left_over`` says that a side of it is only what other cuts left, measured by none. ``clear`` is why
    something in it is kept clear, where it holds no part: empty without a word, None where nothing is.
    """

    name: str
    box: Box
    parts: tuple[PlacedPart, ...]
    left_over: bool = False
    clear: str | None = None

    @property
    def size(self) -> tuple[Fraction, Fraction]:
        """Width and height in mm."""
        left, bottom, right, top = self.box
        return right - left, top - bottom

    @property
    def keep(self) -> bool:
        """Say whether it is an offcut worth keeping (R120)."""
        return not self.parts and self.clear is None and grid_down(min(self.size)) >= least_side()

    @property
    def done(self) -> PlacedPart | None:
        """The part that the piece is, sawn to size; None while it is none."""
        return next((p for p in self.parts if (p.width, p.height) == self.size), None)


@dataclass(frozen=True, slots=True)
class SawStep:
    """One cut, ``setting`` mm from ``edge`` of the piece: by a fence, a stop, or a line that is measured.

    ``side`` of the setting is where the blade goes, 0 for left of or below it.
    """

    cut: Cut
    piece: Box
    edge: str
    setting: Fraction
    held: Held
    side: int
    gained: tuple[Gained, ...]

    @property
    def axis(self) -> int:
        """0 for a cut at an x, 1 for one at a y."""
        return "xy".index(self.cut.axis)

    @property
    def along(self) -> Fraction:
        """Length of the piece along the cut."""
        return self.cut.end - self.cut.start

    @property
    def across(self) -> Fraction:
        """Width of the piece across the cut."""
        return self.piece[self.axis + 2] - self.piece[self.axis]

    @property
    def kind(self) -> str:
        """``trim`` for a strip of waste, ``rip`` at a fence, ``cross-cut`` at a stop; a line by length.

        A cut in a piece without parts, which frees what is kept clear, trims nothing.
        """
        held = any(g.parts for g in self.gained)
        if held and self.cut.trim and not any(g.keep for g in self.gained):
            return "trim"
        along_fence = self.along >= self.across if self.held == "line" else self.held == "fence"
        return "rip" if along_fence else "cross-cut"

    @property
    def push_stick(self) -> bool:
        """Say whether hand and blade would come too near each other (R093)."""
        narrowest = rule("R093")
        return self.held == "fence" and self.setting < narrowest.mm(narrowest.typical)


def saw_steps(sheet: CutSheet, kerf: Fraction, unit: Unit) -> tuple[SawStep, ...]:
    """Return the cuts of a sheet in their order, each with the piece it is made in and what it leaves.

    ``unit`` is that of the saw's scale, which says how far its fence opens.
    """
    pieces: dict[str, Box] = {"sheet": (Fraction(0), Fraction(0), sheet.stock.width, sheet.stock.height)}
    sized: dict[str, frozenset[str]] = {"sheet": frozenset()}
    left_over: dict[str, frozenset[str]] = {"sheet": frozenset()}
    held: dict[str, tuple[PlacedPart, ...]] = {"sheet": sheet.parts}
    steps = []
    for cut in sheet.cuts:
        box, before = pieces.pop(cut.piece), sized.pop(cut.piece)
        parts = held.pop(cut.piece)
        gained = tuple(
            _gained(f"{cut.step}{letter}", half, parts, sheet)
            for letter, half in zip("ab", _halves(box, cut, kerf), strict=True)
            if half is not None
        )
        step, measured = _step(cut, box, gained, cut.axis in before, FENCE_OPENS[unit])
        rest = left_over.pop(cut.piece)
        for piece in gained:
            got_size = piece.name == f"{cut.step}{measured}"
            pieces[piece.name], held[piece.name] = piece.box, piece.parts
            sized[piece.name] = before | {cut.axis} if got_size else before
            left_over[piece.name] = rest - {cut.axis} if got_size else rest | {cut.axis}
        step = replace(step, gained=tuple(replace(g, left_over=bool(left_over[g.name])) for g in gained))
        steps.append(step)
    return tuple(steps)


def _halves(box: Box, cut: Cut, kerf: Fraction) -> tuple[Box | None, Box | None]:
    """Return what lies below and above the strip that the cut takes; None where nothing is left."""
    left, bottom, right, top = box
    if cut.axis == "x":
        low: Box = (left, bottom, min(cut.at, right), top)
        high: Box = (max(cut.at + kerf, left), bottom, right, top)
    else:
        low = (left, bottom, right, min(cut.at, top))
        high = (left, max(cut.at + kerf, bottom), right, top)
    return (low if _real(low) else None), (high if _real(high) else None)


def _real(box: Box) -> bool:
    return box[0] < box[2] and box[1] < box[3]


def _inside(box: Box, parts: Sequence[PlacedPart]) -> tuple[PlacedPart, ...]:
    left, bottom, right, top = box
    return tuple(
        p for p in parts if p.x >= left and p.y >= bottom and p.x + p.width <= right and p.y + p.height <= top
    )


def _gained(name: str, box: Box, parts: Sequence[PlacedPart], sheet: CutSheet) -> Gained:
    """Return a piece with the parts in it; without any, with why something in it is kept clear."""
    inside = _inside(box, parts)
    left, bottom, right, top = box
    whys = [
        r.why
        for r in sheet.keep_clear
        if r.left < right and left < r.right and r.bottom < top and bottom < r.top
    ]
    said = ", ".join(dict.fromkeys(why for why in whys if why))
    return Gained(name, box, inside, clear=said if whys and not inside else None)


def _step(
    cut: Cut, box: Box, gained: tuple[Gained, ...], sized: bool, opens: Fraction
) -> tuple[SawStep, str]:
    """Return a cut with its setting, and the letter of the piece that gets its size by it, if one does."""
    axis = "xy".index(cut.axis)
    kept = next((g for g in gained if g.parts), gained[0])
    keep = "ab".index(kept.name[-1])
    sizes = [Fraction(0), Fraction(0)]
    for piece in gained:
        sizes["ab".index(piece.name[-1])] = piece.size[axis]
    side = measured_side((sizes[0], sizes[1]), keep, opens, trim=cut.trim, sized=sized)
    across = box[axis + 2] - box[axis]
    held = held_by(sizes[side], cut.end - cut.start, across, opens, shortest_at_fence())
    if held != "line" or side == 0:
        return SawStep(cut, box, EDGES[axis][side], sizes[side], held, 1 - side, gained), "ab"[side]
    # A wide piece loses its left or lower edge. Where a later cut gives it its size, what comes off counts.
    ends = [(p.x + p.width, p.y + p.height)[axis] for p in kept.parts]
    if max(ends, default=None) == box[axis + 2]:
        return SawStep(cut, box, EDGES[axis][1], sizes[1], held, 0, gained), ""
    off = across - sizes[1]
    return SawStep(cut, box, EDGES[axis][0], off, held, 0, gained), ""


def as_set(setting: Fraction, unit: Unit) -> tuple[str, str]:
    """Return a setting as it is set, and what the rounding leaves, empty where there is none.

    >>> as_set(Fraction("374.65"), "in"), as_set(Fraction("374.7"), "in")
    (('14 3/4 in', ''), ('14 3/4 in', '.002 in under'))
    >>> as_set(Fraction("152.44"), "mm")
    ('152.4 mm', '0.04 mm under')
    """
    near = _nearest(setting, unit)
    out, least, places = abs(near - setting), Fraction(1, 100), 2
    shown = decimal_text(near, 1)
    if unit == "in":
        shown, out, least, places = fraction_text(near / MM_PER_INCH), out / MM_PER_INCH, Fraction(1, 1000), 3
    if out == 0:
        return f"{shown} {unit}", ""
    below = "" if out >= least / 2 else "less than "
    amount = f"{float(max(out, least)):.{places}f}"
    amount = amount.removeprefix("0") if unit == "in" else amount
    return f"{shown} {unit}", f"{below}{amount} {unit} {'over' if near > setting else 'under'}"


def _nearest(setting: Fraction, unit: Unit) -> Fraction:
    """Return the length in mm that a scale or a rule in a unit can be read at."""
    finest = FINEST if unit == "in" else FINEST_MM
    return round(setting / finest) * finest


def stays(steps: Sequence[SawStep], unit: Unit) -> list[bool]:
    """Return for each cut whether fence, stop or measure stay as they were for the cut before it.

    A straight edge leaves fence and stop as they are, but a line is measured anew after them.
    """
    found: list[bool] = []
    on_saw, before = None, None
    for step in steps:
        now = (step.held, _nearest(step.setting, unit))
        found.append(now == (before if step.held == "line" else on_saw))
        before = now
        on_saw = on_saw if step.held == "line" else now
    return found


def counts_of(steps: Sequence[SawStep], unit: Unit) -> str:
    """Return how many cuts a sheet takes and how often the saw is set: ``9 cuts, 4 fence settings``."""
    moved = Counter(s.held for s, stay in zip(steps, stays(steps, unit), strict=True) if not stay)
    said = [counted(len(steps), "cut")]
    said += [counted(moved[held], f"{held} setting") for held in ("fence", "stop") if moved[held]]
    lines = sum(step.held == "line" for step in steps)
    if lines:
        said.append(f"{lines} along a straight edge")
    return ", ".join(said)
