"""The check of true shapes: each planted fault is caught and named, and a slow check judges alike."""

from __future__ import annotations

import cmath
import math
import random
from dataclasses import replace
from fractions import Fraction

import pytest
import shapely

from nestkit.errors import ToolFault
from nestkit.geometry.shapes import disc
from nestkit.layout.proof import Bound
from nestkit.layout.result import CutSheet, GroupLayout, Offcut, PlacedPart, Unplaced
from nestkit.layout.shapes.placing import placed_layout
from nestkit.layout.shapes.verify import verify_shapes
from nestkit.parts.panel import Panel
from nestkit.units import grid_mm, grid_up
from tests.layout.made import group, panel, sheet
from tests.layout.shapes.shaped import (
    BORE,
    BRACKET,
    CLIP,
    HORN,
    NONE,
    RING,
    WEDGE,
    built_boat,
    in_rows,
    polygon,
    shaped,
    star,
)

FINE = Fraction(1, 10**6)


@pytest.fixture(scope="module")
def sound() -> GroupLayout:
    """A layout of all kinds of parts that passes."""
    built = built_boat()
    layout = placed_layout(built, in_rows(built.problem, random.Random(1)), NONE, "plain")
    verify_shapes(layout)
    return layout


def with_sheet(layout: GroupLayout, **changes: object) -> GroupLayout:
    """Return a layout with its first sheet changed."""
    return replace(layout, sheets=(replace(layout.sheets[0], **changes), *layout.sheets[1:]))


def with_part(layout: GroupLayout, index: int, **changes: object) -> GroupLayout:
    """Return a layout with one part of the first sheet changed."""
    parts = list(layout.sheets[0].parts)
    parts[index] = replace(parts[index], **changes)
    return with_sheet(layout, parts=tuple(parts))


def index_of(layout: GroupLayout, name: str, copy: int = 1) -> int:
    """Return where a copy lies among the parts of the first sheet."""
    parts = layout.sheets[0].parts
    return next(i for i, p in enumerate(parts) if p.panel.name == name and p.copy == copy)


def refused(layout: GroupLayout, words: str) -> None:
    """Assert that the check refuses a layout with these words."""
    with pytest.raises(ToolFault, match=words):
        verify_shapes(layout)


def lying(
    one: Panel, x: object, y: object, turn: int | Fraction = 0, *, copy: int = 1, over: bool = False
) -> PlacedPart:
    """Return a panel in its place, its box worked out."""
    edge = (one.outline.mirrored(float(one.width)) if over else one.outline).turned(float(turn)).bounds
    size = [grid_mm(grid_up(s)) for s in (one.width, one.height)]
    if turn % 90:
        size = [Fraction(math.ceil(s * 10**6), 10**6) for s in (edge.width, edge.height)]
    elif turn % 180:
        size.reverse()
    return PlacedPart(one, copy, over, Fraction(x), Fraction(y), turn, *size)


def laid_on(
    parts: list[PlacedPart], gap: object = 6, size: tuple[int, int] = (900, 500), **stock: object
) -> GroupLayout:
    """Return parts as the layout of one sheet, without offcuts."""
    counts: dict[str, list[PlacedPart]] = {}
    for p in parts:
        counts.setdefault(p.panel.name, []).append(p)
    panels = {}
    for name, copies in counts.items():
        over = sum(p.opposite_hand for p in copies) if copies[0].panel.faces == "differ" else 0
        panels[name] = replace(copies[0].panel, quantity=len(copies) - over, opposite_hand=over)
    named = tuple(replace(p, panel=panels[p.panel.name]) for p in parts)
    kind = sheet("full", *size, price=Fraction(1), **stock)
    laid = group(list(panels.values()), [kind], "router", 0, gap)
    one = Bound(Fraction(1), "one is needed")
    only = CutSheet(kind, 1, False, Fraction(1), named, (), ())
    return GroupLayout(laid, "price", (only,), (), Fraction(1), one, one)


def test_a_turn_that_is_not_allowed_is_caught(sound):
    """A free angle where quarters are allowed, a half turn where none is, a whole turn."""
    turned = "turn and grain do not allow"
    refused(with_part(sound, index_of(sound, "motor bracket"), turn=Fraction("17.3")), turned)
    refused(with_part(sound, index_of(sound, "hatch ring"), turn=180), turned)
    refused(with_part(sound, index_of(sound, "rudder horn"), turn=360), "less than a whole turn")


def test_grain_forbids_what_any_turn_would_allow():
    """A part with grain on a sheet with grain lies along it, also where turn says any."""
    wedge = shaped("wedge", WEDGE, grain="x")
    verify_shapes(laid_on([lying(wedge, 0, 0, 180)], grain="x"))
    verify_shapes(laid_on([lying(wedge, 0, 0, Fraction("17.3"))]))
    refused(laid_on([lying(wedge, 0, 0, 90)], grain="x"), "turn and grain do not allow")
    refused(laid_on([lying(wedge, 0, 0, Fraction("17.3"))], grain="x"), "turn and grain do not allow")


