"""Random jobs with regions that are kept clear and copies that are held; a judge that knows the job alone."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from math import inf

import shapely

from nestkit.job.model import Group, Hold
from nestkit.layout.around.scene import box_of, held_part
from nestkit.layout.result import CutSheet, GroupLayout
from nestkit.layout.verify_clear import meets_none
from nestkit.stock.keep_clear import KeepClear
from nestkit.stock.kept_whole import AXES, cuts_free, sawn_regions
from nestkit.units import grid_up
from tests.layout.made import group, panel, sheet
from tests.layout.shapes.random_jobs import area_of
from tests.layout.test_lay_out import saw_apart

SLIP = 1e-4


def random_group(rng: random.Random, how: str) -> Group:
    """Return a job of up to four kinds of rectangles on one or two kinds of sheets."""
    parts = [
        panel(
            f"part {n + 1}",
            Fraction(rng.randint(400, 4000), 10),
            Fraction(rng.randint(400, 3000), 10),
            quantity=rng.randint(1, 4),
            opposite_hand=rng.choice([0, 0, 1]),
            spare_if_room=rng.choice([0, 0, 2]),
            faces=rng.choice(["differ", "alike"]),
            grain=rng.choice(["none", "none", "x"]),
            turn=rng.choice(["none", "half", "quarter", "quarter"]),
        )
        for n in range(rng.randint(1, 4))
    ]
    width, height = rng.randint(400, 900), rng.randint(400, 1200)
    here, grain = rng.choice([0, 0, 1, 2]), rng.choice(["none", "x"])
    stock = [sheet("large", width, height, price=Fraction(10), on_hand=here, grain=grain)]
    if rng.random() < 0.4:
        buy = rng.choice([True, False])
        stock.append(sheet("small", 500, 600, price=Fraction(6), on_hand=rng.choice([0, 1]), buy=buy))
    kerf = rng.choice([Fraction(2), Fraction(3), Fraction(127, 40)])
    more = {}
    if how == "saw":
        more = {"stages": rng.choice([0, 2, 3]), "first": rng.choice(["any", "any", "x", "y"])}
        more |= {"prefer": rng.choice(["offcut", "few cuts"])}
    margin = (rng.choice([0, 5]),) * 4
    return group(parts, stock, how, kerf, kerf + rng.choice([0, 0, 2]), margin, **more)


def numbers_of(layout: GroupLayout) -> list[int]:
    """Return the numbers of a layout's sheets where those on hand come first."""
    next_one = {(s.name, here): 1 if here else s.on_hand + 1 for s in layout.group.sheets for here in (0, 1)}
    found = []
    for one in layout.sheets:
        found.append(next_one[one.stock.name, one.on_hand])
        next_one[one.stock.name, one.on_hand] += 1
    return found


def some_held(layout: GroupLayout, rng: random.Random) -> tuple[Hold, ...]:
    """Return a random share of a layout's copies as holds."""
    share = rng.choice([0.2, 0.5, 1.0])
    return tuple(
        Hold(p.panel.name, p.copy, p.opposite_hand, s.stock.name, number, p.x, p.y, p.turn)
        for s, number in zip(layout.sheets, numbers_of(layout), strict=True)
        for p in s.parts
        if rng.random() < share
    )


def with_regions(made: Group, rng: random.Random) -> Group:
    """Return a job with one to three regions on its sheets, boxes and discs, some over an edge."""
    sheets = list(made.sheets)
    for _ in range(rng.randint(1, 3)):
        index = rng.randrange(len(sheets))
        stock = sheets[index]
        x, y = rng.randint(-20, int(stock.width) - 1), rng.randint(-20, int(stock.height) - 1)
        width, height = rng.randint(21, 150), rng.randint(21, 150)
        disc = rng.random() < 0.3
        region = KeepClear(
            Fraction(x), Fraction(y), Fraction(x + width), Fraction(y + (width if disc else height)), disc,
            rng.choice([None, 1, 1, 2]), rng.choice(["", "knot"]),
        )  # fmt: skip
        sheets[index] = replace(stock, keep_clear=(*stock.keep_clear, region))
    return replace(made, sheets=tuple(sheets))


