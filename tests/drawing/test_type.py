"""Widths of texts, and letters that the type does not have."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.drawing.model import Text
from nestkit.drawing.type import (
    BOLD,
    PLAIN,
    fitted,
    printable,
    shown,
    text_box,
    text_width,
    thousandths,
    typeface,
)
from nestkit.geometry.points import Point
from nestkit.text import TYPE_LETTERS, not_in_type


@given(text=st.text(max_size=40), height=st.floats(1, 20))
def test_width_is_that_of_what_is_shown(text, height):
    """A text is as wide as its shown letters, whatever they are, and in step with its size."""
    assert text_width(text, height) == pytest.approx(text_width(shown(text), height))
    assert text_width(text, 2 * height) == pytest.approx(2 * text_width(text, height))


@given(text=st.text(max_size=40), room=st.floats(1, 100), height=st.floats(2, 10))
def test_fitted_text_fits(text, room, height):
    """A fitted text never is wider than its room, nor its type smaller than the least."""
    cut, size = fitted(text, room, height, least=2.0)
    assert text_width(cut, size) <= room * (1 + 1e-6) or cut == ""
    assert 2.0 <= size <= height


def test_fitted_text_shrinks_before_it_is_cut():
    """First the type gets smaller; only at the least size is the text cut, with an ellipsis."""
    wide = text_width("console lid", 6.0)
    assert fitted("console lid", wide, 6.0, least=3.0) == ("console lid", 6.0)
    assert fitted("console lid", wide / 1.5, 6.0, least=3.0) == ("console lid", pytest.approx(4.0))
    cut, size = fitted("console lid", wide / 3, 6.0, least=3.0)
    assert cut.endswith("…")
    assert size == 3.0


def test_letters_without_a_shape_are_shown_as_their_code():
    """Chinese letters, controls and marks that turn a line are codes; the trade's signs are there."""
    assert shown("面 lid") == "U+9762 lid"
    assert shown("\x07\u202elid\uffff") == "U+0007U+202ElidU+FFFF"
    assert shown("Ø ± ° ½ · …") == "Ø ± ° ½ · …"
    assert printable("面\x00\ud800") == "面U+0000U+D800"


@pytest.mark.parametrize("name", [PLAIN, BOLD])
def test_the_table_of_letters_is_that_of_the_typeface(name):
    """What is known without the typeface is what the typeface has, less what nobody sees."""
    has = [c for c in sorted(typeface(name).face.charToGlyph) if printable(chr(c)) == chr(c)]
    starts = [c for c in has if c - 1 not in has]
    ends = [c for c in has if c + 1 not in has]
    assert list(TYPE_LETTERS) == list(zip(starts, ends, strict=True))


@given(text=st.text(max_size=40))
def test_letters_that_prints_cannot_show_are_known_beforehand(text):
    """A text is shown as it is where none of its letters is missing, else each missing one as its code."""
    missing = not_in_type(text)
    assert (shown(text) == text) == (not missing)
    assert len(missing) == len(set(missing))
    for letter in missing:
        assert f"U+{ord(letter):04X}" in shown(text)


def test_text_box_follows_anchor_and_turn():
    """A text's box lies where the text does."""
    width = text_width("DATUM", 10)
    assert text_box(Point(0, 0), "DATUM", 10, "start", 0, False) == pytest.approx((0, -2.4, width, 7.6))
    assert text_box(Point(0, 0), "DATUM", 10, "end", 0, False) == pytest.approx((-width, -2.4, 0, 7.6))
    assert text_box(Point(5, 5), "DATUM", 10, "middle", 90, False) == pytest.approx(
        (5 - 7.6, 5 - width / 2, 5 + 2.4, 5 + width / 2)
    )
    assert Text(Point(0, 0), "DATUM", 10, bold=True).bounds.right > width
    # Upright texts have a shorter way to the very same numbers.
    for anchor in ("start", "middle", "end"):
        places = [text_box(Point(7.1, -3.3), "DATUM", 3.7, anchor, turn, False) for turn in (0.0, 360.0)]
        assert places[0] == places[1]


@given(st.text(max_size=30), st.text(max_size=30), st.booleans())
def test_widths_of_pieces_add_up_exactly(first, second, bold):
    """A text is as wide as its pieces, to the last bit."""
    both = thousandths(first, bold=bold) + thousandths(second, bold=bold)
    assert thousandths(first + second, bold=bold) == both


@pytest.mark.parametrize("name", [PLAIN, BOLD])
def test_every_letter_has_a_width_and_the_library_agrees(name):
    """All that is shown has a width of its own, that by which the PDF library sets it."""
    font = typeface(name)
    for code in font.face.charToGlyph:
        letter = chr(code)
        if shown(letter) == letter:
            wide = text_width(letter, 10.0, bold=name == BOLD)
            assert wide == pytest.approx(font.stringWidth(letter, 10.0), abs=1e-9)
    assert font.face.charWidths.keys() == font.face.charToGlyph.keys()
