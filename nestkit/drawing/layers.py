"""What a mark is for, and how that looks in black and white."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Layer(StrEnum):
    """The purpose of a mark. The first five are the layers of DXF files; the rest is for prints."""

    PART_EDGE = "PART_EDGE"
    OPENING = "OPENING"
    DRILLED_HOLE = "DRILLED_HOLE"
    MARK = "MARK"
    NOTE_NO_CUT = "NOTE_NO_CUT"
    HOLDING_TAB = "HOLDING_TAB"
    """A short line across a part's edge where a tab shall stay, in DXF files only if any are asked for."""
    HEAVY = "HEAVY"
    """What the eye should find first: the sheet's edge, the datum bracket."""
    FINE = "FINE"
    """Punch crosses, ticks, rulers: as thin as prints well."""
    SAW_CUT = "SAW_CUT"
    TILE_EDGE = "TILE_EDGE"
    """Where a page ends on its neighbour."""
    HATCH = "HATCH"
    """Waste and offcuts."""
    LABEL = "LABEL"
    """Texts."""
    SECOND_PART = "SECOND_PART"
    """The second part in the picture of a joint: heavy dashes that show on the first one's lines."""
    THIRD_PART = "THIRD_PART"
    """The part behind these: dots."""
    LATER = "LATER"
    """A hole that is not marked here: it is drilled through another part."""


@dataclass(frozen=True, slots=True)
class Style:
    """How a layer is drawn: line width and dashes in mm on paper, grey from 0 (black) to 1 (white)."""

    line: float
    dash: tuple[float, ...] = ()
    grey: float = 0.0


STYLES: dict[Layer, Style] = {
    Layer.PART_EDGE: Style(0.35),
    Layer.OPENING: Style(0.3),
    Layer.DRILLED_HOLE: Style(0.2),
    Layer.MARK: Style(0.25),
    Layer.NOTE_NO_CUT: Style(0.2, (3.0, 1.5)),
    Layer.HOLDING_TAB: Style(0.9),
    Layer.HEAVY: Style(0.7),
    Layer.FINE: Style(0.15),
    Layer.SAW_CUT: Style(0.5, (4.0, 1.0, 1.0, 1.0)),
    Layer.TILE_EDGE: Style(0.2, (1.5, 1.5)),
    Layer.HATCH: Style(0.15, (), 0.45),
    Layer.LABEL: Style(0.15),
    Layer.SECOND_PART: Style(0.6, (1.2, 1.0)),
    Layer.THIRD_PART: Style(0.4, (0.4, 0.9)),
    Layer.LATER: Style(0.15, (0.8, 0.8)),
}
