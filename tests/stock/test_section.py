"""Sections read from a job's text, with what the trade tables say of them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.errors import UserError
from nestkit.geometry.section import Section
from nestkit.stock.section import EXAMPLES, SectionError, corner, kg_per_m, read_section, section_text

INCH = Fraction(254, 10)


@pytest.mark.parametrize(
    ("text", "kind", "sizes"),
    [
        ("1 x 1 x 1/16", "tube", (1, 1, Fraction(1, 16))),
        ("1x2X1/8", "tube", (1, 2, Fraction(1, 8))),
        ("1 1/2 × 1-1/2 × .125", "tube", (Fraction(3, 2), Fraction(3, 2), Fraction(1, 8))),
        ('1½" x ¾" x 1/16"', "tube", (Fraction(3, 2), Fraction(3, 4), Fraction(1, 16))),
        ("round 1 x 1/16", "round", (1, Fraction(1, 16))),
        ("Rod 1/4", "rod", (Fraction(1, 4),)),
        ("angle 1 x 1 x 1/8", "angle", (1, 1, Fraction(1, 8))),
        (" strip  1 x 1/8 ", "strip", (1, Fraction(1, 8))),
        ("roll 1", "roll", (1,)),
    ],
)
def test_the_texts_of_the_contract(text, kind, sizes):
    """Each kind is read as it is written, exactly, in inches."""
    section = read_section(text, "in")
    assert section.kind == kind
    assert section.sizes == tuple(size * INCH for size in sizes)


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize(
    "text", ["25 x 25 x 2 mm", "25 mm x 25 mm x 2mm", "2.5 x 2.5 x .2 cm", "25mm x 2.5 cm x 2 mm"]
)
def test_a_unit_of_its_own_holds_in_any_job(text, unit):
    """A unit after the last size is all sizes' unit; each may also carry its own."""
    assert read_section(text, unit) == Section("tube", Fraction(25), Fraction(25), Fraction(2))


def test_bare_numbers_are_in_the_unit_of_the_job():
    """1 x 1 x 1/16 is another tube in a job in millimetres."""
    assert read_section("30 x 20 x 1.5", "mm").sizes == (30, 20, Fraction(3, 2))
    assert read_section("rod 6", "mm").a == 6
    assert read_section("rod 6", "in").a == 6 * INCH
    assert read_section("angle 1 x 1 x 1/8 in", "mm") == read_section("angle 1 x 1 x 1/8", "in")


@pytest.mark.parametrize(
    ("text", "why", "remedy"),
    [
        ("", "an empty text", "write one such as"),
        ("   ", "an empty text", "write one such as"),
        ("1 x 1/16", "2 sizes where 3 are wanted", '"1 x 1 x 1/16" for square tube, "round 1 x 1/16"'),
        ("1/4", "1 size where 3 are wanted", '"rod 1/4" or "roll 1/4"'),
        ("rod", "no size where 1 is wanted", '"rod 1/4"'),
        ("rod 1 x 2", "2 sizes where 1 is wanted", '"rod 1/4"'),
        ("round 1", "1 size where 2 are wanted", "diameter, wall"),
        ("angle 1 x 1/8", "2 sizes where 3 are wanted", "leg A, leg B, thickness"),
        ("1 x x 1/16", "lacks a size", "width, height, wall"),
        ("x 1 x 1", "no known word", "write one such as"),
        ("square 1 x 1/16", "no known word", "a tube with faces needs no word"),
        ("rond 1 x 1/16", "no known word", 'did you mean "round"'),
        ("angel 1 x 1 x 1/8", "no known word", 'did you mean "angle"'),
        ("1 x 1 x 1/2", "no room inside", "less than half"),
        ("round 1 x 5/8", "no room inside", "less than half"),
        ("angle 1 x 1/8 x 1/8", "a whole leg", "less than both legs"),
        ("strip 1/8 x 1", "more than the width", "the width first"),
        ("1 x 1 x 0", "is nothing", "above 0"),
        ("1 x -1 x 1/16", "is negative", "above 0"),
        ("1 x 1 x 1/0", "divides by zero", "write it as"),
        ("1,5 x 1 x 1/16", "has a comma", '"1.5"'),
        ("1 x 1 x abc", "'abc' is not a length", "write it as"),
        ("1 x 1 x .0001", "out of range", "0.1 mm to 100 m"),
        ("rod 5000", "out of range", "0.1 mm to 100 m"),
        ("1 in x 1 x 1/16", "some sizes a unit", "after the last size"),
        ("1 x 25 mm x 2 mm", "some sizes a unit", "after the last size"),
        ("1 x 1 x 1/16 x 3", "4 sizes", "width, height, wall"),
        ("1 x " * 40, "too long", "write one such as"),
        ("rod 1/4\u202e", "does not print", "plain letters"),
        ("\x1b", "does not print", "plain letters"),
        ("1/4 thick", "1 size where 3", "width, height, wall"),
    ],
)
def test_wrong_texts_say_why_and_what_to_write(text, why, remedy):
    """A wrong section is a fault of the user with reason and remedy, and shows nothing that misleads."""
    with pytest.raises(SectionError) as caught:
        read_section(text, "in")
    assert why in caught.value.reason
    assert remedy in caught.value.remedy
    assert isinstance(caught.value, UserError)
    assert "\u202e" not in str(caught.value)


