"""A placed part as it lies: its true outline and openings in the sheet's frame."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nestkit.layout.result import PlacedPart
from nestkit.parts.lying import body_at, is_box

if TYPE_CHECKING:
    from nestkit.geometry.clearance import Body


def lies_as_box(part: PlacedPart) -> bool:
    """Say whether a part is an upright box as it lies, with no openings: such places are exact."""
    return is_box(part.panel, part.turn)


def body_of(part: PlacedPart) -> Body:
    """Return a part's edge and openings: mirrored if opposite hand, turned, its box moved to its place."""
    return body_at(part.panel, part.turn, (part.x, part.y), opposite_hand=part.opposite_hand)
