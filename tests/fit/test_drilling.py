"""The drill schedule against counts by hand, and each choice of another drill on both sides of its limit."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.checks.edges import edge_rule
from nestkit.fit.drill_choice import instead_of, loosest, merges, thread_percent
from nestkit.fit.drill_words import drill_lines, drills_in_all, hole_count, order_said
from nestkit.fit.drilled import drilled_holes
from nestkit.fit.drilling import drill_schedule
from nestkit.fit.result import DrillUse
from nestkit.geometry.points import Point
from nestkit.job.model import Job
from nestkit.parts.holes import Drill, Hole
from nestkit.parts.joint import Mate
from nestkit.trade.drills import drill as drill_row
from nestkit.units import MM_PER_INCH
from tests.fit import joint_jobs
from tests.fit.drill_bench import ROUTER, for_screw, for_tap, job, joint, named, owned, panel
from tests.laid_tubes import group, tube

NO_10 = for_screw("10-32")
"""#2, .221 in."""
BARE = Drill(7.77, "", "as the job gives it")


def lines_of(made: Job) -> dict[tuple[str, bool], list[DrillUse]]:
    """The schedule by the drill's name and whether it is a pilot."""
    found: dict[tuple[str, bool], list[DrillUse]] = {}
    for use in drill_schedule(made):
        found.setdefault((use.drill.name, use.pilot), []).append(use)
    return found


def only(made: Job) -> DrillUse:
    """The one line of a schedule that is no pilot's."""
    [use] = [use for use in drill_schedule(made) if not use.pilot]
    return use


def test_counts_by_hand():
    """Holes times copies, both hands and spares; a tube drilled through counts twice; pilots by material."""
    lid = panel("lid", NO_10, NO_10, NO_10, named("1/4"), quantity=2, opposite_hand=1, spare=1)
    plate = panel("plate", NO_10, NO_10, material="aluminium 6061", quantity=3)
    rows = group("lid", "A", 1, 4, 8, through=True), group("end", "B", 2)
    frame = tube("frame", "1 x 1 x 1/16", 22, *rows, quantity=2)
    found = lines_of(job(lid, plate, frame))
    # #2 in polycarbonate: 3 holes, 4 copies; in aluminium, under 6 mm, without a pilot: 2 holes, 3 copies.
    assert sorted((use.order, hole_count(use)) for use in found["#2", False]) == [
        (("#2",), 6),
        (("1/8 in", "#2"), 12),
    ]
    assert [(use.order, hole_count(use)) for use in found["1/4", False]] == [(("1/8 in", "1/4 in"), 4)]
    assert [hole_count(use) for use in found["1/8", True]] == [16]
    # Three through, one not: 7 walls, 2 copies.
    assert [hole_count(use) for use in found["#7", False]] == [14]
    assert [use.holes for use in found["#7", False]] == [((frame, 7, 2),)]


def test_smallest_first_and_each_hole_once():
    """Lines run up by diameter, and those that are no pilot's hold every hole of the job once."""
    made = job(panel("lid", NO_10, named("3/8"), for_tap("10-32"), BARE, named("3/8")), panel("post", NO_10))
    schedule = drill_schedule(made)
    assert [u.drill.dia for u in schedule] == sorted(u.drill.dia for u in schedule)
    assert sum(hole_count(use) for use in schedule if not use.pilot) == 6
    # 1/8 in, #21, #2, 1/4 in between, 7.77 mm, 3/8 in.
    assert drills_in_all(schedule) == 6


def test_what_is_said_alike_is_one_line():
    """A rivet's hole and a plain one of the same drill share a line until the shop lacks the drill."""
    riveted = joint(Mate("lid", (1,)), Mate("post", (1,)), kind="rivet", held_by="itself")
    made = job(panel("lid", named("#30"), named("#30"), material="hdpe"), joints=(riveted,))
    assert [hole_count(use) for use in drill_schedule(made)] == [2]
    lacking = replace(made, shop_drills=owned("3.3 mm"))
    assert sorted((use.instead, hole_count(use)) for use in drill_schedule(lacking)) == [
        ("buy the #30", 1),
        ("use 3.3 mm (.130), .001 in larger", 1),
    ]


def test_order_of_use():
    """Pilots first, the tap last, in words."""
    found = lines_of(job(panel("lid", NO_10, for_tap("10-32"), named("3/8"))))
    said = {name: [order_said(use) for use in same] for name, same in found.items()}
    assert said["#2", False] == ["1/8 in, then #2"]
    assert said["#21", False] == ["1/8 in, then #21, then tap 10-32"]
    assert said["3/8", False] == ["1/8 in, then 1/4 in, then 3/8 in"]
    assert said["1/4", True] == ["1/8 in, then 1/4 in"]


