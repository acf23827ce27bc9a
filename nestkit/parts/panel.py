"""A panel: a flat part cut from sheet."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point
from nestkit.parts.copies import Copies
from nestkit.parts.holes import Hole, Mark, Opening
from nestkit.parts.methods import Method

Grain = Literal["none", "x", "y"]
Turn = Literal["none", "half", "quarter", "any"]
Shape = Literal["rectangle", "disc", "points", "outline"]


@dataclass(frozen=True, slots=True)
class DrawnFrom:
    """The file that a panel's outline comes from, as the job names it, and what is to be said of the reading.

    Notes say the unit taken, which part it is, what was joined, taken out or left out. ``unit_mm`` is
    how long one unit of the drawing was taken to be.
    """

    file: str
    notes: tuple[str, ...]
    unit_mm: float


@dataclass(frozen=True, slots=True)
class Panel(Copies):
    """A flat part as drawn, in millimetres, origin at the lower left of its bounding box.

    ``width`` and ``height`` are the exact bounding box; ``thickness`` is the real one of its stock
    where stock was found, else as the job names it. ``place`` is where the job file has it.
    ``shape`` is what the outline was given as (a rectangle may have notches and cut corners); an outline
    from a file is ``drawn``.
    ``method`` is how its holes are marked and made, None: as the job usually does.
    """

    name: str
    place: str
    material: str
    thickness: Fraction
    width: Fraction
    height: Fraction
    shape: Shape
    outline: Outline
    holes: tuple[Hole, ...] = ()
    openings: tuple[Opening, ...] = ()
    marks: tuple[Mark, ...] = ()
    used_for: str = ""
    quantity: int = 1
    opposite_hand: int = 0
    spare: int = 0
    spare_if_room: int = 0
    faces: Literal["differ", "alike"] = "differ"
    grain: Grain = "none"
    turn: Turn = "quarter"
    revision: str = ""
    line: int | None = None
    method: Method | None = None
    drawn: DrawnFrom | None = None

    @property
    def outlines(self) -> tuple[Outline, ...]:
        """All closed lines of the part: its own outline, then those of its openings."""
        return (self.outline, *(opening.outline for opening in self.openings))

    @property
    def as_drawn(self) -> int:
        """Copies as drawn, without spares; where one hand serves as the other, those of both."""
        return self.quantity + (self.opposite_hand if self.either_hand else 0)

    @property
    def either_hand(self) -> bool:
        """Say whether both hands are one part: the opposite one is wanted, and is this part turned over."""
        return self.faces == "alike" and self.opposite_hand > 0

    @property
    def hands(self) -> tuple[bool, ...]:
        """The hands that are made, each with prints of its own: False as drawn, True the opposite one.

        Of a part that is either hand when it is turned over only the drawn one is printed.
        """
        return (False,) if self.either_hand else self.hands_apart

    def mirrored(self) -> Panel:
        """Return the panel as its opposite hand: x becomes width - x, hole numbers stay."""
        width = float(self.width)
        return replace(
            self,
            outline=self.outline.mirrored(width),
            holes=tuple(replace(h, at=Point(width - h.at.x, h.at.y)) for h in self.holes),
            openings=tuple(replace(o, outline=o.outline.mirrored(width)) for o in self.openings),
            # A text cannot be mirrored and still be read: it starts where its end would lie.
            marks=tuple(replace(m, at=Point(width - m.at.x - mark_width(m), m.at.y)) for m in self.marks),
        )


def mark_width(mark: Mark) -> float:
    """Return the width that a mark's text takes, at 0.6 of its height a letter."""
    return 0.6 * mark.height * len(mark.text)


def allowed_turns(turn: Turn, part_grain: Grain, sheet_grain: Grain) -> tuple[int, ...]:
    """Return the quarter turns in degrees that turn and grain leave to a part on a sheet.

    With grain on both, the part's grain must lie along the sheet's. ``any`` counts as quarter
    here: free angles are for the layout of true shapes.
    """
    by_turn = {"none": (0,), "half": (0, 180), "quarter": (0, 90, 180, 270), "any": (0, 90, 180, 270)}[turn]
    if "none" in (part_grain, sheet_grain):
        return by_turn
    by_grain = (0, 180) if part_grain == sheet_grain else (90, 270)
    return tuple(t for t in by_turn if t in by_grain)
