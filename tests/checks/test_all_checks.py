import ast
import inspect
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nestkit import checks
from nestkit.checks.all_checks import CHECKS, examine
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import rectangle, slot
from nestkit.trade.rules import rule

FOLDER = Path(checks.__file__).parent


def test_every_check_is_in_the_list():
    """A function of this room that takes a job and yields findings is in the list, once."""
    written = set()
    for path in FOLDER.glob("*.py"):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if not isinstance(node, ast.FunctionDef) or node.name.startswith("_"):
                continue
            if ast.unparse(node.returns or node) == "Iterator[Finding]":
                written.add(node.name)
    assert {check.__name__ for check in CHECKS} == written
    assert len(CHECKS) == len(written)


@pytest.mark.parametrize("check", CHECKS, ids=lambda c: c.__name__)
def test_every_check_says_its_rule_and_is_silent_on_a_plain_job(check, build):
    """A check opens with its rule in a sentence, and a plain sound panel is none of its business."""
    assert inspect.getdoc(check).splitlines()[0].endswith(".")
    holes = (build.hole(1, 50, 50), build.hole(2, 150, 50))
    for how in ("saw", "jigsaw", "router", "waterjet"):
        plain = build.panel(holes=holes, openings=[rectangle(20, 20, radius=5, at=Point(90, 40))])
        assert not list(check(build.job(plain, how=how, kerf="3.175")))


def messy(build, how="router"):
    """A job that has much wrong with it."""
    holes = tuple(build.hole(n + 1, 3.0 * n, 2.5, 5 + n / 50, name=f"{n}") for n in range(8))
    return build.job(
        build.panel("sound"),
        build.panel(
            "holed", holes=holes, openings=[slot(Point(100, 50), 30, 2), rectangle(20, 20, at=Point(1, 40))]
        ),
        build.panel("large", width=5000),
        how=how,
        kerf="6.35",
        unit="in",
    )


def test_a_panel_that_is_not_made_has_no_findings(build):
    """Of quantity 0 nothing is cut or drilled: only panels with a copy to make are checked."""
    job = messy(build)
    assert {f.place for f in examine(job)} >= {'panel "holed"', 'panel "large"'}
    idle = {p.name: replace(p, quantity=0) for p in job.panels if p.name != "sound"}
    panels = tuple(idle.get(p.name, p) for p in job.panels)
    job = replace(job, panels=panels, groups=(replace(job.groups[0], panels=panels),))
    assert not examine(job)
    room = tuple(replace(p, spare_if_room=1) if p.name == "large" else p for p in panels)
    found = examine(replace(job, panels=room, groups=(replace(job.groups[0], panels=room),)))
    assert {f.place for f in found} == {'panel "large"'}


def test_a_group_of_which_nothing_is_made_needs_no_stock(build):
    """No sheet for a panel of quantity 0 is no error."""
    idle = build.panel("idle", quantity=0)
    assert examine(build.job(replace(idle, quantity=1), sheets=()))
    assert not examine(build.job(idle, sheets=()))


def test_errors_come_first_then_by_panel(build):
    """Findings are in a fixed order: errors, then advice, each in the order of the panels."""
    found = examine(messy(build))
    assert found == examine(messy(build))
    levels = [f.level for f in found]
    assert levels == sorted(levels, key=("error", "advice").index)
    errors = [f.place for f in found if f.level == "error"]
    assert errors == sorted(errors, key=['panel "holed"', 'panel "large"'].index)
    assert {f.place for f in found} == {'panel "holed"', 'panel "large"'}


@pytest.mark.parametrize("how", ["saw", "jigsaw", "router", "laser", "waterjet"])
def test_findings_are_whole(build, how):
    """Each finding has text, remedy and source, its rule is in the table, and no panel has a rule twice."""
    found = examine(messy(build, how))
    for f in found:
        assert f.text
        assert f.remedy
        assert f.source
        if f.rule:
            assert f.source == rule(f.rule).behind()
        words = f.text.replace(rule(f.rule).note, "") if f.rule else f.text
        assert " mm" not in words  # the job is in inches
    told = [(f.level, f.rule, f.place, f.text) for f in found]
    assert len(told) == len(set(told))


@given(
    st.lists(st.tuples(st.floats(-20, 220), st.floats(-20, 120), st.floats(0.1, 80)), max_size=12),
    st.lists(st.tuples(st.floats(-20, 220), st.floats(-20, 120), st.floats(0.5, 90)), max_size=3),
    st.sampled_from(["saw", "jigsaw", "router", "laser", "waterjet"]),
    st.sampled_from(["polycarbonate", "plywood", "aluminium", "cardboard"]),
)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_holes_and_openings_are_judged_without_a_fault(build, holes, openings, how, material):
    """Whatever the drawing, every check comes to an end, and a mirrored part has the same errors."""
    made = build.panel(
        material=material,
        holes=tuple(build.hole(n + 1, *hole) for n, hole in enumerate(holes)),
        openings=[rectangle(w, w / 2, radius=w / 8, at=Point(x, y)) for x, y, w in openings],
    )
    found = examine(build.job(made, how=how))
    mirrored = examine(build.job(made.mirrored(), how=how))
    rules = [(f.level, f.rule) for f in found]
    assert sorted(rules) == sorted((f.level, f.rule) for f in mirrored)


def test_checking_loads_no_engine():
    """A check of plain parts loads neither shapely nor numpy: start-up time counts."""
    code = "import sys, nestkit.checks.all_checks; print({'shapely', 'numpy'} & set(sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "set()"