def test_a_wrong_hand_is_caught(sound):
    """Mirrored where faces differ is refused; where they are alike either hand will do."""
    refused(with_part(sound, index_of(sound, "cable clip"), opposite_hand=True), "is lost, or there twice")
    bare = with_sheet(sound, offcuts=())
    for over in (False, True):
        verify_shapes(with_part(bare, index_of(bare, "wedge", 2), opposite_hand=over))


def test_lost_and_doubled_copies_are_caught(sound):
    """A copy that is missing, one that is there twice and one that nobody asked for are refused."""
    parts = sound.sheets[0].parts
    refused(with_sheet(sound, parts=parts[1:]), "is lost, or there twice")
    refused(with_part(sound, index_of(sound, "motor bracket", 2), copy=1), "is lost, or there twice")
    refused(with_part(sound, index_of(sound, "motor bracket", 2), copy=9), "is lost, or there twice")
    stray = shaped("stray", WEDGE)
    refused(with_part(sound, 0, panel=stray), "not a panel of this group")


def test_wrong_stock_prices_and_bounds_are_caught(sound):
    """Costs, numbers, stock and bounds are judged as where boxes are laid."""
    refused(with_sheet(sound, cost=Fraction(29)), "not what the job says")
    refused(with_sheet(sound, number=2), "are not numbered")
    refused(with_sheet(sound, stock=sheet("other", 900, 500)), "not stock of this group")
    refused(with_sheet(sound, on_hand=True, cost=Fraction(0)), "than are on hand")
    refused(replace(sound, cost=Fraction(31)), "not the sum over the sheets")
    refused(replace(sound, least_cost=Bound(Fraction(31), "planted")), "above the result")
    refused(replace(sound, least_sheets=None), "is missing")
    part = sound.sheets[0].parts[0]
    listed = Unplaced(part.panel, part.copy, part.opposite_hand, "planted")
    refused(replace(with_sheet(sound, parts=sound.sheets[0].parts[1:]), unplaced=(listed,)), "bound is given")


def test_a_part_over_the_margin_is_caught():
    """Upright parts are inside to the last digit, others to 1e-5 mm of their true outline."""
    clip, horn = shaped("clip", CLIP), shaped("horn", HORN)
    for one, turn in ((clip, 0), (clip, 90), (horn, 180)):
        right = 900 - lying(one, 0, 0, turn).width
        verify_shapes(laid_on([lying(one, right, 0, turn)]))
        refused(laid_on([lying(one, right + FINE, 0, turn)]), "over the sheet's border")
    turn = Fraction("33.3")
    top = Fraction(500 - horn.outline.turned(33.3).bounds.height)
    verify_shapes(laid_on([lying(horn, 0, math.floor(top * 10**6) * FINE, turn)]))
    refused(laid_on([lying(horn, 0, math.ceil((top + Fraction(2, 10**5)) * 10**6) * FINE, turn)]), "border")
    refused(laid_on([lying(horn, Fraction(-2, 10**5), 0, turn)]), "over the sheet's border")


def test_a_wrong_size_is_caught(sound):
    """A box that is not that of the part as it lies is refused, upright and at an angle."""
    for name in ("plate", "rudder horn"):
        index = index_of(sound, name)
        wide = sound.sheets[0].parts[index].width
        refused(with_part(sound, index, width=wide + Fraction(2, 10**5)), "not the size of its panel")


def test_what_cannot_be_written_is_caught(sound):
    """A place with seven decimals or a turn with ten would not be judged as it is written."""
    index = index_of(sound, "rudder horn")
    part = sound.sheets[0].parts[index]
    refused(with_part(sound, index, x=part.x + FINE / 10), "finer than can be written")
    refused(with_part(sound, index, turn=part.turn + Fraction(1, 10**10)), "finer than can be written")


@pytest.mark.parametrize("turn", [0, Fraction("17.3"), 90])
def test_a_gap_short_by_more_than_the_slip_is_caught(turn):
    """Two discs whose outlines lack 2e-5 mm of the gap are refused, with 5e-6 they pass; so do wedges."""
    one, two = shaped("big", disc(80)), shaped("small", disc(50))
    for lack, caught in ((0, False), (Fraction(5, 10**6), False), (Fraction(2, 10**5), True)):
        layout = laid_on([lying(one, 100, 100, turn), lying(two, 186 - lack, 115, turn)])
        if caught:
            refused(layout, "overlap or are nearer than the gap: 5.99998")
        else:
            verify_shapes(layout)
    step = Fraction(math.ceil(6 * math.hypot(90, 55) / 55 * 10**6), 10**6)
    wedge = shaped("wedge", WEDGE)
    near = [lying(wedge, 100, 100), lying(wedge, 100 + step, 100, 180, copy=2)]
    verify_shapes(laid_on(near))
    closer = replace(near[1], x=near[1].x - Fraction(1, 10**4))
    refused(laid_on([near[0], closer]), "nearer than the gap")


