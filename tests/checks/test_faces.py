"""Parts that may be turned over have nothing on one face that must be seen."""

import pytest

from nestkit.checks.faces import marks_on_alike_faces
from nestkit.geometry.points import Point
from nestkit.parts.holes import Mark

MARKS = (Mark(Point(20, 20), "FUSES", 8), Mark(Point(20, 60), "BATTERY", 8))


@pytest.mark.parametrize(
    ("faces", "marks", "fires"),
    [
        ("alike", MARKS, True),
        ("alike", MARKS[:1], True),
        ("alike", (), False),
        ("differ", MARKS, False),
    ],
)
def test_a_mark_and_alike_faces_contradict_each_other(build, faces, marks, fires):
    """A part with a text on one face has not two faces alike: turned over, the text lies beneath."""
    found = list(marks_on_alike_faces(build.job(build.panel(faces=faces, marks=marks))))
    assert bool(found) == fires
    if fires:
        (only,) = found
        assert (only.level, only.place) == ("advice", 'panel "lid"')
        assert "FUSES" in only.text
        assert 'faces = "differ"' in only.remedy


def test_a_hostile_mark_is_told_escaped(build):
    """What a finding repeats of a mark is one short line that can be printed."""
    hostile = (Mark(Point(5, 5), 'a"\u200b' + "x" * 110, 5),)
    (found,) = marks_on_alike_faces(build.job(build.panel(faces="alike", marks=hostile)))
    assert found.text.isprintable()
    assert len(found.text) < 250
