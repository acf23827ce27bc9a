"""Screw lengths of stacks that were worked by hand, the sums written out.

Nut heights: ASME B18.16.6 (lock nuts), B18.2.2 and B18.6.3 (hex nuts), ISO 4032 and ISO 7040, washers ASME
B18.21.1 and ISO 7089, lengths of the trade and ISO 888, grips IFI 114: all *from memory*, none was looked up.
The stack of the first two is rule R110 of the table of rules (common practice).
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.fit.assembly import Loose
from nestkit.trade.fasteners import nut, washer
from tests.fit.stacked import bought, case, inch, layer, panel, rivet, screw, tube, wood_screw

LID = panel("console lid", ".118")
FRAME = tube("deck frame", "1 x 1 x 1/16")
IN = Fraction("25.4")

# Height in inches by screw, from memory: B18.16.6 (first four), B18.2.2, B18.6.3.
INCH_NUTS = {
    ("lock nut", "#6"): ".180", ("lock nut", "#8"): ".240", ("lock nut", "#10"): ".240",
    ("lock nut", "1/4"): ".328", ("nut", "1/4"): ".226", ("nut", "#10"): ".130", ("nut", "#8"): ".130",
}  # fmt: skip
# Height in mm, from memory: ISO 4032 and ISO 7040.
METRIC_NUTS = {
    ("nut", "M3"): "2.4", ("nut", "M4"): "3.2", ("nut", "M5"): "4.7", ("nut", "M6"): "5.2",
    ("nut", "M8"): "6.8",
    ("lock nut", "M4"): "6", ("lock nut", "M5"): "6.8", ("lock nut", "M6"): "8", ("lock nut", "M8"): "9.5",
}  # fmt: skip


@pytest.mark.parametrize(("key", "height"), INCH_NUTS.items())
def test_inch_nut_heights(key, height):
    """The table has the standards' greatest heights as far as memory goes."""
    assert nut(*key).height == Fraction(height) * IN


@pytest.mark.parametrize(("key", "height"), METRIC_NUTS.items())
def test_metric_nut_heights(key, height):
    """The table has the standards' greatest heights as far as memory goes."""
    assert nut(*key).height == Fraction(height)


def test_washers_of_the_stacks():
    """Nominal: No. 10 .049, 1/4 .065 (B18.21.1, from memory); M5 1, M6 1.6 (ISO 7089, from memory)."""
    assert [washer(s).thickness for s in ("#10", "1/4")] == [Fraction(".049") * IN, Fraction(".065") * IN]
    assert [washer(s).thickness for s in ("M5", "M6")] == [1, Fraction("1.6")]


# Layers, fastener, spacers; the sum that must be reached in inches, the length, whole threads that show.
INCH_STACKS = {
    # R110: lid .118 + tube 1 + lock nut .240 = 1.358; + 1/32 = 1.389: 1 1/2. (1.5 - 1.358) x 32 = 4.5
    "R110, bare": ((LID, FRAME), screw(washers="none"), (), "1.389250", "1 1/2", 4),
    # R110 with the washer: .049 + .118 + 1 + .240 = 1.407; + .03125 = 1.43825: 1 1/2. .093 x 32 = 2.97
    "R110, washer": ((LID, FRAME), screw(), (), "1.438250", "1 1/2", 2),
    # R110 with a second thin part .063: 1.407 + .063 = 1.470; + .03125 = 1.50125: 1 3/4. .28 x 32 = 8.96
    "R110, second part": (
        (LID, panel("trim", ".063", "aluminium 5052"), FRAME), screw(), (), "1.501250", "1 3/4", 8),
    # Two sheets: .049 + .118 + .118 + .049 + .240 = .574; + .03125 = .60525: 5/8. .051 x 32 = 1.6
    "two lids": ((LID, panel("hatch", ".118")), screw(), (), ".605250", "5/8", 1),
    # 6-32, aluminium on aluminium: .063 + .063 + .180 = .306; + .03125 = .33725: 3/8. .069 x 32 = 2.2
    "brackets": (
        (panel("bracket", ".063", "aluminium 5052"), panel("foot", ".063", "aluminium 5052")),
        screw("6-32"), (), ".337250", "3/8", 2),
    # 1/4-20, ply 1/2 (.472 real) on ply: .065 + .472 + .472 + .065 + .328 = 1.402; + .05 = 1.452: 1 1/2. 1.96
    "ply on ply": (
        (panel("floor", ".472", "birch plywood"), panel("rib", ".472", "birch plywood")),
        screw("1/4-20"), (), "1.452", "1 1/2", 1),
    # 1/4-20 with a plain hex nut: .125 + .125 + .226 = .476; + .05 = .526: 5/8. .149 x 20 = 2.98
    "hex nut": (
        (panel("plate", ".125", "steel"), panel("mount", ".125", "steel")),
        screw("1/4-20", "nut"), (), ".526", "5/8", 2),
    # Spacer 1/2 between the two: .049 + .118 + .5 + 1 + .240 = 1.907; + .03125 = 1.93825: 2. 2.97
    "spacer": (
        (LID, FRAME), screw(), (Loose(tube("spacer", length="1/2", at=()), 1, 12.7),), "1.938250", "2", 2),
    # Flat head, whole length counts: .25 + .125 + .240 = .615; + .03125 = .64625: 3/4. .135 x 32 = 4.3
    "flat head": (
        (panel("plate", ".25", "aluminium 6061"), panel("mount", ".125", "steel")),
        screw(head="flat"), (), ".646250", "3/4", 4),
}  # fmt: skip


