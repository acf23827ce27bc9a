"""Checks answers to tasks of kind polystrip with shapely; takes nothing from the package.

Pieces are turned as the answer says, moved so that the lower left of their box is where it says, and looked
at as areas: inside the strip and its margins, apart from one another by kerf or gap, each copy once, turned
as the file allows. Arcs are taken by chords, with corners where they reach furthest left, right, up, down.
"""

from __future__ import annotations

import math
from collections import Counter
from fractions import Fraction
from itertools import pairwise
from typing import Any

import shapely
from shapely import affinity

SLIP = 1e-6
"""Of the strip's height: what two pieces may be in one another or over an edge, by rounding."""
FINE = 1e-6
"""Of a piece's size: how far chords may be from an arc."""


class ShapeFault(Exception):
    """What is wrong with an answer."""


def straightened(path: list[list[float]]) -> list[tuple[float, float]]:
    """Return a path with its arcs as chords; a bulge is the tangent of a quarter of the angle."""
    size = max(max(p[k] for p in path) - min(p[k] for p in path) for k in (0, 1))
    points = []
    for (x0, y0, bulge), (x1, y1, _) in pairwise([*path, path[0]]):
        points.append((x0, y0))
        if bulge:
            turn = 4 * math.atan(bulge)
            off = (1 - bulge * bulge) / (4 * bulge)
            cx, cy = (x0 + x1) / 2 - (y1 - y0) * off, (y0 + y1) / 2 + (x1 - x0) * off
            radius, begin = math.hypot(x0 - cx, y0 - cy), math.atan2(y0 - cy, x0 - cx)
            number = math.ceil(abs(turn) / (2 * math.acos(max(0.0, 1 - FINE * size / radius))))
            angles = [begin + turn * k / number for k in range(1, number)]
            quarters = [k * math.pi / 2 for k in range(-8, 9)]
            angles += [q for q in quarters if min(begin, begin + turn) < q < max(begin, begin + turn)]
            angles.sort(reverse=turn < 0)
            points += [(cx + radius * math.cos(a), cy + radius * math.sin(a)) for a in angles]
    return points


def area_of(item: dict[str, Any]) -> shapely.Polygon:
    """Return an item's outline as an area; its drill holes do not count."""
    path = [[float(n) for n in p] for p in item.get("path") or ()]
    return shapely.Polygon(straightened(path) if path else [[float(n) for n in p] for p in item["poly"]])


def lying(row: list[Any], items: list[dict[str, Any]]) -> shapely.Polygon:
    """Return where an item lies; its turn must be one that the file allows."""
    index, x, y, turn = row
    if turn not in [float(r) for r in items[index].get("rot") or (0,)]:
        raise ShapeFault(f"item {index} is turned by {turn} degrees, which is not allowed")
    turned = affinity.rotate(area_of(items[index]), float(turn), origin=(0, 0))
    return affinity.translate(turned, float(x) - turned.bounds[0], float(y) - turned.bounds[1])


def check_apart(areas: list[shapely.Polygon], least: float, slip: float) -> None:
    """No two pieces overlap or lie nearer to each other than ``least``."""
    tree = shapely.STRtree(areas)
    for i, j in tree.query(areas, predicate="dwithin", distance=max(least, 0.0)).T:
        if i >= j:
            continue
        common = shapely.intersection(areas[i], areas[j])
        if common.area > 0 and 2 * common.area / common.length > slip:
            raise ShapeFault(f"pieces {i} and {j} overlap by {2 * common.area / common.length:.3g}")
        if shapely.distance(areas[i], areas[j]) < least - slip:
            raise ShapeFault(f"pieces {i} and {j} are nearer to each other than {least:g}")


def check_strip(record: dict[str, Any], instance: dict[str, Any]) -> Fraction:
    """Raise :class:`ShapeFault` naming the first thing wrong; return the length counted anew."""
    task, items = record["task"], instance["items"]
    if len(record["bins"]) != int(task.get("plates") or 1) or record.get("left"):
        raise ShapeFault("all pieces lie on the strips that the task has")
    strips = [strip["items"] for strip in record["bins"]]
    rows = [row for strip in strips for row in strip]
    for index, number in Counter(row[0] for row in rows).items():
        if type(index) is not int or not 0 <= index < len(items):
            raise ShapeFault(f"item {index} is not in the file")
        if number > items[index]["qty"]:
            raise ShapeFault(f"item {index} lies there {number} times, there are {items[index]['qty']}")
    if len(rows) != sum(item["qty"] for item in items):
        raise ShapeFault(f"{len(rows)} pieces lie there, there are {sum(item['qty'] for item in items)}")
    height = float(instance["strip"])
    slip, margin = SLIP * height, float(task.get("margin") or 0)
    length = 0.0
    for strip in filter(None, strips):
        areas = [lying(row, items) for row in strip]
        x0, y0, x1, y1 = shapely.total_bounds(areas)
        if min(x0 - margin, y0 - margin, height - margin - y1) < -slip:
            raise ShapeFault(f"pieces reach from {x0:g}, {y0:g} to {y1:g}, over an edge or its margin")
        check_apart(areas, max(float(task.get(key) or 0) for key in ("kerf", "gap")), slip)
        length = max(length, float(x1))
    return Fraction(length + margin)
