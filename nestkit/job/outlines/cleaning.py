"""Lines that a drawing has twice, or in pieces that lie on one another: each is kept once."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import replace

from nestkit.geometry.points import Point
from nestkit.job.outlines.figures import Ring, Seg, Sketch

SAME = 1e-4
"""Millimetres within which places are one: what digits of a file can be out by, far below what can be cut."""

Key = tuple[int, int]
_SIZE = 4 * SAME


def cleaned(sketch: Sketch) -> tuple[Sketch, Counter[str]]:
    """Return a sketch in which no line lies on another, and how many of what were taken out or joined."""
    found: Counter[str] = Counter()
    segs = [s for s in sketch.segs if s.start.to(s.end) > SAME or abs(s.bulge) > 1]
    found["without length"] = len(sketch.segs) - len(segs)
    rings, arcs_off = _once(sketch.rings, segs)
    segs, twice = _once_each([s for s in segs if s not in arcs_off] if arcs_off else segs)
    found["drawn twice"] = twice + len(sketch.rings) - len(rings) + len(arcs_off)
    lines, over = _lines_apart([s for s in segs if not s.bulge])
    arcs, rounds, arcs_over = _arcs_apart([s for s in segs if s.bulge])
    found["overlapping"] = over + arcs_over
    order = {id(s): i for i, s in enumerate(segs)}
    kept = sorted([*lines, *arcs], key=lambda s: order.get(id(s), len(order)))
    return replace(sketch, segs=kept, rings=[*rings, *rounds]), found


def _cell(p: Point) -> Key:
    return math.floor(p.x / _SIZE), math.floor(p.y / _SIZE)


def _around(key: Key) -> tuple[Key, ...]:
    """Return a cell and those beside it, where places as near as can be may have gone."""
    x, y = key
    return (
        key, (x - 1, y), (x + 1, y), (x, y - 1), (x, y + 1),
        (x - 1, y - 1), (x - 1, y + 1), (x + 1, y - 1), (x + 1, y + 1),
    )  # fmt: skip


def _once(rings: Iterable[Ring], segs: Iterable[Seg]) -> tuple[list[Ring], set[Seg]]:
    """Return each circle once, and the arcs that lie on one."""
    kept: dict[Key, list[Ring]] = defaultdict(list)
    found = []
    for ring in rings:
        key = _cell(ring.centre)
        if not any(
            _one_circle(ring.centre, ring.radius, r.centre, r.radius)
            for k in _around(key)
            for r in kept.get(k, ())
        ):
            kept[key].append(ring)
            found.append(ring)
    if not found:
        return found, set()
    covered = set()
    for seg in segs:
        if seg.bulge:
            arc = seg.arc
            key = _cell(arc.centre)
            if any(
                _one_circle(arc.centre, arc.radius, r.centre, r.radius)
                for k in _around(key)
                for r in kept.get(k, ())
            ):
                covered.add(seg)
    return found, covered


def _one_circle(a: Point, r: float, b: Point, q: float) -> bool:
    return a.to(b) <= SAME and abs(r - q) <= SAME


def _once_each(segs: list[Seg]) -> tuple[list[Seg], int]:
    """Return each piece once, whichever way round it was drawn, and how many were taken out."""
    kept: dict[Key, list[Seg]] = defaultdict(list)
    found = []
    for seg in segs:
        middle = _middle(seg)
        key = _cell(middle)
        if not any(_alike(seg, other) for k in _around(key) for other in kept.get(k, ())):
            kept[key].append(seg)
            found.append(seg)
    return found, len(segs) - len(found)


def _middle(seg: Seg) -> Point:
    """Return the point of a piece half way along it."""
    (ax, ay), (bx, by), bulge = seg.start, seg.end, seg.bulge
    return Point((ax + bx) / 2 + bulge * (by - ay) / 2, (ay + by) / 2 - bulge * (bx - ax) / 2)


def _alike(a: Seg, b: Seg) -> bool:
    if _middle(a).to(_middle(b)) > SAME:
        return False
    straight = a.start.to(b.start) <= SAME and a.end.to(b.end) <= SAME
    return straight or (a.start.to(b.end) <= SAME and a.end.to(b.start) <= SAME)


def _lines_apart(lines: list[Seg]) -> tuple[list[Seg], int]:
    """Return lines of which none lies on another, and how many went into those that they overlapped."""
    # What rounding of the direction parts, though it overlaps, is found as lines that meet, and never cut.
    by_way: dict[int, list[Seg]] = defaultdict(list)
    for seg in lines:
        angle = math.atan2(seg.end.y - seg.start.y, seg.end.x - seg.start.x) % math.pi
        by_way[round(angle * 1e5) % round(math.pi * 1e5)].append(seg)
    kept: list[Seg] = []
    for rows in by_way.values():
        kept += _merged_lines(rows) if len(rows) > 1 else rows
    return kept, len(lines) - len(kept)


def _merged_lines(lines: list[Seg]) -> list[Seg]:
    longest = max(lines, key=lambda s: s.start.to(s.end))
    long = longest.start.to(longest.end)
    ux, uy = (longest.end.x - longest.start.x) / long, (longest.end.y - longest.start.y) / long
    ox, oy = longest.start
    rows = []
    for index, seg in enumerate(lines):
        along = sorted((p.x - ox) * ux + (p.y - oy) * uy for p in (seg.start, seg.end))
        off = ((seg.start.x + seg.end.x) / 2 - ox) * -uy + ((seg.start.y + seg.end.y) / 2 - oy) * ux
        rows.append((off, along[0], along[1], index))
    rows.sort()
    kept: list[Seg] = []
    at = 0
    while at < len(rows):
        end = at + 1
        while end < len(rows) and rows[end][0] - rows[end - 1][0] <= SAME:
            end += 1
        kept += _merged_row(sorted(rows[at:end], key=lambda r: r[1:]), lines)
        at = end
    return kept


def _merged_row(rows: list[tuple[float, float, float, int]], lines: list[Seg]) -> list[Seg]:
    kept: list[tuple[float, float, Seg]] = []
    for _, low, high, index in rows:
        seg = lines[index]
        if kept and low < kept[-1][1] - SAME and _on(kept[-1][2], seg):
            first, last, before = kept[-1]
            if high > last:
                kept[-1] = (first, high, _from_to(before, seg))
            continue
        kept.append((low, high, seg))
    return [seg for _, _, seg in kept]


def _on(a: Seg, b: Seg) -> bool:
    """Say whether two lines that overlap lie on one line, at all four ends."""
    long = a if a.start.to(a.end) >= b.start.to(b.end) else b
    short = b if long is a else a
    length = long.start.to(long.end)
    ux, uy = (long.end.x - long.start.x) / length, (long.end.y - long.start.y) / length
    return all(
        abs((p.x - long.start.x) * -uy + (p.y - long.start.y) * ux) <= SAME for p in (short.start, short.end)
    )


def _from_to(a: Seg, b: Seg) -> Seg:
    """Return the line between the two ends of two overlapping lines that are furthest apart."""
    ends = (a.start, a.end, b.start, b.end)
    first, last = max(((p, q) for p in ends for q in ends), key=lambda pair: pair[0].to(pair[1]))
    return Seg(first, last, 0.0, a.tag)


def _arcs_apart(arcs: list[Seg]) -> tuple[list[Seg], list[Ring], int]:
    """Return arcs of which none lies on another, the circles that some make up, how many went."""
    by_circle: dict[Key, list[tuple[Point, float, list[Seg]]]] = defaultdict(list)
    circles: list[tuple[Point, float, list[Seg]]] = []
    for seg in arcs:
        arc = seg.arc
        key = _cell(arc.centre)
        near = (c for k in _around(key) for c in by_circle.get(k, ()))
        found = next((c for c in near if _one_circle(arc.centre, arc.radius, c[0], c[1])), None)
        if found is None:
            found = (arc.centre, arc.radius, [])
            by_circle[key].append(found)
            circles.append(found)
        found[2].append(seg)
    kept: list[Seg] = []
    rings: list[Ring] = []
    merged = 0
    for centre, radius, segs in circles:
        some, whole, gone = _merged_arcs(centre, radius, segs)
        kept += some
        rings += whole
        merged += gone
    return kept, rings, merged


def _merged_arcs(centre: Point, radius: float, segs: list[Seg]) -> tuple[list[Seg], list[Ring], int]:
    if len(segs) == 1:
        return segs, [], 0
    rows = []
    for seg in segs:
        arc = seg.arc
        sweep = math.radians(abs(arc.sweep_deg))
        first = seg if seg.bulge > 0 else seg.turned_round()
        start = math.atan2(first.start.y - centre.y, first.start.x - centre.x) % math.tau
        rows.append((start, start + sweep, first, seg))
    rows.sort(key=lambda r: (r[0], -r[1]))
    near = SAME / radius
    if math.fsum(high - low for low, high, _, _ in rows) >= math.tau - near and _covers(rows, near):
        # Halves and quarters that make up a circle are one, though nothing was drawn twice.
        pieces = math.fsum(high - low for low, high, _, _ in rows) > math.tau + near
        return [], [Ring(centre, radius, segs[0].tag)], len(rows) if pieces else 0
    kept: list[tuple[float, float, Seg, Seg]] = []
    for low, high, first, drawn in rows:
        if kept and low < kept[-1][1] - near:
            before = kept[-1]
            if high > before[1]:
                longer = _arc_from(before[2], first, high - before[0])
                kept[-1] = (before[0], high, longer, longer)
            continue
        kept.append((low, high, first, drawn))
    if len(kept) > 1 and kept[-1][1] - math.tau > kept[0][0] + near:
        low, _, last, _ = kept.pop()
        _, high, first, _ = kept[0]
        longer = _arc_from(last, first, high + math.tau - low)
        kept[0] = (low, high + math.tau, longer, longer)
    return [drawn for _, _, _, drawn in kept], [], len(segs) - len(kept)


def _covers(rows: list[tuple[float, float, Seg, Seg]], near: float) -> bool:
    """Say whether arcs, by where they start, leave nothing of the circle."""
    reach = rows[0][0]
    for low, high, _, _ in rows:
        if low > reach + near:
            return False
        reach = max(reach, high)
    return reach >= rows[0][0] + math.tau - near


def _arc_from(first: Seg, last: Seg, sweep: float) -> Seg:
    return Seg(first.start, last.end, math.tan(sweep / 4), first.tag)