@pytest.mark.parametrize("name", INCH_STACKS)
def test_inch_stacks(name):
    """The least length is the sum and one thread, the length the next one sold, and so many threads show."""
    parts, fastener, loose, least, length, threads = INCH_STACKS[name]
    found = case(fastener, *(layer(p) for p in parts), loose=loose).length
    assert found.least == Fraction(least) * IN
    assert found.length == inch(length)
    assert int(found.showing) == threads


# Layers, fastener, least in mm, length in mm, whole threads that show.
METRIC_STACKS = {
    # M5, polycarbonate 3 on tube 25 x 25 x 2: 1 + 3 + 25 + 6.8 = 35.8; + .8 = 36.6: 40. 4.2 / .8 = 5.25
    "lid on tube": (
        (panel("lid", "3 mm"), tube("frame", "25 x 25 x 2 mm")), screw("M5"), "36.6", 40, 5),
    # M5 plain nut: 2 + 3 + 4.7 = 9.7; + .8 = 10.5: 12. 2.3 / .8 = 2.9
    "plates": ((panel("a", "2 mm", "steel"), panel("b", "3 mm", "steel")), screw("M5", "nut"), "10.5", 12, 2),
    # M6, ply 12 on ply 12: 1.6 + 12 + 12 + 1.6 + 8 = 35.2; + 1 = 36.2: 40. 4.8 / 1 = 4.8
    "ply": (
        (panel("a", "12 mm", "birch plywood"), panel("b", "12 mm", "birch plywood")),
        screw("M6"), "36.2", 40, 4),
    # M4, acrylic 4 on aluminium 2: .8 + 4 + 2 + 6 = 12.8; + .7 = 13.5: 16. 3.2 / .7 = 4.6
    "acrylic": ((panel("a", "4 mm", "acrylic"), panel("b", "2 mm", "aluminium")), screw("M4"), "13.5", 16, 4),
    # M8 lock nut on steel: 10 + 10 + 9.5 = 29.5; + 1.25 = 30.75: 35. 5.5 / 1.25 = 4.4
    "steel": ((panel("a", "10 mm", "steel"), panel("b", "10 mm", "steel")), screw("M8"), "30.75", 35, 4),
    # M3 nut: 1.5 + 1.5 + 2.4 = 5.4; + .5 = 5.9: 6. .6 / .5 = 1.2
    "small": (
        (panel("a", "1.5 mm", "steel"), panel("b", "1.5 mm", "steel")), screw("M3", "nut"), "5.9", 6, 1),
}  # fmt: skip


@pytest.mark.parametrize("name", METRIC_STACKS)
def test_metric_stacks(name):
    """The least length is the sum and one thread, the length the next of ISO 888; so many threads show."""
    parts, fastener, least, length, threads = METRIC_STACKS[name]
    found = case(fastener, *(layer(p) for p in parts), unit="mm").length
    assert found.least == Fraction(least)
    assert found.length == length
    assert int(found.showing) == threads


def test_a_tapped_plate():
    """10-32 through .125 into .25 tapped: the thread and a spare one, .125 + .25 + .03125 = .40625: 7/16."""
    tapped = layer(panel("mount", ".25", "aluminium 6061"), holds_thread=True)
    found = case(screw(held_by="tapped hole"), layer(panel("plate", ".125", "steel")), tapped).length
    assert found.least == Fraction(".40625") * IN
    assert found.length == inch("7/16")
    assert found.out == inch("1/16")


def test_a_thick_tapped_block():
    """M5 through 3 mm into 30 mm tapped: two diameters are enough, 3 + 10 = 13: 16."""
    tapped = layer(panel("block", "30 mm", "aluminium 6061"), holds_thread=True)
    found = case(screw("M5", "tapped hole"), layer(panel("plate", "3 mm", "steel")), tapped, unit="mm").length
    assert (found.least, found.length) == (13, 16)


def test_a_rivet_nut_in_a_tube():
    """10-32 through the lid into a rivet nut, body .531 over all: .049 + .118 + .531 = .698: 3/4."""
    wall = layer(tube("rail", "1 x 1 x 1/16", through=False), holds_thread=True)
    found = case(screw(held_by="rivet nut"), layer(LID), wall).length
    assert found.least == Fraction(".698") * IN
    assert found.length == inch("3/4")


@pytest.mark.parametrize(
    ("size", "a", "b", "code"),
    [
        ("1/8", ".063", ".062", "42"),
        ("1/8", ".063", ".063", "43"),
        ("3/16", ".125", ".25", "66"),
        ("5/32", ".062", ".063", "52"),
    ],
)
def test_blind_rivets_by_grip(size, a, b, code):
    """.063 + .063 = .126 is past 42. IFI 114 from memory: 42 to .125, 43 to .187, 66 to .375, 52 to .125."""
    plates = (layer(panel("a", a, "aluminium 5052")), layer(panel("b", b, "aluminium 5052")))
    assert case(rivet(size), *plates).length.size == f"{size} in code {code}"


def test_a_wood_screw():
    """#8, .118 into .709 of ply: 7 diameters, 1.148, do not fit; at most .118 + .709 - .039 = .788: 3/4."""
    found = case(wood_screw(), layer(LID), layer(panel("rib", ".709", "birch plywood"))).length
    assert found.length == inch("3/4")


def test_a_bought_part_of_known_thickness():
    """Lid .118 on a hinge of 1/16: .049 + .118 + .0625 + .240 = .4695; + .03125 = .50075: 5/8."""
    found = case(screw(), layer(LID), layer(bought("hinge", "1/16", "steel"))).length
    assert found.least == Fraction(".50075") * IN
    assert found.length == inch("5/8")