def test_boxes_keep_the_gap_to_the_last_digit():
    """Between upright boxes not even a millionth may lack, side by side and corner to corner."""
    plate = panel("plate", 100, 60, turn="any")
    first = lying(plate, 0, 0)
    verify_shapes(laid_on([first, lying(plate, 106, 0, copy=2)]))
    refused(laid_on([first, lying(plate, 106 - FINE, 0, copy=2)]), "nearer than the gap")
    refused(laid_on([first, lying(plate, 106 - FINE, 0, 90, copy=2)]), "nearer than the gap")
    refused(laid_on([first, lying(plate, Fraction("103.6") - FINE, Fraction("64.8"), copy=2)]), "nearer")
    verify_shapes(laid_on([first, lying(plate, Fraction("103.6"), Fraction("64.8"), copy=2)]))


def test_an_overlap_is_caught(sound):
    """Two parts in one place, one wholly in another's material, and where no gap is asked for."""
    first = sound.sheets[0].parts[0]
    refused(with_part(sound, 3, x=first.x, y=first.y), "overlap or are nearer")
    big, cap = shaped("big", disc(160)), shaped("cap", disc(20))
    refused(laid_on([lying(big, 0, 0), lying(cap, 70, 70)]), "overlap or are nearer")
    for gap in (0, 6):
        refused(laid_on([lying(big, 0, 0), lying(cap, 150, 70)], gap), "overlap or are nearer")
    verify_shapes(laid_on([lying(big, 0, 0), lying(cap, 160, 70)], 0))
    refused(laid_on([lying(big, 0, 0), lying(cap, 160 - Fraction(3, 10**5), 70)], 0), "overlap or are nearer")


def test_parts_in_openings_keep_the_gap_too():
    """A cap in a ring: as large as the gap allows it passes, a little larger or aside it does not."""
    ring = shaped("ring", RING, BORE)
    cap, large = shaped("cap", disc(98)), shaped("cap", disc(98.0001))
    verify_shapes(laid_on([lying(ring, 10, 10, Fraction(33)), lying(cap, 41, 41)]))
    refused(laid_on([lying(ring, 10, 10), lying(large, 41, 41)]), "nearer than the gap")
    refused(laid_on([lying(ring, 10, 10), lying(cap, Fraction("41.0001"), 41)]), "nearer than the gap")
    frame = shaped("frame", polygon((0, 0), (200, 0), (200, 200), (0, 200)), BORE)
    verify_shapes(laid_on([lying(frame, 0, 0), lying(panel("plate", 60, 60), 50, 50)]))
    refused(laid_on([lying(frame, 0, 0), lying(panel("plate", 80, 80), 50, 50)]), "nearer than the gap")


def test_a_mirrored_part_is_judged_as_it_lies():
    """Two wedges that fit into a box only if one of them is mirrored: drawn the other way they overlap."""
    wedge = shaped("wedge", polygon((0, 0), (90, 0), (20, 60)), faces="alike")
    pair = [lying(wedge, 0, 0), lying(wedge, 50, 0, 180, copy=2)]
    over = [pair[0], lying(wedge, 50, 0, 180, copy=2, over=True)]
    judged = []
    for parts in (pair, over):
        try:
            verify_shapes(laid_on(parts, 0))
            judged.append(True)
        except ToolFault:
            judged.append(False)
    assert judged == [slow_check(laid_on(p, 0)) for p in (pair, over)]
    assert len(set(judged)) == 2


def test_wrong_offcuts_and_cuts_are_caught(sound):
    """Offcuts off the sheet, on each other or too near to a part are refused, and saw cuts."""
    assert sound.sheets[0].offcuts
    first = sound.sheets[0].offcuts[0]
    refused(with_sheet(sound, offcuts=(first, first)), "two offcuts overlap")
    refused(with_sheet(sound, offcuts=(replace(first, width=first.width + 1),)), "hangs over the sheet")
    refused(with_sheet(sound, offcuts=(replace(first, y=first.y - 6, height=first.height + 6),)), "nearer to")
    clip = laid_on([lying(shaped("clip", CLIP), 100, 100)])
    beside = Offcut(Fraction(0), Fraction(107), Fraction(94), Fraction(2))
    verify_shapes(with_sheet(clip, offcuts=(beside,)))
    refused(with_sheet(clip, offcuts=(replace(beside, width=Fraction("94.0001")),)), "nearer to")
    refused(with_sheet(clip, offcuts=(replace(beside, x=Fraction(102)),)), "nearer to")


