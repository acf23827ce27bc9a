"""What may be off about a joint's holes, part by part."""

from __future__ import annotations

import math
from ast import literal_eval
from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.fit.assemble import assemble
from nestkit.fit.chance import chance_as_planned
from nestkit.fit.fit_job import fit_job
from nestkit.fit.spread_of import plan_of, print_share, spread_of
from nestkit.fit.trials import tried
from nestkit.job.model import Fitting, Temperatures
from nestkit.parts.gangs import gangs_of
from nestkit.trade.materials import density
from tests.fit.joint_jobs import job, joint, panel, tube

ROW = "[[10, 10], [150.3, 10]]"


def spread(made, *, together=None, **more):
    """Return the spread of a job's first joint."""
    found = assemble(made, made.joints[0])
    assert not found.faults, found.faults
    return spread_of(made, found, plan_of(made, found), gangs_of(made.tubes), **more)


def chance(made, trials=4_000):
    """Return the chance of a job's first joint as it is planned."""
    found = assemble(made, made.joints[0])
    return chance_as_planned(made, found, plan_of(made, found), gangs_of(made.tubes), trials, 1)


def by(method):
    """Return the line that says how a part is marked."""
    return f'method = "{method}"'


def test_marks_by_a_table_are_off_by_what_it_rounds():
    """Marked to 0.5 mm, a hole at 150.3 is marked at 150.5: off by 0.2, for certain; at 10 it is not."""
    made = job(
        panel("a", ROW, more=by("rule and pencil")), panel("b", ROW, more=by("template")), joint("a", "b")
    )
    a, b = spread(made).walls
    assert [tuple(round(v, 9) for v in p) for p in a.bias] == [(0, 0), (0.2, 0)]
    assert all(p == (0.0, 0.0) for p in b.bias)


def test_both_parts_rounded_alike_are_not_off_from_one_another():
    """The same error in both parts is none between them."""
    made = job(
        panel("a", ROW, more=by("rule and pencil")),
        panel("b", ROW, more=by("rule and pencil")),
        joint("a", "b"),
    )
    a, b = spread(made).walls
    assert a.bias == b.bias


def test_a_turned_part_is_rounded_along_its_own_axes():
    """A part that lies turned a quarter has its marks' errors turned with it."""
    upright = "[[10, 10], [10, 50.3]]"
    flat = panel("a", "[[10, 10], [50.3, 10]]", more=by("template"))
    made = job(flat, panel("b", upright, more=by("rule and pencil")), joint("a", "b"))
    _, b = spread(made).walls
    off = sorted((round(p.x, 9), round(p.y, 9)) for p in b.bias)
    assert off == [(0.0, 0.0), (0.2, 0.0)] or off == [(-0.2, 0.0), (0.0, 0.0)]
    assert abs(abs(b.turn_deg) - 90) < 1e-9


def test_a_template_has_its_print_s_scale():
    """Each axis of a template has one more error that grows with the distance from its datum."""
    made = job(panel("a", ROW, more=by("template")), panel("b", ROW, more=by("router")), joint("a", "b"))
    found = spread(made)
    assert len(found.shared) == 2
    along, across = (error.moves[0] for error in found.shared)
    share = print_share(150.3)
    assert [m.x for m in along] == pytest.approx([10 * share, 150.3 * share])
    assert [m.y for m in across] == pytest.approx([10 * print_share(10)] * 2)
    assert all(m == (0.0, 0.0) for error in found.shared for m in error.moves[1])


def test_a_print_s_scale_is_bounded_by_rulers_and_by_measured_diagonals():
    """0.2 percent is 2 sigma up to 400 mm; beyond, two marks of R049 (0.8 mm) are."""
    assert print_share(100) == pytest.approx(0.001)
    assert print_share(400) == pytest.approx(0.001)
    assert print_share(800) * 800 == pytest.approx(0.4)
    assert print_share(0) == 0.0


