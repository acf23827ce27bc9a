"""Outlines given by their points: closed, without crossings, counter-clockwise."""

from __future__ import annotations

from nestkit.job.entry import Entry
from nestkit.job.values import Pair, points

MOST_CORNERS = 2000


def read_polygon(entry: Entry, key: str) -> list[Pair] | None:
    """Return the corners of a polygon, counter-clockwise; None where it is not given or wrong."""
    found = points(entry, key, least=3)
    if found is None:
        return None
    if len(found) > MOST_CORNERS:
        entry.wrong(key, f"{len(found)} points are too many", f"Write at most {MOST_CORNERS}")
        return None
    if found[0] == found[-1]:
        found = found[:-1]
    for i, p in enumerate(found):
        if p == found[i - 1]:
            entry.wrong(key, "two points in a row are the same", "Leave one of them out", i)
            return None
    crossing = _crossing(found)
    if crossing is not None:
        i, j = crossing
        entry.wrong(
            key,
            f"the side from point {i + 1} meets the side from point {j + 1}",
            "Write the points in order, once around the part",
            j,
        )
        return None
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(found, found[1:] + found[:1], strict=True))
    if len(found) < 3 or area == 0:
        entry.wrong(key, "the points enclose nothing", "Write three points or more that are not in a line")
        return None
    return found if area > 0 else found[::-1]


def _crossing(found: list[Pair]) -> tuple[int, int] | None:
    """Return the first two sides that cross or touch other than at their shared corner."""
    count = len(found)
    sides = [(found[i], found[(i + 1) % count]) for i in range(count)]
    boxes = [(min(a[0], b[0]), max(a[0], b[0]), min(a[1], b[1]), max(a[1], b[1])) for a, b in sides]
    order = sorted(range(count), key=lambda i: boxes[i][0])
    for n, i in enumerate(order):
        for j in order[n + 1 :]:
            if boxes[j][0] > boxes[i][1]:
                break
            if boxes[j][2] > boxes[i][3] or boxes[i][2] > boxes[j][3]:
                continue
            first, second = sorted((i, j))
            if _meet(
                sides[first], sides[second], (second - first) % count == 1, (first - second) % count == 1
            ):
                return first, second
    return None


def _meet(a: tuple[Pair, Pair], b: tuple[Pair, Pair], follows: bool, leads: bool) -> bool:
    """Say whether two sides meet where they should not; neighbours may share their corner only."""
    d1, d2 = _turn(b[0], b[1], a[0]), _turn(b[0], b[1], a[1])
    d3, d4 = _turn(a[0], a[1], b[0]), _turn(a[0], a[1], b[1])
    if follows or leads:
        # The far ends must not lie on the other side's line within it: a side folded back.
        shared = a[1] if follows else a[0]
        far_a, far_b = (a[0], b[1]) if follows else (a[1], b[0])
        if _turn(far_a, shared, far_b) != 0:
            return False
        return (far_a[0] - shared[0]) * (far_b[0] - shared[0]) + (far_a[1] - shared[1]) * (
            far_b[1] - shared[1]
        ) > 0
    if d1 * d2 < 0 and d3 * d4 < 0:
        return True
    return (
        (d1 == 0 and _between(b, a[0]))
        or (d2 == 0 and _between(b, a[1]))
        or (d3 == 0 and _between(a, b[0]))
        or (d4 == 0 and _between(a, b[1]))
    )


def _turn(a: Pair, b: Pair, c: Pair) -> int:
    """Sign of the turn from a over b to c."""
    value = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    return (value > 0) - (value < 0)


def _between(side: tuple[Pair, Pair], p: Pair) -> bool:
    """Say whether a point on a side's line lies within the side."""
    (ax, ay), (bx, by) = side
    return min(ax, bx) <= p[0] <= max(ax, bx) and min(ay, by) <= p[1] <= max(ay, by)