def test_other_ways_of_cutting_are_no_matter_of_shapes(sound):
    """A layout for a saw is refused as a whole."""
    way = replace(sound.group.way, how="saw")
    refused(replace(sound, group=replace(sound.group, way=way)), "edge to edge")


def slow_check(layout: GroupLayout, slip: float = 1e-5) -> bool:
    """Say whether places are sound, in other arithmetic and with areas flattened to 1e-4 mm."""
    gap = float(layout.group.gap)
    for laid in layout.sheets:
        areas = []
        for p in laid.parts:
            turn = cmath.exp(1j * math.radians(p.turn))

            def there(outline, p=p, turn=turn):
                found = [complex(*q) for q in outline.flattened(1e-4)]
                if p.opposite_hand:
                    found = [complex(-z.real, z.imag) for z in found]
                return [z * turn for z in found]

            edge = there(p.panel.outline)
            low = complex(min(z.real for z in edge), min(z.imag for z in edge))
            shift = complex(p.x, p.y) - low

            def ring(points, shift=shift):
                return [((z + shift).real, (z + shift).imag) for z in points]

            areas.append(shapely.Polygon(ring(edge), [ring(there(o.outline)) for o in p.panel.openings]))
        room = shapely.box(0, 0, float(laid.stock.width), float(laid.stock.height)).buffer(slip)
        for i, area in enumerate(areas):
            shapely.prepare(area)
            if not room.covers(area):
                return False
            for other in areas[:i]:
                if gap and area.distance(other) < gap - slip:
                    return False
                if not gap and area.intersection(other).area > slip:
                    return False
    return True


SHAPES = (HORN, BRACKET, WEDGE, CLIP, disc(70), star(10, 60, 25))


def random_layout(rng: random.Random) -> GroupLayout:
    """Return some parts thrown onto a sheet, turned and mirrored, some into the ring's bore."""
    gap = rng.choice([0, 2, 6])
    parts = [
        lying(shaped("ring", RING, BORE), rng.randrange(60), rng.randrange(60), Fraction(rng.randrange(360)))
    ]
    if rng.random() < 0.5:
        spot = parts[0].x + 30 + rng.randrange(20), parts[0].y + 30 + rng.randrange(20)
        parts.append(lying(shaped("cap", disc(rng.choice([40, 60, 80]))), *spot))
    for i in range(rng.randrange(1, 4)):
        one = shaped(f"part {i}", rng.choice(SHAPES), faces="alike")
        turn = Fraction(rng.randrange(360_000), 1000)
        x, y = (Fraction(rng.randrange(420_000), 1000) for _ in range(2))
        parts.append(lying(one, x, y, turn, over=rng.random() < 0.5))
    return laid_on(parts, gap, (520, 520))


def test_random_layouts_are_judged_as_by_a_slow_check():
    """200 layouts of turned and mirrored parts are refused exactly where the slow check refuses them."""
    rng = random.Random(7)
    seen = {True: 0, False: 0}
    for _ in range(200):
        layout = random_layout(rng)
        try:
            verify_shapes(layout)
            sound = True
        except ToolFault:
            sound = False
        assert sound is slow_check(layout)
        seen[sound] += 1
    assert min(seen.values()) > 40


def test_what_rows_of_boxes_lay_is_sound():
    """Pieces laid in rows, turned and mirrored at random, pass; closer by half the gap they do not."""
    for seed in range(25):
        built = built_boat()
        laid = in_rows(built.problem, random.Random(seed), loose=5.0)
        verify_shapes(placed_layout(built, laid, NONE, "plain"))
        tight = replace(built, problem=replace(built.problem, gap=2.0))
        closer = in_rows(tight.problem, random.Random(seed))
        refused(placed_layout(tight, closer, NONE, "plain"), "nearer")


def crowded():
    """Yield sheets of 400 parts: with 100 corners each, and with arcs."""
    for outline in (star(100, 30, 24), polygon(*((*v.point, 0.1) for v in star(30, 30, 24).vertices))):
        one = shaped("wheel", outline)
        wide = 68
        parts = [lying(one, i % 20 * wide, i // 20 * wide, Fraction(i % 360), copy=i + 1) for i in range(400)]
        yield laid_on(parts, 6, (1600, 1600))


def test_many_parts_are_judged():
    """400 parts on a sheet that keep their gap pass; with the last one laid on the first they do not."""
    for layout in crowded():
        verify_shapes(layout)
        (sheet,) = layout.sheets
        first, *_, last = sheet.parts
        onto = replace(sheet, parts=(*sheet.parts[:-1], replace(last, x=first.x, y=first.y)))
        refused(replace(layout, sheets=(onto,)), "nearer|overlap|lie")