def test_tubes_squared_across_together_share_where_holes_lie_along_them():
    """Of tubes clamped and squared across only what the line is off from one to the other differs."""
    texts = [tube(n, "[20, 100, 180]", more=by("rule and pencil")) for n in ("a", "b")]
    made = job(*texts, joint("a", "b"))
    found = spread(made)
    assert found.walls[0].sigma == (pytest.approx(0.1), pytest.approx(0.25))
    assert len(found.shared) == 6
    assert all(error.moves[0] == error.moves[2] or error.moves[1] == error.moves[3] for error in found.shared)
    texts[1] = tube("b", "[20, 100, 180]", more=by("tape and marker"))
    other = job(*texts, joint("a", "b"))
    apart = replace(found, shared=(), walls=tuple(replace(w, sigma=(0.25, 0.25)) for w in found.walls))
    assert tried(found, 4_000, 1).value > tried(apart, 4_000, 1).value + 0.02
    assert chance(made).value > chance(other).value


def test_both_walls_from_one_side_lean():
    """In one go the far wall is off by the near one and the lean: 1 degree (R095) is .44 mm in 1 in."""
    made = job(panel("a", ROW), tube("b", "[10, 150.3]"), joint("a", "b"))
    each = spread(made)
    in_one = spread(replace(made, fitting=Fitting(in_one_go=True)))
    press = spread(replace(made, fitting=Fitting(in_one_go=True, press=True)))
    assert [w.follows for w in each.walls] == [None, None, None]
    assert [w.follows for w in in_one.walls] == [None, None, 1]
    assert in_one.walls[2].sigma[0] == pytest.approx(25 * math.tan(math.radians(1)) / 2)
    assert press.walls[2].sigma[0] == pytest.approx(25 * math.tan(math.radians(0.2)) / 2)
    assert 25.4 * math.tan(math.radians(1)) == pytest.approx(0.44, abs=0.005)


def test_parts_drilled_together_follow_the_first():
    """made = together: every other wall is drilled through the first, and has R051 alone beyond it."""
    made = job(
        panel("a", ROW, more=by("tape and marker")), tube("b", "[10, 150.3]", more=by("tape and marker")),
        joint("a", "b", more='made = "together"'),
    )  # fmt: skip
    found = spread(made)
    assert [w.follows for w in found.walls] == [None, 0, 0]
    assert found.walls[1].sigma == (pytest.approx(0.05), pytest.approx(0.05))
    assert all(p == (0.0, 0.0) for p in found.walls[1].bias)
    assert chance(made).value > 0.999


def test_a_part_that_is_match_drilled_follows_the_other():
    """The method of a part may say that it is drilled through its mate, also where it comes first."""
    made = job(
        panel("a", ROW, more=by("match drilled")),
        panel("b", ROW, more=by("tape and marker")),
        joint("a", "b"),
    )
    first, second = spread(made).walls
    assert (first.layer, second.layer) == (1, 0)
    assert (first.follows, second.follows) == (None, 0)
    assert chance(made).value == pytest.approx(1.0, abs=1e-6)


def test_unlike_materials_grow_apart():
    """Polycarbonate on aluminium, 140 mm, 25 degrees warmer: the ends part by 140 x 25 x (67.5 - 23.5)e-6."""
    made = job(
        panel("a", ROW, more=by("router")), panel("b", ROW, material="aluminium 6061", more=by("router")),
        joint("a", "b"),
    )  # fmt: skip
    warm = spread(made, warmer=25.0)
    apart = [a.x - b.x for a, b in zip(warm.walls[0].bias, warm.walls[1].bias, strict=True)]
    assert apart[1] - apart[0] == pytest.approx(140.3 * 25 * (67.5 - 23.5) * 1e-6, rel=0.02)
    assert apart[0] == pytest.approx(-apart[1])
    assert spread(made).walls[0].bias == spread(made).walls[1].bias


def test_a_joint_is_judged_at_the_worst_of_its_temperatures():
    """A range of temperatures lowers the chance, a wider one more; parts of one material do not mind."""
    row = "[[5, 10], [195, 10]]"
    texts = [
        panel("a", row, more=by("router")),
        panel("b", row, material="aluminium 6061", more=by("router")),
    ]
    made = job(*texts, joint("a", "b"))
    cold = replace(made, fitting=Fitting(temperatures=Temperatures(0.0, 40.0)))
    arctic = replace(made, fitting=Fitting(temperatures=Temperatures(-60.0, 40.0)))
    assert chance(made).value >= chance(cold).value > chance(arctic).value
    alike = job(panel("a", row, more=by("router")), panel("b", row, more=by("router")), joint("a", "b"))
    assert chance(replace(alike, fitting=arctic.fitting)) == chance(alike)


