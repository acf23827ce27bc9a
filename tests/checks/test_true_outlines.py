"""The checks for a router on parts that come as outline files, held against offsetting by another library."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
import shapely

from nestkit.checks.edges import web_at_openings
from nestkit.checks.tools import cutter_cannot_follow
from nestkit.geometry.outline import Outline
from nestkit.geometry.reach import necks, sharp_places, tight_places
from nestkit.geometry.regions import region
from nestkit.job.model import Job
from nestkit.job.reader import read_job

PLATES = read_job(Path(__file__).resolve().parents[2] / "sample_parts" / "routed_plates.toml")
LINES = [
    pytest.param(outline, opening, id=f"{panel.name} {number}")
    for panel in PLATES.panels
    for number, (outline, opening) in enumerate(
        ((panel.outline, False), *((o.outline, True) for o in panel.openings))
    )
]


def cut_by(cutter: float) -> Job:
    """The plates, cut by a cutter of this diameter."""
    group = PLATES.groups[0]
    return replace(PLATES, groups=(replace(group, way=replace(group.way, kerf=Fraction(cutter))),))


def test_the_plates_suit_their_cutter():
    """With 6 mm nothing is too tight, nor any web too thin: splines and ellipses raise no false alarm."""
    assert not list(cutter_cannot_follow(PLATES))
    assert not list(web_at_openings(PLATES))


def test_a_thick_cutter_meets_its_limits_where_they_are():
    """16 mm is too thick for the clip's channel, the bracket's slots and the hole in the pulley plate."""
    found = {f.place: f.text for f in cutter_cannot_follow(cut_by(16))}
    assert set(found) == {'panel "cable clip"', 'panel "motor bracket"', 'panel "pulley plate"'}
    assert "the part's edge: a width of 14 mm at 33, 19" in found['panel "cable clip"']
    assert found['panel "motor bracket"'].count("a width of 7 mm at") == 2
    assert "a width of 15.875 mm at" in found['panel "pulley plate"']


def lost(outline: Outline, radius: float, opening: bool) -> float:
    """The area that a cutter of this radius leaves standing along a line, by opening what is cut away."""
    area = region(outline)
    cut = area if opening else shapely.box(*area.bounds).buffer(6 * radius).difference(area)
    return cut.difference(cut.buffer(-radius, quad_segs=64).buffer(radius, quad_segs=64)).area


@pytest.mark.parametrize(("outline", "opening"), LINES)
@pytest.mark.parametrize("cutter", [3, 6, 10, 13.9, 16, 25, 39.5, 41])
def test_tight_is_what_offsetting_says_is_lost(outline, opening, cutter):
    """A line is told to be too tight exactly where a cutter would leave more than a hair standing."""
    radius = cutter / 2
    told = tight_places(outline, radius, opening=opening) or sharp_places(outline, radius, opening=opening)
    assert bool(told) == (lost(outline, radius, opening) > 0.003 * outline.length)


@pytest.mark.parametrize(("outline", "opening"), [p for p in LINES if not p.values[1]])
@pytest.mark.parametrize("limit", [10, 18, 23, 26, 30])
def test_a_part_told_to_have_no_neck_stays_in_one_piece(outline, opening, limit):
    """Where no neck is told, half the limit taken off all round leaves one piece."""
    shrunk = region(outline).buffer(-limit / 2 * 0.999)
    assert necks(outline, limit, opening=opening) or shrunk.geom_type == "Polygon"
