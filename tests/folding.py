"""Folding a flat template back round its tube: where its marks lie in space.

Written apart from the unrolling in :mod:`nestkit.geometry.wrap`, of whose results it uses sizes only, so
that each proves the other. Frame as in :mod:`nestkit.geometry.section`.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from nestkit.geometry.points import Point
from nestkit.geometry.round_wrap import RoundWrap
from nestkit.geometry.wrap import Strip, Wrap


class Place(NamedTuple):
    """A place in space in mm: x along the tube from end 0, y away, z up, from the middle of its section."""

    x: float
    y: float
    z: float


def fold_strip(strip: Strip, point: Point) -> Place:
    """Return where a mark lies once the strip is laid between the edges of its face."""
    half_a, half_b = float(strip.section.a) / 2, float(strip.section.b) / 2
    from_middle = point.y - (half_a if strip.face in "AC" else half_b)
    if strip.face == "A":
        return Place(point.x, from_middle, half_b)
    if strip.face == "C":
        return Place(point.x, -from_middle, -half_b)
    # Upwards on B is up; D is seen from behind the tube, rolled over the top, so that up is down.
    return Place(point.x, -half_a, from_middle) if strip.face == "B" else Place(point.x, half_a, -from_middle)


def fold_wrap(wrap: Wrap, point: Point) -> Place:
    """Return where a mark lies once the paper is folded over the corners.

    Walks along the outside of the section from the paper's upper edge, flat by flat and corner by corner,
    until the paper down to the mark is used up.
    """
    a, b, r = float(wrap.section.a), float(wrap.section.b), wrap.corner
    open_ends = wrap.section.kind == "angle"
    sides = {"A": a, "B": b, "C": a, "D": b}
    walked = _pieces([sides[f] for f in wrap.faces], r, wrap.fold, open_ends)
    left = sum(paper for paper, _, _ in walked) - point.y
    y, z, heading = _start(wrap.faces[0], a, b, r, open_ends)
    for paper, straight, turn in walked:
        share = min(1.0, left / paper) if paper else 1.0
        y, z, heading = _step(y, z, heading, straight * share, turn * share, r)
        left -= paper * share
        if share < 1.0:
            break
    return Place(point.x, y, z)


def _pieces(
    widths: list[float], radius: float, fold: float, open_ends: bool
) -> list[tuple[float, float, float]]:
    """Return the way around as pieces: the paper that each takes, how far straight on, how far it turns."""
    corner = (math.pi * radius / 2 + fold, 0.0, math.pi / 2)
    half = (corner[0] / 2, 0.0, math.pi / 4)
    way: list[tuple[float, float, float]] = [] if open_ends else [half]
    for i, width in enumerate(widths):
        rounded = 1 if open_ends else 2
        way.append((width - rounded * radius, width - rounded * radius, 0.0))
        if i + 1 < len(widths):
            way.append(corner)
    return way if open_ends else [*way, half]


def _start(face: str, a: float, b: float, radius: float, open_ends: bool) -> tuple[float, float, float]:
    """Return where the paper's upper edge lies and which way it goes on, as an angle in the y-z plane."""
    if open_ends:
        return a / 2, b / 2, math.pi
    centres = {"A": (1, 1), "B": (-1, 1), "C": (-1, -1), "D": (1, -1)}
    side_y, side_z = centres[face]
    y, z = side_y * (a / 2 - radius), side_z * (b / 2 - radius)
    # Half way round the corner before the face, on the diagonal that looks out of it.
    out = math.atan2(side_z, side_y)
    return y + radius * math.cos(out), z + radius * math.sin(out), out + math.pi / 2


def _step(
    y: float, z: float, heading: float, straight: float, turn: float, radius: float
) -> tuple[float, float, float]:
    """Return place and heading after a straight piece or a left turn about a centre on the left."""
    if not turn:
        return y + straight * math.cos(heading), z + straight * math.sin(heading), heading
    side = heading + math.pi / 2
    centre_y, centre_z = y + radius * math.cos(side), z + radius * math.sin(side)
    after = side + turn
    return (
        centre_y - radius * math.cos(after),
        centre_z - radius * math.sin(after),
        heading + turn,
    )


def fold_round(wrap: RoundWrap, point: Point) -> Place:
    """Return where a mark lies once the paper is round the tube with its edges together at the seam."""
    radius = float(wrap.section.a) / 2
    # Downwards on the paper is on from A, which looks up, towards B, which looks towards you.
    from_seam = 2 * math.pi * (1 - point.y / wrap.girth)
    turned = math.radians(wrap.seam_deg) + from_seam
    return Place(point.x, radius * math.cos(turned + math.pi / 2), radius * math.sin(turned + math.pi / 2))
