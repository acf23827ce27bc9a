"""Goods off a roll in the estimate: lengths to ask for, exact costs, and what no layout can beat."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from nestkit.estimate.cut_off import cut_off_words
from nestkit.estimate.estimate import estimate
from nestkit.estimate.text import estimate_text
from nestkit.estimate.words import buy_sentence, least_text, sheet_name, total_text, verdict_text
from nestkit.layout.proof import Bound
from tests.laid_boat import lid_job
from tests.laid_roll import COVERS, LINER, laid, liner

GOLDEN = Path(__file__).resolve().parents[1] / "golden"
PRICE = Fraction("4.15") * Fraction("63.5") / 12


def test_the_text_of_a_job_off_a_roll():
    """The whole text as golden/estimate_roll.txt has it; its last line says how much to buy."""
    job, layout = liner()
    text = estimate_text(job, layout, estimate(job, layout))
    assert text == (GOLDEN / "estimate_roll.txt").read_text(encoding="utf-8")


def test_one_piece_is_bought_at_its_exact_price():
    """63 1/2 in at 4.15 a foot: the row is the piece, and its price and cost are exact."""
    job, layout = liner()
    (row,) = estimate(job, layout).rows
    assert (row.stock.width, row.stock.height) == (24 * Fraction("25.4"), Fraction("63.5") * Fraction("25.4"))
    assert (row.buy, row.on_hand, row.price, row.cost) == (1, 0, PRICE, PRICE)
    assert estimate(job, layout).cost == PRICE
    weight = estimate(job, layout).groups[0].weight
    litres = 24 * 63.5 / 8 * 25.4**3 / 1e6
    assert weight.sheets == pytest.approx(litres * 0.950)


def test_the_last_line_asks_for_a_length():
    """Feet and inches in an inch job, metres in a metric one; what is to be paid is never rounded down."""
    job, layout = liner()
    assert buy_sentence(layout, estimate(job, layout), "in") == (
        "Buy: 5 ft 3 1/2 in of liner off the 24 in roll = 21.97 all told; no layout needs less"
    )
    assert Fraction("21.96") < PRICE <= Fraction("21.97")
    job, layout = laid(COVERS)
    assert buy_sentence(layout, estimate(job, layout), "mm").startswith(
        "Buy: 669 mm of wide off the 1000 mm roll = 9.37 all told; "
    )
    both = replace(estimate(job, layout), rows=estimate(*lid_job()).rows)
    assert total_text(both) == "9.37"


def test_prices_stand_in_a_column_of_their_own():
    """A price for a foot has that beside it, so that all amounts are aligned, two decimals each."""
    job, layout = liner()
    flat = estimate(*lid_job())
    taken = estimate(job, layout)
    text = estimate_text(job, layout, replace(taken, rows=(*taken.rows, *flat.rows)))
    head, *rows = text.splitlines()[: 2 + len(flat.rows)]
    ends = {row[: head.index("price") + 5].rstrip()[-5:].strip() for row in rows}
    assert all(re.fullmatch(r"\d+\.\d\d", end) for end in ends), text
    assert {len(row) for row in rows} == {len(head)}
    assert all(re.fullmatch(r".*  \d+\.\d\d", row) for row in rows)


def test_without_a_price_the_area_is_told():
    """A roll without a price: the length stands in the last line, beside its square metres."""
    job, layout = laid(LINER.replace("{how}", "saw").replace("{margin}", "0").replace("price = 4.15\n", ""))
    (row,) = estimate(job, layout).rows
    assert (row.price, row.cost) == (None, None)
    assert "5 ft 3 1/2 in of liner off the 24 in roll = 0.98 m2 (no price given)" in buy_sentence(
        layout, estimate(job, layout), "in"
    )


def test_what_no_layout_can_beat_is_a_length():
    """Proved: no layout needs less. Else the least length, rounded down; of several rolls the least cost."""
    _, layout = liner()
    (group,) = layout.groups
    why = group.least_cost.why
    assert least_text(group, "in") == (f"5 ft 3 1/2 in off the roll 24 in wide; no layout needs less: {why}.")
    # Ten inches and a third of a sixteenth.
    least = (10 + Fraction(1, 48)) * Fraction("4.15") / 12
    open_ = replace(group, least_cost=Bound(least, "so it is"))
    assert least_text(open_, "in") == (
        "5 ft 3 1/2 in off the roll 24 in wide; no layout needs less than 10 in of it: so it is. "
        "That this can be reached is not proved."
    )
    assert "at least 3.46;" in verdict_text(replace(layout, groups=(open_,)))
    _, layout = laid(COVERS)
    (group,) = layout.groups
    assert least_text(replace(group, least_cost=Bound(group.cost, "so it is")), "mm") == (
        "669 mm off the roll 1000 mm wide; no piece costs less: so it is."
    )
    assert "a piece costs at least 9.36: so it is" in least_text(
        replace(group, least_cost=Bound(group.cost - Fraction(1, 1000), "so it is")), "mm"
    )


def test_a_roll_that_costs_nothing():
    """A price of nothing proves nothing about the length, and divides nothing by it."""
    text = LINER.replace("{how}", "saw").replace("{margin}", "0").replace("price = 4.15", "price = 0")
    _, layout = laid(text)
    assert least_text(layout.groups[0], "in") == "5 ft 3 1/2 in off the roll 24 in wide, which costs nothing."


def test_a_piece_has_no_number():
    """A sheet is told by its number; one piece is cut off a roll."""
    assert sheet_name(liner()[1].groups[0].sheets[0]) == "liner, piece off the roll"
    assert sheet_name(lid_job()[1].groups[0].sheets[0]) == "PC 1/8 2x4, sheet 1"


def test_the_cut_off_is_set_as_any_other_cut():
    """Its length as a rule reads it, what the rounding leaves, and what to ask the seller for."""
    piece = liner()[1].groups[0].sheets[0].stock
    said = cut_off_words(piece, "in")
    assert said.setting == "Length 63 1/2 in"
    assert "over" not in said.how
    assert "under" not in said.how
    assert said.gives == (
        "If the seller cuts it: ask for 5 ft 3 1/2 in or a little more, trim it to length.",
    )
    said = cut_off_words(piece.cut_off(Fraction("1612.94")), "mm")
    assert said.setting == "Length 1612.9 mm"
    assert said.how.endswith("That is 0.04 mm under.")
    assert "ask for 1.613 m or" in said.gives[0]
