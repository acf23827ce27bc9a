"""Names with letters that the type of the prints does not have are told before anything is printed."""

from dataclasses import replace

import pytest

from nestkit.checks.letters import letters_not_in_type
from nestkit.geometry.points import Point
from nestkit.parts.holes import Mark


@pytest.mark.parametrize("name", ["lid", "Käpt’n Ø 5 ½", "Ł ž œ € … – ≤"])
def test_letters_that_the_type_has_are_fine(build, name):
    """Western European letters and the trade's signs are printed as they are."""
    assert not list(letters_not_in_type(build.job(build.panel(name))))


@pytest.mark.parametrize(
    ("name", "letters", "code"),
    [
        ("船体 lid", "船 (U+8239), 体 (U+4F53)", "U+8239"),
        ("hull \U0001f6a4", "\U0001f6a4 (U+1F6A4)", "U+1F6A4"),
        ("łódź", "ź (U+017A)", "U+017A"),
        ("e\u0301", "U+0301", "U+0301"),
        ("a\u200bb", "U+200B", "U+200B"),
    ],
)
def test_a_name_is_told_with_its_letters_and_their_codes(build, name, letters, code):
    """The advice names place and letters, and what a print will show in their stead."""
    (found,) = letters_not_in_type(build.job(build.panel(name)))
    assert (found.level, found.rule) == ("advice", "")
    assert found.place == f'panel "{name}", name'
    assert f"has no {letters}" in found.text
    assert found.remedy == f"write it in plain Latin letters, or expect {code} on prints"
    assert "Vera" in found.source


def test_every_name_that_is_printed_is_looked_at(build):
    """Job, stock, material, part, purpose, revision, hole group, mark: one advice each, where it is."""
    hole = replace(build.hole(1, 20, 20), group="孔")
    made = build.panel(
        "盖",
        "板材",
        holes=(hole, replace(hole, number=2, at=Point(50, 50))),
        marks=(Mark(Point(5, 5), "ok", 5), Mark(Point(5, 50), "上", 5)),
        used_for="船",
        revision="甲",
    )
    job = replace(build.job(made, sheets=(build.sheet("料", "板材"),)), name="工")
    assert [f.place for f in letters_not_in_type(job)] == [
        "job",
        'sheet "stock", name'.replace("stock", "料"),
        'sheet "料", material',
        'panel "盖", name',
        'panel "盖", for',
        'panel "盖", revision',
        'panel "盖", holes "孔", name',
        'panel "盖", marks 2, text',
    ]


def test_a_word_that_many_panels_share_is_told_once(build):
    """What is said of forty panels alike needs one finding; the same word of another kind is another."""
    panels = [build.panel(f"p{i}", used_for="船", revision="船") for i in range(40)]
    assert [f.place for f in letters_not_in_type(build.job(*panels))] == [
        'panel "p0", for',
        'panel "p0", revision',
    ]


def test_a_name_full_of_such_letters_is_cut(build):
    """A finding stays short however many letters are missing."""
    (found,) = letters_not_in_type(build.job(build.panel("".join(chr(0x4E00 + i) for i in range(60)))))
    assert len(found.text) < 200
    assert "and 56 more" in found.text
