from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.trade.papers import UnknownPaper, all_papers, paper


@pytest.mark.parametrize(
    ("name", "short", "long"),
    [("letter", "215.9", "279.4"), ("LETTER", "215.9", "279.4"), ("ANSI A", "215.9", "279.4"),
     ("a4", "210", "297"),
     ("Tabloid", "279.4", "431.8"), ("ledger", "279.4", "431.8"), ("ansi-c", "431.8", "558.8"),
     ("Arch D", "609.6", "914.4"),
     ("legal", "215.9", "355.6")],
)  # fmt: skip
def test_papers_by_name(name, short, long):
    """A paper is found by name or alias, whatever the case, short side first, exact."""
    found = paper(name)
    assert (found.short, found.long) == (Fraction(short), Fraction(long))


@pytest.mark.parametrize(
    ("name", "width"),
    [
        ("roll 24 in", "609.6"),
        ('Roll 24"', "609.6"),
        ("roll 610 mm", "610"),
        ("roll 2 ft", "609.6"),
        ("roll 500 mm", "500"),
    ],
)
def test_rolls_by_width(name, width):
    """A roll has a width and no length; any width with its unit will do."""
    found = paper(name)
    assert (found.short, found.long) == (Fraction(width), None)
    assert paper(found.name) == found


@pytest.mark.parametrize(
    ("name", "says"),
    [("a5", "letter"), ("", "letter"), ("roll 24", "unit"), ("roll", "no paper"), ("roll x", "no length"),
     ("roll 1 mm", "100 mm to 5 m"), ("roll 10 m", "100 mm to 5 m"), ("roll -24 in", "100 mm to 5 m")],
)  # fmt: skip
def test_an_unknown_paper_is_told_with_the_names(name, says):
    """The message says what is there, or how a roll is written."""
    with pytest.raises(UnknownPaper, match=says):
        paper(name)


@given(st.text(max_size=20) | st.text(max_size=12).map(lambda t: f"roll {t}"))
def test_any_text_gives_a_paper_or_a_told_error(text):
    """No input raises anything but the told error."""
    try:
        found = paper(text)
    except UnknownPaper:
        return
    assert found.short > 0


def test_short_sides_are_short():
    """Every sheet has its short side first; names are unique."""
    assert all(row.long is None or row.short < row.long for row in all_papers())
    assert len({row.name for row in all_papers()}) == len(all_papers())