def test_what_a_machine_makes_is_left_out():
    """A router leaves what is narrower than its cutter to the drill; parts of quantity 0 have no holes."""
    holes = named("1/4"), named("6.3 mm"), named("3/8")
    found = list(drilled_holes(job(panel("lid", *holes), way=ROUTER)))
    assert [hole.drill.name for hole in found] == ["6.3 mm"]
    assert drill_schedule(job(panel("lid", *holes, quantity=0))) == ()


def test_speeds_are_for_polycarbonate():
    """The rule at the drill's size or the next above it (R064 to R066); none for plywood."""
    found = lines_of(job(panel("lid", NO_10, named("1/2"))))
    assert [use.speed for use in found["1/8", True]] == ["1750 rpm, .001 in/rev (R064)"]
    assert [use.speed for use in found["#2", False]] == ["1500 rpm, .002 in/rev (R065)"]
    assert [use.speed for use in found["1/2", False]] == ["500 rpm, .004 in/rev (R066)"]
    assert only(job(panel("deck", NO_10, material="plywood birch"))).speed == ""


def test_a_step_drill_has_no_speed():
    """Over 1/2 in the rules, which are for twist drills, say nothing."""
    assert only(job(panel("lid", named("3/4")))).speed == ""


def instead(hole: Drill, *names: str, joints=(), **more: object) -> str:
    """What to use for one hole in the middle of a panel when the shop owns only some drills."""
    made = job(panel("lid", hole, material="hdpe", **more), joints=joints, shop_drills=owned(*names))
    return only(made).instead


def test_an_owned_drill_needs_no_other():
    """With its own drill in the shop nothing is said, nor where the job does not say what is owned."""
    assert instead(NO_10, "#2", "B") == ""
    assert only(job(panel("lid", NO_10))).instead == ""


def test_the_same_size_by_another_name():
    """E is 1/4 in."""
    assert instead(named("E"), "1/4") == "use 1/4 in (.250), the same size"


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (("7/32", "B", "1/4"), "use B (.238), within the loose fit of 10-32"),  # 7/32 is .0022 in too small
        (("6.4 mm",), "use 6.4 mm (.252), within the loose fit of 10-32"),  # .25197; the most is .252
        (("F",), "buy the #2"),  # .257
        (("7/32",), "buy the #2"),
        ((), "buy the #2"),
    ],
)
def test_instead_of_a_clearance_drill(names, said):
    """The next owned drill above, up to the widest hole of the loose fit; never a smaller one."""
    assert instead(NO_10, *names) == said


def test_a_metric_clearance_goes_to_the_coarse_fit():
    """M5 medium is 5.5 mm, its widest coarse hole 6.1 mm (5.8 + H14, computed)."""
    assert instead(for_screw("M5"), "6 mm") == "use 6 mm (.236), within the coarse fit of M5"
    assert instead(for_screw("M5"), "6.2 mm") == "buy the 5.5 mm"
    assert loosest("M5").hole_max == Fraction("6.1")


def test_a_hole_near_the_edge_gets_no_larger_drill():
    """Where the next drill up would break the edge rule newly, it says so; on the limit it does not."""
    # HDPE (R004) counts from the hole's centre, in hole diameters.
    limit = _edge_limit("hdpe", NO_10, 6.0452)
    made = panel("lid", NO_10, material="hdpe")
    parts = [replace(made, holes=(Hole(1, Point(200.0, y), NO_10, "row"),)) for y in (limit, limit - 0.01)]
    said = [only(job(part, shop_drills=owned("B"))).instead for part in parts]
    assert said[0] == "use B (.238), within the loose fit of 10-32"
    assert said[1] == "buy the #2; B (.238) brings holes too near to an edge (R004)"


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (("5/32",), "use 5/32 in (.156): 83 % of the thread"),
        (("#20",), "use #20 (.161): 71 % of the thread"),
        (("#29",), "buy the #21"),  # .136: 133 %
        (("11/64",), "buy the #21"),  # .1719: 45 %
    ],
)
def test_instead_of_a_tap_drill(names, said):
    """The nearest owned drill that leaves 50 to 85 percent of the thread, else it is bought."""
    assert instead(for_tap("10-32"), *names) == said


def test_percent_of_thread():
    """The checks of the reference: 10-32 with #21, 1/4-20 with #7, M5 with 4.2 mm."""
    inch = float(MM_PER_INCH)
    assert thread_percent("10-32", 0.159 * inch) == pytest.approx(76.4, abs=0.05)
    assert thread_percent("1/4-20", 0.201 * inch) == pytest.approx(75.4, abs=0.05)
    assert thread_percent("M5", 4.2) == pytest.approx(77.0, abs=0.05)


