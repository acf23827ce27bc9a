"""Jobs of random outlines with arcs and openings; a judge of layouts that knows shapely and the job alone."""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

import shapely
from shapely import affinity

from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import disc, rectangle, slot
from nestkit.job.model import Group
from nestkit.layout.result import CutSheet, GroupLayout, PlacedPart
from nestkit.parts.panel import Panel
from tests.layout.made import group, panel, sheet
from tests.layout.shapes.shaped import shaped

STRAY = 1e-4
"""Millimetres by which chords stray from arcs where layouts are judged: always to the arc's inner side."""
SLIP = 1e-5
"""Millimetres that may lack besides: places are written in millionths."""
GRID = 1e-8
"""Of overlays, in mm: without one GEOS 3.14 takes a piece that touches another for common to both."""


def points_of(outline: Outline, stray: float = STRAY) -> list[tuple[float, float]]:
    """Return points along an outline; an arc is halved until no chord is further from it than ``stray``."""
    ends = outline.vertices[1:] + outline.vertices[:1]
    pairs = zip(outline.vertices, ends, strict=True)
    return [p for a, b in pairs for p in _halved((a.x, a.y), (b.x, b.y), a.bulge, stray)]


def _halved(
    a: tuple[float, float], b: tuple[float, float], bulge: float, stray: float
) -> Iterator[tuple[float, float]]:
    # The arc's highest point over its chord is the bulge times half the chord.
    if abs(bulge) * math.dist(a, b) / 2 <= stray:
        yield a
        return
    dx, dy = b[0] - a[0], b[1] - a[1]
    top = ((a[0] + b[0] + bulge * dy) / 2, (a[1] + b[1] - bulge * dx) / 2)
    half = math.tan(math.atan(bulge) / 2)
    yield from _halved(a, top, half, stray)
    yield from _halved(top, b, half, stray)


def area_of(part: PlacedPart) -> shapely.Polygon:
    """Return where a part lies: mirrored, turned, the lower left of its box moved to its place."""
    drawn = shapely.Polygon(
        points_of(part.panel.outline), [points_of(o.outline) for o in part.panel.openings]
    )
    if part.opposite_hand:
        drawn = affinity.scale(drawn, -1, 1, origin=(0, 0))
    turned = affinity.rotate(drawn, float(part.turn), origin=(0, 0))
    x, y = turned.bounds[:2]
    return affinity.translate(turned, float(part.x) - x, float(part.y) - y)


def judge(layout: GroupLayout) -> None:
    """Every copy lies once or is reported, as it may, inside the margins, with the gap to all others."""
    found = [(s, p) for s in layout.sheets for p in s.parts]
    _judge_copies(layout, [p for _, p in found])
    for sheet_, part in found:
        assert _may_turn(part, sheet_.stock.grain)
    for (name, here), number in Counter((s.stock.name, s.on_hand) for s in layout.sheets).items():
        stock = next(s for s in layout.group.sheets if s.name == name)
        assert number <= stock.on_hand if here else stock.buy
    for sheet_ in layout.sheets:
        _judge_sheet(layout, sheet_)
    if not layout.unplaced:
        assert layout.least_cost.value <= layout.cost
        assert layout.least_sheets.value <= len(layout.sheets)


def _judge_copies(layout: GroupLayout, parts: list[PlacedPart]) -> None:
    """Needed copies are laid once or unplaced; extras once at most; no other hand than asked for."""
    lying = Counter(_name(p) for p in parts)
    missing = Counter(_name(u) for u in layout.unplaced)
    assert all(n == 1 for n in (lying + missing).values())
    extras: set[tuple[str, int, bool]] = set()
    needed: set[tuple[str, int, bool]] = set()
    for p in layout.group.panels:
        alike = p.faces == "alike"
        drawn = p.quantity + p.spare + alike * p.opposite_hand
        needed |= {(p.name, n + 1, False) for n in range(drawn)}
        needed |= {(p.name, n + 1, True) for n in range(0 if alike else p.opposite_hand)}
        extras |= {(p.name, drawn + n + 1, False) for n in range(p.spare_if_room)}
    assert needed <= set(lying) | set(missing) <= needed | extras
    assert not extras & set(missing)


