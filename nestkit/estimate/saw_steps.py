"""A sheet's saw cuts as a person does them: which piece, which edge at the fence, how far."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from nestkit.layout.result import Cut, CutSheet, PlacedPart
from nestkit.trade.rules import rule
from nestkit.units import MM_PER_INCH, Unit, decimal_text, fraction_text, length_text

Box = tuple[Fraction, Fraction, Fraction, Fraction]
"""Left, bottom, right, top in mm, in the sheet's frame."""

FINEST = MM_PER_INCH / 64
"""A fence in inches is set to 1/64."""
FINEST_MM = Fraction(1, 10)
"""A fence in millimetres is set to 0.1 mm."""


@dataclass(frozen=True, slots=True)
class Gained:
    """A piece that a cut leaves: its name, its box, and what is in it."""

    name: str
    box: Box
    parts: tuple[PlacedPart, ...]


@dataclass(frozen=True, slots=True)
class SawStep:
    """One cut. ``edge`` of the piece lies at the fence (or stop), ``setting`` mm from the blade."""

    cut: Cut
    piece: Box
    edge: str
    setting: Fraction
    gained: tuple[Gained, ...]

    @property
    def along(self) -> Fraction:
        """Length of the piece along the cut."""
        return self.cut.end - self.cut.start

    @property
    def across(self) -> Fraction:
        """Width of the piece across the cut."""
        left, bottom, right, top = self.piece
        return right - left if self.cut.axis == "x" else top - bottom

    @property
    def kind(self) -> str:
        """``trim``, ``rip`` (along the piece's longer side) or ``cross-cut``."""
        if self.cut.trim:
            return "trim"
        return "rip" if self.along >= self.across else "cross-cut"

    @property
    def on_sled(self) -> bool:
        """Say whether what runs along the fence is shorter than wide, or too short (R092, R094)."""
        shortest = rule("R092")
        return self.along < self.setting or self.along < shortest.mm(shortest.typical)

    @property
    def held(self) -> str:
        """What the edge lies at: the fence, or the stop of a sled."""
        return "stop" if self.on_sled else "fence"

    @property
    def push_stick(self) -> bool:
        """Say whether hand and blade would come too near each other (R093)."""
        narrowest = rule("R093")
        return self.setting < narrowest.mm(narrowest.typical)


def saw_steps(sheet: CutSheet, kerf: Fraction) -> tuple[SawStep, ...]:
    """Return the cuts of a sheet in their order, each with the piece it is made in and what it leaves."""
    pieces: dict[str, Box] = {"sheet": (Fraction(0), Fraction(0), sheet.stock.width, sheet.stock.height)}
    steps = []
    for cut in sheet.cuts:
        box = pieces.pop(cut.piece)
        low, high = _halves(box, cut, kerf)
        gained = []
        for half, side in ((low, "a"), (high, "b")):
            if half is not None:
                name = f"{cut.step}{side}"
                pieces[name] = half
                gained.append(Gained(name, half, _inside(half, sheet.parts)))
        steps.append(_step(cut, box, tuple(gained)))
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


def _step(cut: Cut, box: Box, gained: tuple[Gained, ...]) -> SawStep:
    """Put the piece that is to keep its size at the fence: the lower one, unless only the other has parts."""
    kept = next((g for g in gained if g.name.endswith("a") and g.parts), None) or next(
        (g for g in gained if g.parts), gained[0]
    )
    low = kept.name.endswith("a")
    across = 0 if cut.axis == "x" else 1
    edges = ("left", "right") if cut.axis == "x" else ("lower", "upper")
    return SawStep(cut, box, edges[0] if low else edges[1], kept.box[across + 2] - kept.box[across], gained)


def setting_text(setting: Fraction, unit: Unit) -> str:
    """Return a fence setting as it is set, with the rounding where there is any.

    >>> setting_text(Fraction("374.65"), "in"), setting_text(Fraction("374.7"), "in")
    ('14 3/4 in', '14 3/4 in (.002 under)')
    >>> setting_text(Fraction("152.44"), "mm")
    '152.4 mm (0.04 under)'
    """
    finest = FINEST if unit == "in" else FINEST_MM
    near = round(setting / finest) * finest
    shown = fraction_text(near / MM_PER_INCH) if unit == "in" else decimal_text(near, 1)
    out = abs(near - setting)
    if out == 0:
        return f"{shown} {unit}"
    amount = f"{float(out / MM_PER_INCH):.3f}".removeprefix("0") if unit == "in" else f"{float(out):.2f}"
    return f"{shown} {unit} ({amount} {'over' if near > setting else 'under'})"


def sentence_of(step: SawStep, unit: Unit) -> str:
    """Return a cut in a sentence: piece, edge at the fence, setting, what it gives."""
    piece = "the sheet" if step.cut.piece == "sheet" else f"piece {step.cut.piece}"
    gives = " and ".join(f"{g.name} ({_content(g, unit)})" for g in step.gained)
    return (
        f"Cut {step.cut.step}: {step.kind} {piece}, {step.edge} edge at the {step.held}, "
        f"{setting_text(step.setting, unit)}. Gives {gives}."
    )


def care_of(step: SawStep) -> str:
    """Return what to mind at a cut, empty where there is nothing out of the ordinary."""
    if step.on_sled:
        return "Sled or mitre gauge with a stop block; not against the fence."
    return "Push stick." if step.push_stick else ""


def _content(gained: Gained, unit: Unit) -> str:
    """What a piece holds: the part it is, how many parts are still in it, or what is left over."""
    left, bottom, right, top = gained.box
    if not gained.parts:
        size = " x ".join(length_text(side, unit) for side in (right - left, top - bottom))
        return f"rest {size} {unit}"
    if len(gained.parts) > 1:
        return f"{len(gained.parts)} parts"
    part = gained.parts[0]
    hand = ", OPPOSITE HAND" if part.opposite_hand else ""
    ready = (part.width, part.height) == (right - left, top - bottom)
    return f"{part.panel.name} {part.copy}{hand}" + ("" if ready else ", to be cut")
