"""Why a part has no place: the reason that tells what to change."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.layout.lay_out import lay_out
from nestkit.layout.reasons import why_unplaced
from nestkit.stock.keep_clear import KeepClear
from tests.layout.made import group, job, panel, sheet

LID = {"width": 500, "height": 300}


@pytest.mark.parametrize(
    ("part", "stock", "margin", "words"),
    [
        (panel("a", 500, 300), [], 0, "there is no stock"),
        (panel("a", 500, 300), [sheet("s", 900, 900, buy=False)], 0, "none of the sheets is on hand"),
        (panel("a", 500, 300), [sheet("s", 900, 900, buy=False, on_hand=2)], 0, "only 2 sheets are on hand"),
        (panel("a", 1000, 300), [sheet("s", 900, 900)], 0, "no sheet of this thickness is long enough"),
        (panel("a", 890, 300), [sheet("s", 900, 900)], 10, "long enough inside its margin"),
        (panel("a", 880, 500), [sheet("s", 900, 400)], 0, "no sheet of this thickness is wide enough"),
        (panel("a", 880, 390), [sheet("s", 900, 300), sheet("t", 400, 400)], 0, "long and wide enough"),
        (panel("a", 300, 500, turn="none"), [sheet("s", 900, 400)], 0, 'which turn = "none" forbids'),
        (panel("a", 300, 500, grain="y"), [sheet("s", 900, 400, grain="y")], 0, "the grain forbids"),
    ],
)
def test_the_reason_names_what_is_in_the_way(part, stock, margin, words):
    """Stock, count, size, margin, turn and grain each have their own words."""
    made = group([part], stock, margin=(margin,) * 4)
    assert words in why_unplaced(made, part)


@pytest.mark.parametrize(
    ("part", "rolls", "margin", "words"),
    [
        (panel("a", 950, 1300), [900], 0, "no roll of this thickness is wide enough"),
        (panel("a", 895, 1300), [900], 10, "wide enough between the margins at its edges"),
        (
            panel("a", 99_990, 300),
            [900],
            10,
            "no piece that is cut off a roll is long enough less the margins",
        ),
        (panel("a", 300, 950, turn="none", grain="x"), [900], 0, "the grain forbids the turn"),
        (
            panel("a", 950, 300, turn="none"),
            [900],
            0,
            'fit the roll only turned by 90 degrees, which turn = "none"',
        ),
        (panel("a", 700, 1300), [900, 600], 0, "no roll is wide enough for all of them"),
        (panel("a", 500, 1300, quantity=99), [900, 600], 0, "longer than any that is cut off a roll"),
        (panel("a", 500, 1300, quantity=2), [900, 600], 0, "the cuts that first and stages allow"),
    ],
)
def test_off_a_roll_its_width_is_in_the_way(part, rolls, margin, words):
    """Only a roll's width keeps a part off, or the others beside it on the one piece; no length is told."""
    stock = [
        sheet(
            f"roll {w}", w, 100_000, priced_by=Fraction(1000), grain="y" if part.grain != "none" else "none"
        )
        for w in rolls
    ]
    why = why_unplaced(group([part], stock, margin=(margin,) * 4), part)
    assert words in why
    assert "sheet" not in why
    assert "100" not in why


@pytest.mark.parametrize(
    ("part", "margin", "words"),
    [
        (panel("a", 950, 1300), (0, 0, 10, 10), "no roll of this thickness is wide enough"),
        (panel("a", 895, 1300), (10, 0, 0, 0), "wide enough between the margins at its edges"),
        (panel("a", 100_001, 300), (10, 10, 0, 0), "no piece that is cut off a roll is long enough"),
        (panel("a", 99_990, 300), (0, 0, 10, 10), "long enough less the margins at its ends"),
    ],
)
def test_only_the_margins_in_the_way_are_named(part, margin, words):
    """A roll is narrowed by the margins at its edges, a piece of it shortened by those at its ends."""
    roll = sheet("roll", 900, 100_000, priced_by=Fraction(1000))
    assert why_unplaced(group([part], [roll], margin=margin), part).endswith(words)


def test_a_part_without_room_beside_a_region_is_told_so():
    """A region on every sheet, and one on the only sheet, are the reason where a whole sheet has room."""
    region = KeepClear(Fraction(250), Fraction(100), Fraction(300), Fraction(250), why="knot")
    lid = panel("lid", 500, 300)
    for more, said in (
        ({"price": Fraction(1)}, "what is kept clear on the sheets leaves no room for it"),
        (
            {"on_hand": 1, "buy": False},
            "only 1 sheet is on hand and none can be bought, less what is kept clear there",
        ),
    ):
        made = group([lid], [sheet("ply", 600, 400, keep_clear=(region,), **more)], "router")
        laid = lay_out(job(made), effort="quick").groups[0]
        assert [u.why for u in laid.unplaced] == [said]