def test_any_other_drill_is_less_than_ten_thousandths_off():
    """A plain hole takes the nearest owned drill under .010 in away (R102), else its own is bought."""
    assert instead(named("#7"), "13/64") == "use 13/64 in (.203), .002 in larger"
    assert instead(named("#7"), "5.1 mm") == "use 5.1 mm (.201), the same hole"
    assert instead(named("#7"), "#10") == "use #10 (.194), .008 in smaller"  # .1935
    assert instead(named("#7"), "#11") == "buy the #7"  # .1910, just .010 in less
    assert instead(named("#7"), "3/16") == "buy the #7"


def test_a_size_without_a_drill():
    """A bare diameter takes a near drill; else no drill can be bought for it."""
    assert instead(BARE, "7.8 mm") == "use 7.8 mm (.307), .001 in larger"
    assert instead(BARE, "1/4") == "no drill has this size: name the one to use"


def test_rivets_want_their_own_drill():
    """In a joint of blind rivets a hole .003 in larger is no good."""
    riveted = joint(Mate("lid", (1,)), Mate("post", (1,)), kind="rivet", held_by="itself")
    assert instead(named("#30"), "3.3 mm") == "use 3.3 mm (.130), .001 in larger"
    assert instead(named("#30"), "3.3 mm", joints=(riveted,)) == "buy the #30"


def test_a_plain_hole_of_a_screw_joint_only_gets_wider():
    """#7 in a joint of 10-32 screws: 13/64 will do, #11 will not, though both are near."""
    screwed = joint(Mate("lid", (1,)), Mate("post", (1,)))
    assert instead(named("#7"), "13/64", "#11", joints=(screwed,)) == (
        "use 13/64 in (.203), within the loose fit of 10-32"
    )
    assert instead(named("#7"), "#11", joints=(screwed,)) == "buy the #7"


def merged(*drills: Drill, joints=(), material: str = "hdpe", kept=()) -> dict[str, str]:
    """Which drills of one panel another can stand in for, by name."""
    made = job(panel("lid", *drills, material=material), joints=joints)
    return {name: said for (_, name), said in merges(drilled_holes(made), kept, "in").items()}


def test_two_clearance_drills_become_one():
    """#9 of 8-32 and #7: nearer than .010 in, so the larger does for both."""
    assert merged(for_screw("8-32"), named("#7")) == {"#9": "#7 (.201), .005 in larger"}


def test_drills_ten_thousandths_apart_stay_two():
    """#9 (.1960) and #5 (.2055) are .0095 in apart and merge; #9 and 5.3 mm (.2087) do not."""
    assert merged(for_screw("8-32"), for_screw("10-32", "close")) == {"#9": "#5 (.205), .009 in larger"}
    assert merged(for_screw("8-32"), for_screw("M5", "fine")) == {}


def test_a_joint_bears_its_loose_fit_and_no_more():
    """In a joint the larger drill stays within the widest loose hole: of 8-32 .225 in, of 6-32 .197 in."""
    screwed = joint(Mate("lid", (1,)), Mate("post", (1,)))
    loose = for_screw("6-32", "loose")  # #13, .185
    assert merged(loose, named("#10")) == {"#13": "#10 (.194), .009 in larger"}
    assert merged(loose, named("#10"), joints=(screwed,)) == {"#13": "#10 (.194), .009 in larger"}
    wide = replace(loose, dia=4.97, name="4.97 mm")
    over = replace(named("#7"), name="#7")
    assert merged(wide, over) == {"4.97 mm": "#7 (.201), .005 in larger"}
    assert merged(wide, over, joints=(screwed,)) == {}


def test_tap_drills_and_bearings_are_never_merged():
    """A tap drill keeps its size; a bare hole only gives way to a drill that makes the same hole."""
    assert merged(for_tap("10-32"), named("#20")) == {}
    assert merged(named("#7"), named("13/64")) == {}
    assert merged(named("5.1 mm"), named("#7")) == {"5.1 mm": "#7 (.201), the same hole"}
    # The other way round a plain hole may be made with a tap drill, which stays: #9 is .0009 in under 5 mm.
    assert merged(for_tap("M6"), named("#9")) == {"#9": "5 mm (.197), the same hole"}


