"""What lies on what on a page: every text that meets a mark, another text, or the end of its window."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Circle, Drawing, Fill, Inset, Path, Text
from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point, Rect

HAIR = 0.02
"""Boxes that only touch do not lie on each other."""
LINE = 0.3
"""A window is cut off half a line's width outside of what it shows."""


def windows(page: Drawing) -> list[Inset]:
    """The insets of a page that show the part at full size: neither rulers nor maps."""
    full = (Layer.PART_EDGE, Layer.OPENING, Layer.DRILLED_HOLE, Layer.TILE_EDGE, Layer.NOTE_NO_CUT)
    return [
        m
        for m in page.marks
        if isinstance(m, Inset)
        and m.clip is not None
        and m.scale_x > 0.9
        and any(isinstance(x, Path | Circle) and x.layer in full for x in m.drawing.marks)
    ]


def maps(page: Drawing) -> list[Inset]:
    """The maps of a page: pictures of the part in its pages, one picture in the other."""
    return [
        m
        for m in page.marks
        if isinstance(m, Inset) and any(isinstance(inner, Inset) for inner in m.drawing.marks)
    ]


def covered(page: Drawing) -> list[str]:
    """Return what is wrong on a page, a line for each: what lies on what, what is cut off."""
    found = [wrong for window in windows(page) for wrong in _in_window(window)]
    found += [wrong for inset in maps(page) for wrong in _in_map(inset.drawing)]
    loose = [m for m in page.marks if isinstance(m, Text)]
    for a, b in combinations(loose, 2):
        if a.bounds.grown(-0.05).meets(b.bounds.grown(-0.05)):
            found.append(f"{a.text!r} meets {b.text!r}")
    for inset in page.marks:
        if isinstance(inset, Inset):
            seen = _seen(inset)
            found += [f"{t.text!r} lies on a picture" for t in loose if t.bounds.grown(-0.05).meets(seen)]
    return found


def _seen(inset: Inset) -> Rect:
    """What of a page an inset takes, without the width of its lines."""
    box = inset.clip.grown(-LINE) if inset.clip is not None else None
    return Inset(inset.drawing, inset.at, inset.scale_x, inset.scale_y, box).bounds


def _in_window(window: Inset) -> Iterator[str]:
    clip, marks = window.clip, window.drawing.marks
    texts = [m for m in marks if isinstance(m, Text) and m.bounds.meets(clip.grown(-LINE))]
    circles = [m for m in marks if isinstance(m, Circle)]
    pieces = [(m.layer, a, b) for m in marks if isinstance(m, Path) for a, b in straight(m)]
    # What is engraved stands where the job says, be it on a hole.
    for text in (t for t in texts if t.layer != Layer.MARK):
        box = text.bounds.grown(-HAIR)
        if not clip.grown(HAIR - LINE).holds(box):
            yield f"{text.text!r} is cut off"
        for c in circles:
            if on_circle(c, box):
                yield f"{text.text!r} lies on a circle, {c.layer}"
        for layer, a, b in pieces:
            if enters(a, b, box):
                yield f"{text.text!r} lies on a line, {layer}"
    for a, b in combinations(texts, 2):
        if a.bounds.grown(-HAIR).meets(b.bounds.grown(-HAIR)) and {a.layer, b.layer} != {Layer.MARK}:
            yield f"{a.text!r} meets {b.text!r}"


def _in_map(drawing: Drawing) -> Iterator[str]:
    """A map's numbers lie on no line, unless a blank was put under them, and not on each other."""
    frames = [m for m in drawing.marks if isinstance(m, Path)]
    pieces = [piece for frame in frames for piece in straight(frame)]
    for inner in (m for m in drawing.marks if isinstance(m, Inset)):
        for path in (m for m in inner.drawing.marks if isinstance(m, Path)):
            pieces += [
                tuple(
                    Point(inner.at.x + p.x * inner.scale_x, inner.at.y + p.y * inner.scale_y) for p in piece
                )
                for piece in straight(path)
            ]
    texts = [m for m in drawing.marks if isinstance(m, Text)]
    blanks = [m.bounds.grown(HAIR) for m in drawing.marks if isinstance(m, Fill)]
    for text in texts:
        box = text.bounds.grown(-HAIR)
        blank = any(b.holds(text.bounds) and b.width < text.bounds.width + 1.0 for b in blanks)
        if not blank and any(enters(a, b, box) for a, b in pieces):
            yield f"number {text.text!r} lies on a line of the map"
    for a, b in combinations(texts, 2):
        if a.bounds.grown(-HAIR).meets(b.bounds.grown(-HAIR)):
            yield f"numbers {a.text!r} and {b.text!r} of the map meet"


def straight(path: Path) -> list[tuple[Point, Point]]:
    """A path as straight pieces."""
    if path.closed:
        points = list(Outline(path.vertices).flattened(0.1))
        return list(zip(points, points[1:] + points[:1], strict=True))
    points = [v.point for v in path.vertices]
    return list(pairwise(points))


def enters(a: Point, b: Point, box: Rect) -> bool:
    """Say whether a straight piece enters a box."""
    start, end = 0.0, 1.0
    for low, high, at, way in (
        (box.left, box.right, a.x, b.x - a.x),
        (box.bottom, box.top, a.y, b.y - a.y),
    ):
        if way == 0.0:
            if not low < at < high:
                return False
            continue
        near, far = sorted(((low - at) / way, (high - at) / way))
        start, end = max(start, near), min(end, far)
    return start < end


def on_circle(circle: Circle, box: Rect) -> bool:
    """Say whether a box meets a circle's line; of a hole, anything of it."""
    centre = circle.centre
    near = centre.to(Point(min(max(centre.x, box.left), box.right), min(max(centre.y, box.bottom), box.top)))
    far = max(centre.to(Point(x, y)) for x in (box.left, box.right) for y in (box.bottom, box.top))
    return near < circle.radius and (far > circle.radius or circle.layer == Layer.DRILLED_HOLE)