def possible(made: Group, holds: tuple[Hold, ...]) -> tuple[Hold, ...]:
    """Return those holds that the reader of a job takes beside the regions."""
    panels = {p.name: p for p in made.panels}
    kerf, way = grid_up(made.way.kerf), made.way
    kept: list[Hold] = []
    for hold in holds:
        stock = next(s for s in made.sheets if s.name == hold.sheet)
        part = held_part(hold, panels[hold.panel])
        if not way.edge_to_edge:
            if meets_none(part, stock.clear_on(hold.on), way.kerf):
                kept.append(hold)
            continue
        same = [o for o in kept if (o.sheet, o.on) == (hold.sheet, hold.on)]
        boxes = [box_of(held_part(o, panels[o.panel])) for o in same] + [box_of(part)]
        clear = sawn_regions(stock, hold.on, kerf)
        if cuts_free(boxes, clear, kerf, way.stages or inf, AXES[way.first]):
            kept.append(hold)
    return tuple(kept)


def worth(layout: GroupLayout) -> tuple[int, Fraction, int]:
    """Return what decides between layouts, the least the best."""
    return len(layout.unplaced), layout.cost, len(layout.sheets)


def judge_fixed(layout: GroupLayout) -> None:
    """Held copies lie where they are held, regions are clear, numbers are the job's, nothing is lost."""
    _judge_holds(layout)
    numbers = Counter((s.stock.name, s.number) for s in layout.sheets)
    assert all(n == 1 for n in numbers.values())
    placed = Counter(_copy(p) for s in layout.sheets for p in s.parts)
    missing = Counter(_copy(u) for u in layout.unplaced)
    assert all(n == 1 for n in (placed + missing).values())
    assert sum((placed + missing).values()) >= sum(p.needed for p in layout.group.panels)
    for on in layout.sheets:
        assert on.on_hand == (on.number <= on.stock.on_hand)
        for region in on.keep_clear:
            _judge_region(layout, on, region)
    if not layout.unplaced:
        assert layout.least_cost.value <= layout.cost


def _copy(part: object) -> tuple[str, bool, int]:
    return part.panel.name, part.opposite_hand and part.panel.faces == "differ", part.copy


def _judge_holds(layout: GroupLayout) -> None:
    lying = {
        (p.panel.name, p.copy, p.opposite_hand): (s.stock.name, s.number, p.x, p.y, p.turn, p.held)
        for s in layout.sheets
        for p in s.parts
    }
    for h in layout.group.holds:
        assert lying[h.panel, h.copy, h.opposite_hand] == (h.sheet, h.on, h.x, h.y, h.turn, True)
    assert sum(row[-1] for row in lying.values()) == len(layout.group.holds)


def _judge_region(layout: GroupLayout, on: CutSheet, region: KeepClear) -> None:
    """Parts and offcuts lie off a region; a saw leaves it whole in a piece that is no part and no offcut."""
    box = shapely.box(*map(float, (region.left, region.bottom, region.right, region.top)))
    area = box
    if region.disc:
        area = shapely.Point(box.centroid).buffer(float(region.right - region.left) / 2, quad_segs=400)
    offcuts = [shapely.box(*map(float, (o.x, o.y, o.x + o.width, o.y + o.height))) for o in on.offcuts]
    assert all(shapely.intersection(area, o).area < SLIP for o in offcuts)
    if layout.group.way.edge_to_edge:
        whole = shapely.box(0, 0, float(on.stock.width), float(on.stock.height))
        pieces = [shapely.box(*map(float, p)) for p in saw_apart(on, layout.group.way)]
        holding = [p for p in pieces if p.covers(shapely.intersection(box, whole))]
        parts = [area_of(p) for p in on.parts]
        assert len(holding) == 1
        assert all(shapely.intersection(holding[0], p).area < SLIP for p in parts)
        return
    kerf = float(layout.group.way.kerf)
    for part in on.parts:
        assert shapely.distance(area_of(part), area) >= kerf - SLIP
        assert shapely.intersection(area_of(part), area).area < SLIP


def judge_apart(layout: GroupLayout) -> None:
    """Boxes keep the gap and the border, by their places in millimetres."""
    gap, margin = layout.group.gap, layout.group.margin
    for on in layout.sheets:
        boxes = [(p.x, p.y, p.x + p.width, p.y + p.height) for p in on.parts]
        for left, bottom, right, top in boxes:
            assert left >= margin.left
            assert bottom >= margin.bottom
            assert right <= on.stock.width - margin.right
            assert top <= on.stock.height - margin.top
        for a, b in combinations(boxes, 2):
            dx, dy = max(a[0] - b[2], b[0] - a[2]), max(a[1] - b[3], b[1] - a[3])
            assert max(dx, dy) >= 0
            assert max(dx, 0) ** 2 + max(dy, 0) ** 2 >= gap**2