def test_a_held_joint_has_less_of_a_chance():
    """Parts held by their edges cannot take up what is off alike in all holes."""
    texts = [panel(n, "[[10, 10], [190, 10], [190, 90], [10, 90]]") for n in ("a", "b")]
    free, held = (job(*texts, joint("a", "b", more=m)) for m in ("", "held = true"))
    assert spread(held).freedom == "none"
    assert chance(held).value < chance(free).value


def test_a_tapped_part_leaves_no_play():
    """The wall that holds the screw has no play, the clear one half its clearance."""
    made = job(panel("a", ROW), panel("b", ROW, 'tap = "M5"', material="aluminium 6061"), joint("a", "b"))
    a, b = spread(made).walls
    assert b.plays == (0.0, 0.0)
    assert a.plays == (pytest.approx(0.25), pytest.approx(0.25))


CORNERS = "[[10, 10], [150, 10], [150, 80], [10, 80]]"


def mirrored(places: str) -> str:
    """Return the places of a panel's opposite hand."""
    return str([[200 - x, y] for x, y in literal_eval(places)])


def moved(places: str, dx: float, dy: float) -> str:
    """Return places moved as a whole."""
    return str([[x + dx, y + dy] for x, y in literal_eval(places)])


def turned(places: str) -> str:
    """Return places turned by a half turn of the panel."""
    return str([[200 - x, 100 - y] for x, y in literal_eval(places)])


@pytest.mark.parametrize(
    "other", [mirrored(CORNERS), moved(CORNERS, 20, 6), turned(CORNERS)], ids=["mirrored", "moved", "turned"]
)
@pytest.mark.parametrize("held", [False, True])
def test_a_joint_moved_turned_or_mirrored_as_a_whole_is_the_same(other, held):
    """Both parts' holes changed alike: the chance stays, exactly where it is in closed form."""
    more = "held = true" if held else ""

    def both(places):
        texts = [panel(n, places, 'screw = "M5"\n  fit = "fine"', more=by("router")) for n in ("a", "b")]
        return chance(job(*texts, joint("a", "b", more=more)), 8_000)

    before, after = both(CORNERS), both(other)
    if held:
        assert before.error == 0
        assert after.value == pytest.approx(before.value, abs=1e-12)
    assert abs(after.value - before.value) <= 4 * (before.error + after.error) + 1e-12


def test_the_step_of_the_tables_matters():
    """Tables rounded to a whole centimetre lower the chance of a rule's marks."""
    texts = [
        panel("a", "[[10, 10], [154, 10]]", more=by("rule and pencil")),
        panel("b", "[[10, 10], [154, 10]]", more=by("router")),
    ]
    made = job(*texts, joint("a", "b"))
    coarse = replace(made, marking_to=Fraction(10))
    assert chance(coarse).value < 0.05 < chance(made).value


RULE = 'screw = "M5"'


def test_tubes_of_a_gang_that_are_drilled_together_are_not_marked_twice():
    """Drilled through one another they share one line of marks, and no second one comes between them."""
    tubes = [tube(name, "[10, 60, 190]", RULE, more=by("rule and pencil")) for name in ("a", "b")]
    for made_so in ('made = "together"', 'made = "together"\nheld = true'):
        found = spread(job(*tubes, joint("a", "b", more=made_so)))
        assert not found.shared
        assert [wall.follows for wall in found.walls] == [None, 0, 0, 0]
        assert tried(found, 4_000, 1).value > 0.999


def test_what_is_drilled_through_a_tube_of_a_gang_has_its_lines():
    """Two tubes are marked in a gang and a plate is drilled through one: it has all errors of that one."""
    tubes = [tube(name, "[10, 60, 190]", RULE, more=by("rule and pencil")) for name in ("a", "b")]
    plate = panel("plate", "[[10, 20], [60, 20], [190, 20]]", more=by("match drilled"))
    found = spread(job(*tubes, plate, joint("a", "b", "plate")))
    lead = next(i for i, wall in enumerate(found.walls) if wall.layer == 0)
    follower = next(i for i, wall in enumerate(found.walls) if wall.layer == 2)
    assert found.walls[follower].follows == lead == 0
    assert found.shared
    for error in found.shared:
        assert error.moves[follower] == error.moves[lead]


