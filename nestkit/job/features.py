"""Slots, cut-outs, notches and marks of a panel."""

from __future__ import annotations

from fractions import Fraction
from typing import get_args

from nestkit.geometry.notches import Notch
from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import CornerName, SideName, corners_cut, disc, rectangle, slot
from nestkit.job.entry import Entry
from nestkit.job.polygon import read_polygon
from nestkit.job.values import choice, length, number, pair, text
from nestkit.parts.holes import Mark, Opening

LONGEST_MARK = 120


def read_openings(panel: Entry) -> tuple[Opening, ...]:
    """Return slots, then cut-outs, in file order."""
    found = []
    for entry in panel.children("slots", "slots"):
        outline = _slot(entry)
        if outline is not None:
            found.append(Opening("slot", outline, entry.place))
    for entry in panel.children("cutouts", "cutouts"):
        outline = _cutout(entry)
        if outline is not None:
            found.append(Opening("cutout", outline, entry.place))
    return tuple(found)


def _slot(entry: Entry) -> Outline | None:
    at = pair(entry, "at", "place", required=True)
    long = length(entry, "length", required=True)
    wide = length(entry, "width", required=True)
    angle = number(entry, "angle_deg", 0, least=-360, most=360, remedy="Write degrees from -360 to 360")
    if at is None or long is None or wide is None or angle is None:
        return None
    if long <= wide:
        remedy = "length is overall, round ends included; for a round hole write [[panel.holes]] with dia"
        entry.wrong("length", "a slot is longer than it is wide", remedy[:1].upper() + remedy[1:])
        return None
    return slot(Point(float(at[0]), float(at[1])), float(long), float(wide), float(angle))


def _cutout(entry: Entry) -> Outline | None:
    which = entry.one_of(("size", "disc", "points"), "Say what is cut out: size, disc or points")
    if "corner_radius" in entry and which in ("disc", "points"):
        entry.wrong("corner_radius", f"a cut-out by {which} has no corners to round", "Leave it out")
    if "at" in entry and which == "points":
        entry.wrong("at", "points say where they are", "Leave at out")
    at = pair(entry, "at", "place", required=which in ("size", "disc"))
    place = Point(float(at[0]), float(at[1])) if at else None
    # Where two shapes stand, each is still read, so that its own mistakes show in the same run.
    found = read_polygon(entry, "points")
    dia = length(entry, "disc")
    size = pair(entry, "size")
    radius = read_radius(entry, size)
    if which == "points":
        return corners_cut([Point(float(x), float(y)) for x, y in found]) if found else None
    if which == "disc":
        return disc(float(dia), centre=place) if place and dia is not None else None
    if which is None or place is None or size is None or radius is None:
        return None
    return rectangle(float(size[0]), float(size[1]), radius=float(radius), at=place)


def read_radius(
    entry: Entry, size: tuple[Fraction, Fraction] | None, key: str = "corner_radius"
) -> Fraction | None:
    """Return a corner radius (or chamfer), 0 where none is given; None where it is wrong."""
    if key not in entry:
        return Fraction(0)
    radius = length(entry, key, "amount")
    if radius is not None and size is not None and 2 * radius > min(size):
        entry.wrong(key, "it is more than half the shorter side", "Make it smaller, or use disc")
        return None
    return radius


def read_notches(panel: Entry) -> tuple[Notch, ...]:
    """Return the notches of a panel that have no mistake in themselves."""
    found = []
    for entry in panel.children("notches", "notches"):
        which = entry.one_of(("corner", "side"), "Say where it is: corner, or side and at")
        size = pair(entry, "size", required=True)
        radius = read_radius(entry, None)
        # Where both stand, both are still read, so that their own mistakes show in the same run.
        corner: CornerName | None = (
            choice(entry, "corner", get_args(CornerName)) if "corner" in entry else None
        )
        side: SideName | None = choice(entry, "side", get_args(SideName)) if "side" in entry else None
        at: Fraction | None = Fraction(0)
        if which == "corner" and "at" in entry:
            entry.wrong("at", "a notch in a corner needs no place", "Leave at out")
        elif which == "side" or "at" in entry:
            at = length(entry, "at", "amount", required=True)
        where: CornerName | SideName | None = corner or side
        if where and size and radius is not None and at is not None:
            found.append(Notch(where, float(size[0]), float(size[1]), float(at), float(radius)))
    return tuple(found)


def read_marks(panel: Entry) -> tuple[Mark, ...]:
    """Return the texts that are engraved or written on the panel."""
    found = []
    for entry in panel.children("marks", "marks"):
        at = pair(entry, "at", "place", required=True)
        words = text(entry, "text", required=True, longest=LONGEST_MARK)
        height = length(entry, "height", required=True)
        if at and words and height is not None:
            found.append(Mark(Point(float(at[0]), float(at[1])), words, float(height)))
    return tuple(found)
