"""What the packing library reaches alone, for comparison."""

from __future__ import annotations

from fractions import Fraction

import pytest


@pytest.fixture
def settings(program):
    """The module of the library's settings."""
    return program("rectpack_settings")


def instance(items, containers, **task):
    """An instance with one task."""
    asked = {"kind": "bin2d", "goal": "min_bins", "rot90": False, "guillotine": False, **task}
    return {"name": "n", "group": "g", "items": items, "containers": containers}, asked


def test_values_are_those_of_complete_layouts(settings, program):
    """Four quarters take one sheet; a kerf makes that two; what does not fit has no value."""
    pose = program("bin2d").pose
    sheet = [[10, 10, None, None]]
    values = settings.values_of(pose(*instance([[5, 5, 4]], sheet)))
    assert len(values) > 40
    assert set(values.values()) == {1}
    assert min(settings.values_of(pose(*instance([[5, 5, 4]], sheet, kerf=1))).values()) == 4
    assert set(settings.values_of(pose(*instance([[11, 5, 1]], sheet))).values()) == {None}


def test_stock_is_limited_and_priced(settings, program):
    """No more sheets are taken than there are, and each counts what it costs."""
    pose = program("bin2d").pose
    stock = [[10, 10, 1, None], [20, 10, None, None]]
    values = settings.values_of(pose(*instance([[10, 10, 2]], stock, goal="min_area")))
    assert min(v for v in values.values() if v is not None) == 200
    values = settings.values_of(pose(*instance([[10, 10, 2]], stock[:1], goal="min_area")))
    assert set(values.values()) == {None}


def test_what_may_not_turn_is_not_turned(settings, program):
    """One fixed part among turning ones keeps the library from turning any."""
    made, task = instance([[5, 10, 1], [10, 5, 1]], [[10, 10, None, None]], rot90=True)
    pose = program("bin2d").pose
    assert min(settings.values_of(pose(made, task)).values()) == 1
    assert min(settings.values_of(pose(made | {"fixed": [True, False]}, task)).values()) == 2


def test_strips_have_their_length_with_margins(settings, program):
    """Two parts beside each other on a strip: their height and both margins, in the file's units."""
    made, task = instance([[5, Fraction(5, 2), 2]], [[12, None, None, None]])
    task |= {"kind": "strip2d", "goal": "min_height", "margin": 1}
    values = settings.values_of(program("strip2d").pose(made, task))
    assert min(values.values()) == Fraction(9, 2)


def test_settings_are_those_that_can_do_the_task(settings, program):
    """Tasks from edge to edge take the packers that cut so; with stages there is none."""
    pose = program("bin2d").pose
    sheet = [[10, 10, None, None]]
    sawn = settings.values_of(pose(*instance([[5, 5, 1]], sheet, guillotine=True)))
    assert sawn
    assert all(s[0].startswith("Guillotine") for s in sawn)
    assert settings.values_of(pose(*instance([[5, 5, 1]], sheet, guillotine=True, stages=2))) == {}


def test_the_runner_shows_them(run, capsys):
    """The runner's table has both columns and names the setting."""
    status, _ = run("--kind", "strip2d", "--rectpack")
    assert status == 0
    text = capsys.readouterr().out
    assert "rectpack, one" in text
    assert "rectpack's best setting, turning:" in text