def test_a_merge_keeps_the_edge_rule():
    """A hole that the larger drill brings too near to the edge keeps its own drill."""
    limit = _edge_limit("hdpe", for_screw("8-32"), named("#7").dia)
    for y, wanted in ((limit, ["#9"]), (limit - 0.01, [])):
        holes = (
            Hole(1, Point(100.0, y), for_screw("8-32"), "a"),
            Hole(2, Point(200.0, 50.0), named("#7"), "b"),
        )
        made = job(panel("lid", material="hdpe", holes=holes))
        assert [name for _, name in merges(drilled_holes(made), (), "in")] == wanted


def test_a_drill_is_left_out_only_if_all_its_holes_can_do_without():
    """#9 serves 8-32 screws and a plain hole: the plain one keeps it, so nothing is won."""
    assert merged(for_screw("8-32"), named("#9"), named("#7")) == {}


def test_a_drill_goes_to_one_that_stays():
    """Of three drills in a row both small ones go to the largest: the middle one is not laid out."""
    a, b, c = (replace(for_screw("8-32"), dia=dia, name=f"{dia} mm") for dia in (5.0, 5.1, 5.2))
    found = merged(a, b, c)
    assert set(found) == {"5.0 mm", "5.1 mm"}
    assert all(said.startswith("5.2 mm") for said in found.values())


def test_a_pilot_in_use_is_laid_out_anyway():
    """A drill that also begins other holes is no less to lay out, and is not merged."""
    pilot = named("1/8")
    assert merged(for_screw("4-40", "close"), pilot) == {"#31": "1/8 in (.125), .005 in larger"}
    close = replace(for_screw("4-40", "close"), dia=3.175, name="1/8")
    assert merged(close, named("3.3 mm"), kept=(pilot,)) == {}


def _edge_limit(material: str, hole: Drill, dia: float) -> float:
    """Where a hole of ``dia`` mm just keeps the edge rule of a material."""
    by = edge_rule(material)
    assert by is not None
    return by.wants(replace(hole, dia=dia))


def test_lines_for_people():
    """A table, the holes by part, what is missing and what can be merged, and how many to lay out."""
    lid = panel("console lid", NO_10, NO_10, quantity=2)
    post = panel("post", for_screw("8-32"), named("#7"), for_tap("10-32"), material="hdpe")
    made = job(lid, post, shop_drills=owned("1/8", "B", "#21", "#7"))
    said = drill_lines(made, drill_schedule(made))
    rows = [line.split("  ") for line in said]
    assert [cell.strip() for cell in rows[0] if cell] == [
        *("drill", "size", "holes", "parts", "for", "in this order", "speed"),
    ]
    [two] = [[cell.strip() for cell in row if cell] for row in rows if row[0] == "#2"]
    assert two == [
        "#2",
        ".221 in",
        "4",
        "1",
        "10-32 normal",
        "1/8 in, then #2",
        "1500 rpm, .002 in/rev (R065)",
    ]
    assert "#2, 10-32 normal, in polycarbonate: console lid 2 in each of 2." in said
    assert "#2, 10-32 normal is not here: use B (.238), within the loose fit of 10-32." in said
    assert "#9 (.196) can be left out: #7 (.201), .005 in larger, spoils no joint." in said
    assert said[-1] == "5 drills to lay out; 4 would do."
    assert any(line.startswith("Polycarbonate: compressed air or water; no cutting oil") for line in said)


def test_no_holes_no_table():
    """A job without a hole to drill by hand says just that."""
    made = job(panel("lid"))
    assert drill_lines(made, drill_schedule(made)) == ["No hole is drilled by hand."]


def test_instead_of_nothing_for_a_hole_saw():
    """What a step drill or a hole saw makes is not looked for among twist drills."""
    made = job(panel("lid", named("3/4")))
    assert instead_of(named("3/4"), list(drilled_holes(made)), [drill_row("1/8")], "in") == ""
    said = drill_lines(made, drill_schedule(made))
    assert "3/4 in: step drill or hole saw, the work clamped (R103)." in said


def test_a_tap_drill_is_never_left_out():
    """4.2 mm is .0006 in under a #19: a plain hole may be either, the one for an M5 tap is not."""
    holes = 'drill = "{}"\n  at = [[50, 50]]\n  [[panel.holes]]\n  name = "h"\n  {}\n'

    def merged(made):
        text = joint_jobs.panel("a", "[[20, 20]]", holes.format("#19", made), material="aluminium 6061")
        return {use.drill.name: use.merge for use in drill_schedule(joint_jobs.job(text))}

    assert merged('drill = "4.2 mm"')["4.2 mm"].startswith("#19")
    assert merged('tap = "M5"') == {"4.2 mm": "", "#19": ""}