def _name(part: object) -> tuple[str, int, bool]:
    """Return panel, copy and hand; a part whose faces are alike is one hand, whichever face is up."""
    return part.panel.name, part.copy, part.opposite_hand and part.panel.faces == "differ"


def _may_turn(part: PlacedPart, sheet_grain: str) -> bool:
    grain, turn = part.panel.grain, part.panel.turn
    if "none" not in (grain, sheet_grain):
        # The part's grain must come to lie along the sheet's.
        across = grain != sheet_grain
        if part.turn % 180 != 90 * across:
            return False
    elif turn == "any":
        return 0 <= part.turn < 360
    return part.turn in {"none": (0,), "half": (0, 180)}.get(turn, (0, 90, 180, 270))


def _judge_sheet(layout: GroupLayout, on: CutSheet) -> None:
    margin, gap = layout.group.margin, float(layout.group.gap)
    room = shapely.box(
        float(margin.left),
        float(margin.bottom),
        float(on.stock.width - margin.right),
        float(on.stock.height - margin.top),
    )
    areas = [area_of(p) for p in on.parts]
    # The box of chords is smaller than that of arcs, on each side by a chord's stray: so is its place off.
    off = 2 * STRAY + SLIP
    for area in areas:
        assert all(a >= b - off for a, b in zip(area.bounds[:2], room.bounds[:2], strict=True))
        assert all(a <= b + off for a, b in zip(area.bounds[2:], room.bounds[2:], strict=True))
    rests = [
        shapely.box(float(o.x), float(o.y), float(o.x + o.width), float(o.y + o.height)) for o in on.offcuts
    ]
    for one, other in (*combinations(areas, 2), *((a, r) for a in areas for r in rests)):
        _judge_pair(one, other, gap, 2 * off)


def _judge_pair(one: shapely.Polygon, other: shapely.Polygon, gap: float, off: float) -> None:
    assert shapely.distance(one, other) >= gap - off
    common = shapely.intersection(one, other, grid_size=GRID)
    assert 2 * common.area <= off * common.length


def random_outline(rng: random.Random, size: float) -> Outline:
    """Return an outline of arcs and lines that do not cross, the lower left of its box at the origin."""
    draw = rng.choice([_blob, _blob, _blob, _angle, _disc, _slot, _plate])
    while True:
        outline = draw(rng, size)
        area = shapely.Polygon(points_of(outline))
        # No necks and slivers: what is left when much is taken off all round is one piece.
        left = shapely.buffer(area, -0.05 * size)
        if outline.area > 0 and area.is_valid and not left.is_empty and left.geom_type == "Polygon":
            box = outline.bounds
            return outline.moved(-box.left, -box.bottom)


def _blob(rng: random.Random, size: float) -> Outline:
    """Corners all round a point, with bulges out and in."""
    angles = sorted(rng.uniform(0, math.tau) for _ in range(rng.randint(3, 8)))
    far = [size / 2 * rng.uniform(0.3, 1) for _ in angles]
    bulges = [rng.choice([0.0, 0.0, rng.uniform(-0.5, 0.7)]) for _ in angles]
    return Outline(
        tuple(
            Vertex(r * math.cos(a), r * math.sin(a), b) for a, r, b in zip(angles, far, bulges, strict=True)
        )
    )


def _angle(rng: random.Random, size: float) -> Outline:
    """A bracket whose inner corner may be round, slanted or not."""
    a, b = size * rng.uniform(0.2, 0.5), size * rng.uniform(0.2, 0.5)
    r = rng.choice([0.0, 0.3]) * min(size - a, size - b)
    inner = (Vertex(a, b),) if not r else (Vertex(a + r, b, -math.tan(math.pi / 8)), Vertex(a, b + r))
    slant = rng.choice([0.0, rng.uniform(0, 0.3)]) * size
    foot = Vertex(0, 0), Vertex(size, slant), Vertex(size, slant + b)
    return Outline((*foot, *inner, Vertex(a, size), Vertex(0, size)))