@pytest.mark.parametrize("through", [True, False])
def test_a_thread_in_both_walls_of_a_tube_holds_in_the_first_alone(through):
    """The screw ends in the first wall (its length is for that), so a second tapped one changes nothing."""
    tapped = tube("post", "[10, 150]", 'tap = "M5"', through=through)
    lid = panel("lid", "[[10, 50], [150, 50]]", 'screw = "M5"\n  fit = "coarse"')
    made = job(lid, tapped, joint("lid", "post"))
    assert len(spread(made).walls) == 2
    assert chance(made).value > 0.5
    assert "R112" not in {conflict.rule for conflict in fit_job(made, trials=100).hardware.conflicts}


def test_what_is_drilled_through_a_template_marked_part_has_its_print_s_scale():
    """A print that is out moves the holes of both alike: it takes nothing of what is left between them."""
    made = job(panel("a", ROW), panel("b", ROW), joint("a", "b", more='made = "together"'))
    found = spread(made)
    assert found.shared
    assert all(error.moves[0] == error.moves[1] != ((0.0, 0.0), (0.0, 0.0)) for error in found.shared)


def test_what_is_drilled_through_another_grows_by_its_own_material():
    """Warmer by 10 C, holes of polycarbonate drilled through aluminium stand outside of its holes."""
    made = job(
        panel("a", "[[10, 50], [110, 50]]", material="aluminium 6061"), panel("b", "[[10, 50], [110, 50]]"),
        joint("a", "b", more='made = "together"'),
    )  # fmt: skip
    left, right = spread(made, warmer=10.0).walls[1].bias
    more = 50 * 10 * (float(density("polycarbonate").growth) - float(density("aluminium 6061").growth)) * 1e-6
    assert (left.x, right.x) == (pytest.approx(-more), pytest.approx(more))


@pytest.mark.parametrize(("across", "off"), [(None, 0.0), (12.3, 0.3)])
def test_a_line_in_the_middle_of_a_face_is_not_rounded(across, off):
    """The middle is found by halving the face, 12.5 mm; any other line is measured, here to 1 mm."""
    rail = tube("rail", "[10, 150]", more=by("rule and pencil"))
    if across is not None:
        rail = rail.replace('face = "A"', f'face = "A"\n  across = {across}')
    made = job(rail, panel("lid", "[[10, 50], [150, 50]]"), joint("rail", "lid"), "\n[marking]\nto = 1\n")
    assert [abs(round(p.y, 9)) for p in spread(made).walls[0].bias] == [off, off]


def test_a_long_print_is_out_by_two_marks_at_its_furthest_hole_at_most():
    """At 1,000 mm 0.2 % would be 2 mm; two measured diagonals leave twice 0.4 mm as 2 sigma."""
    long = panel("a", "[[10, 50], [1000, 50]]").replace('["200 mm", "100 mm"]', '["1100 mm", "100 mm"]')
    made = job(long, long.replace('"a"', '"b"'), joint("a", "b"))
    furthest = max(abs(move.x) for error in spread(made).shared for wall in error.moves for move in wall)
    assert furthest == pytest.approx(0.4)


def test_a_steady_offset_matters_where_parts_are_held():
    """Marks that practice shows to be off alike lower the chance of held parts, and not that of free ones."""
    practice = """
[[practice]]
method = "scribe and punch"
wanted = [[0, 0], [10, 0], [20, 0], [30, 0], [40, 0], [50, 0]]
measured = [[0.3, 0.05], [10.35, 0], [20.3, -0.05], [30.3, 0], [40.35, 0.05], [50.25, 0]]
"""
    texts = [
        panel("a", CORNERS, more=by("scribe and punch")),
        panel("b", CORNERS, more=by("router")),
        practice,
    ]
    held, free = (job(*texts, joint("a", "b", more=more)) for more in ("held = true", ""))
    steady = spread(held).walls[0].bias
    assert all(p.x == pytest.approx(0.30833, abs=1e-4) for p in steady)
    level = practice.replace("0.3,", "0.05,").replace("10.35", "10.1").replace("20.3,", "20,")
    level = level.replace("30.3", "30").replace("40.35", "40.05").replace("50.25", "49.8")
    straight = job(*texts[:2], level, joint("a", "b", more="held = true"))
    assert all(p == (0.0, 0.0) for p in spread(straight).walls[0].bias)
    assert chance(held).value < chance(straight).value - 0.001
    assert chance(free).value > 0.99