@pytest.mark.parametrize("text", EXAMPLES.values())
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_the_examples_of_the_remedies_can_be_read(text, unit):
    """Whatever a remedy offers is itself right, and comes back as it was written."""
    assert section_text(read_section(text, "in"), "in") == text
    again = section_text(read_section(text, "in"), unit)
    assert section_text(read_section(again, unit), unit) == again


SIXTEENTHS = st.integers(4, 64).map(lambda n: Fraction(n, 16) * INCH)


@given(
    SIXTEENTHS, SIXTEENTHS, st.integers(1, 63), st.sampled_from(["tube", "angle", "round", "strip", "rod"])
)
def test_what_is_written_is_read_back_exactly(a, b, wall, kind):
    """Any section in sixteenths is printed as a text that means the same section."""
    thin = min(a, b) * Fraction(wall, 128)
    section = {
        "tube": lambda: Section("tube", a, b, INCH / 16),
        "angle": lambda: Section("angle", a, b, INCH / 16),
        "round": lambda: Section("round", a, a, INCH / 32),
        "strip": lambda: Section("strip", max(a, b), min(a, b)),
        "rod": lambda: Section("rod", a, a),
    }[kind]()
    assert read_section(section_text(section, "in"), "in") == section
    assert Section("tube", a, b, thin).kind == "tube"


@given(
    st.lists(
        st.sampled_from(
            ["1", "1/16", " ", "x", "×", "round", "rod", "-", ".", "mm", "in", '"', "'", "0", "½", "9" * 25]
        )
        | st.characters(),
        max_size=14,
    ).map("".join),
    st.sampled_from(["in", "mm"]),
)
def test_any_text_is_a_section_or_a_fault_of_the_user(text, unit):
    """Whatever is written, it is read or refused on one printable line with a remedy."""
    try:
        said = section_text(read_section(text, unit), unit)
    except SectionError as fault:
        said = f"{fault}{fault.remedy[0]}"
    assert said.isprintable()


def test_the_usual_corner_comes_with_its_rule():
    """Extruded aluminium is nearly sharp, welded steel two walls; each says which rule and on what basis."""
    found = corner(read_section("1 x 1 x 1/16", "in"), "aluminum 6061")
    assert found is not None
    assert float(found.radius) == pytest.approx(0.396, abs=0.001)
    assert found.rule.said() == "R124, memory, no source; confidence low"
    steel = corner(read_section("40 x 40 x 3", "mm"), "mild steel")
    assert steel is not None
    assert (steel.radius, steel.rule.id) == (6, "R125")
    thick = corner(read_section("10 x 10 x 3", "mm"), "steel")
    assert thick is not None
    assert thick.radius == 5  # no corner is rounder than the tube


def test_no_corner_is_made_up():
    """Where no rule is known, or there is no such corner, it must be measured."""
    assert corner(read_section("1 x 1 x 1/16", "in"), "fibreglass") is None
    assert corner(read_section("round 1 x 1/16", "in"), "steel") is None
    assert corner(read_section("angle 1 x 1 x 1/8", "in"), "steel") is None


def test_no_weight_is_made_up():
    """Without a density, or a thickness, there is no weight."""
    assert kg_per_m(read_section("1 x 1 x 1/16", "in"), "unobtainium") is None
    assert kg_per_m(read_section("roll 1", "in"), "aluminium") is None


def test_a_size_that_is_no_wall_is_not_offered_as_one():
    """Of two equal sizes no tube can be made: the remedy asks for the wall."""
    with pytest.raises(SectionError) as found:
        read_section("1 x 1", "in")
    assert found.value.remedy == 'write "strip 1 x 1", or the wall of a tube too: "1 x 1 x 1/16"'