def _disc(rng: random.Random, size: float) -> Outline:
    return disc(size * rng.uniform(0.4, 1))


def _slot(rng: random.Random, size: float) -> Outline:
    return slot(Point(0, 0), size, size * rng.uniform(0.2, 0.8), rng.choice([0.0, rng.uniform(0, 180)]))


def _plate(rng: random.Random, size: float) -> Outline:
    other = size * rng.uniform(0.2, 1)
    return rectangle(size, other, radius=rng.choice([0.0, 0.2, 0.5]) * other * 0.99)


def random_panel(rng: random.Random, name: str, size: float) -> Panel:
    """Return a part of a random outline, often with openings, of any counts, hands, turns and grain."""
    more = {
        "quantity": rng.randint(0, 3),
        "opposite_hand": rng.choice([0, 0, 1, 2]),
        "spare": rng.choice([0, 0, 0, 1]),
        "spare_if_room": rng.choice([0, 0, 0, 1]),
        "faces": rng.choice(["differ", "differ", "alike"]),
        "turn": rng.choice(["none", "half", "quarter", "quarter", "any"]),
        "grain": rng.choice(["none", "none", "none", "x", "y"]),
    }
    if rng.random() < 0.2:
        return panel(name, round(size, 1), round(size * rng.uniform(0.2, 1), 2), **more)
    outline = random_outline(rng, size)
    return shaped(name, outline, *_openings(rng, outline, size), **more)


def _openings(rng: random.Random, outline: Outline, size: float) -> list[Outline]:
    """Return up to two openings well inside an outline and apart from one another."""
    inner = shapely.buffer(shapely.Polygon(points_of(outline, 0.01)), -0.08 * size)
    found = []
    for _ in range(0 if inner.is_empty else rng.choice([0, 10, 20])):
        opening = random_outline(rng, size * rng.uniform(0.1, 0.7))
        x0, y0, x1, y1 = inner.bounds
        opening = opening.moved(
            rng.uniform(x0, max(x0, x1 - opening.bounds.width)),
            rng.uniform(y0, max(y0, y1 - opening.bounds.height)),
        )
        area = shapely.Polygon(points_of(opening, 0.01))
        if len(found) < 2 and shapely.contains(inner, area):
            found.append(opening)
            inner = shapely.difference(inner, shapely.buffer(area, 0.08 * size))
            if inner.is_empty:
                break
    return found


def random_group(seed: int, *, most: int = 5) -> Group:
    """Return a job of up to so many parts on one to three kinds of sheets, of any gap and margins."""
    rng = random.Random(seed)
    parts = [random_panel(rng, f"part {n + 1}", rng.uniform(30, 160)) for n in range(rng.randint(1, most))]
    priced = rng.random() < 0.6
    stock = []
    for n in range(rng.randint(1, 3)):
        stock.append(
            sheet(
                f"sheet {n + 1}",
                rng.randint(170, 500),
                rng.randint(170, 400),
                price=Fraction(rng.randint(100, 4000), 100) if priced else None,
                on_hand=rng.choice([0, 0, 1, 2]),
                buy=n == 0 or rng.random() < 0.5,
                grain=rng.choice(["none", "none", "x", "y"]),
            )
        )
    kerf = rng.choice([Fraction(0), Fraction(1, 5), Fraction(3), Fraction(127, 20)])
    margin = tuple(rng.choice([Fraction(0), Fraction(5), Fraction(127, 10)]) for _ in range(4))
    return group(parts, stock, rng.choice(["router", "laser"]), kerf, kerf + rng.choice([0, 0, 2]), margin)
