"""Wrong jobs by class: each is told with its place, its line and what to write instead."""

from __future__ import annotations

import pytest

from tests.job import wrong_holes, wrong_panels, wrong_stock
from tests.job.texts import CUTTING, PANEL, SHEET, SOUND, TOP, marked_line, mistakes, only

CASES = wrong_stock.CASES | wrong_panels.CASES | wrong_holes.CASES


@pytest.mark.parametrize(("text", "place", "said", "remedy"), CASES.values(), ids=CASES)
def test_a_mistake_is_told_with_place_line_and_remedy(tmp_path, text, place, said, remedy):
    """Each wrong job has its one mistake, where it is, in which line, and what to write."""
    found = only(text, tmp_path)
    assert found.place == place
    assert said in found.text
    assert remedy in found.remedy
    marked = marked_line(text)
    if marked is not None:
        assert found.line == marked
    assert found.remedy[0].isupper() or not found.remedy[0].isalpha()
    assert not found.remedy.endswith(".")


def test_there_are_cases_enough():
    """The classes of mistakes are covered by more than eighty files."""
    assert len(CASES) > 80


def test_a_misspelt_key_is_not_also_called_missing(tmp_path):
    """One slip is one mistake: the key that is offered is not missed as well."""
    text = SOUND.replace("kerf", "kerff").replace("material", "materail")
    places = [m.place for m in mistakes(text, tmp_path)]
    assert places == ["cutting, kerff", 'sheet "PC 1/8 2x4", materail', 'panel "lid", materail']


def test_a_wrong_way_does_not_blame_the_sheets_that_name_it(tmp_path):
    """A sheet cut by a way that is wrong itself has no mistake of its own."""
    text = (
        TOP
        + CUTTING
        + '[cutting.sponsor]\nhow = "roter" #<\nkerf = 1\n'
        + SHEET
        + 'cut = "sponsor"\n'
        + PANEL
    )
    found = only(text, tmp_path)
    assert (found.place, found.line) == ("cutting.sponsor, how", marked_line(text))


def test_what_does_not_agree_is_told_beside_other_mistakes(tmp_path):
    """Mistakes between sheets and panels are told in the same run as mistakes within them."""
    text = (
        TOP + CUTTING + SHEET + SHEET.replace("2x4", "4x4").replace("price = 38.50\n", "")
        + SHEET.replace("2x4", "thick").replace('".118"', '".125"')
        + PANEL + PANEL.replace("lid", "base") + "turn = 1\n"
    )  # fmt: skip
    assert [m.place for m in mistakes(text, tmp_path)] == [
        'sheet "PC 1/8 4x4", price',
        'panel "lid", thickness',
        'panel "base", turn',
    ]
