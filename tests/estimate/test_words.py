"""Amounts in words, and the sentences that people decide by."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.estimate.amounts import cost_text, least_cost_text, time_text, way_text, weight_text
from nestkit.estimate.estimate import estimate
from nestkit.estimate.words import buy_sentence, drill_text, group_name, least_text, verdict_text
from nestkit.layout.proof import Bound
from nestkit.text import money_text
from tests.laid_boat import BRACKET, LID, ROUTER, lid_job, routed_job


@pytest.mark.parametrize(
    ("amount", "text"),
    [("38.5", "38.50"), ("0", "0.00"), ("1234", "1234.00"), ("0.125", "0.13"), ("9.999", "10.00")],
)
def test_money_has_two_decimals(amount, text):
    """Amounts stand one below the other: two decimals, never more, and nobody pays more than was said."""
    assert money_text(Fraction(amount)) == text


@pytest.mark.parametrize(
    ("amount", "cost", "least"),
    [("38.5", "38.50", "38.50"), ("21.9604", "21.97", "21.96"), ("0.001", "0.01", "0.00")],
)
def test_a_cost_rounds_up_and_what_nothing_beats_rounds_down(amount, cost, least):
    """No bound is said higher than it is."""
    assert cost_text(Fraction(amount), "price") == cost
    assert least_cost_text(Fraction(amount), "price") == least


def test_amounts_carry_their_unit():
    """Weights, ways, times and areas in the job's system."""
    assert weight_text(10.69, "mm") == "10.7 kg"
    assert weight_text(10.69, "in") == "23.6 lb (10.7 kg)"
    assert way_text(12_345, "mm") == "12.3 m"
    assert way_text(Fraction("3048"), "in") == "10.0 ft"
    assert time_text(Fraction(90)) == "90 min"
    assert time_text(Fraction(91)) == "1.5 h"
    assert cost_text(Fraction("0.7442"), "m2") == "0.74 m2"
    assert drill_text(LID.holes[0].drill, "in") == "#2 (.221 in)"
    assert drill_text(BRACKET.holes[0].drill, "mm") == "2.5 mm"


def test_a_group_is_named_by_material_thickness_and_way():
    """A named way of cutting is named."""
    _, layout = routed_job()
    assert group_name(layout.groups[0].group, "mm") == "birch plywood, 12 mm, router (sponsor)"
    _, layout = lid_job()
    assert group_name(layout.groups[0].group, "in") == "polycarbonate, .118 in, saw"


def test_a_proved_layout_says_so_and_why():
    """Cost equal to the bound: no layout costs less, and the reason."""
    _, layout = lid_job()
    assert least_text(layout.groups[0], "in") == (
        "1 sheet; no layout needs fewer: there is at least one part. "
        "No layout costs less than 38.50: one sheet is needed and none costs less."
    )


def test_a_layout_that_is_not_proved_says_so():
    """Above the bound nothing is claimed, neither in the sentence nor in the last line."""
    job, layout = lid_job()
    laid = layout.groups[0]
    laid = replace(
        laid,
        sheets=(laid.sheets[0], replace(laid.sheets[0], number=2)),
        cost=Fraction(77),
        least_cost=Bound(Fraction("38.5"), "area of parts is 0.2 sheets"),
    )
    layout = replace(layout, groups=(laid,))
    assert least_text(laid, "in") == (
        "2 sheets; at least 1 is needed: there is at least one part. "
        "It costs at least 38.50: area of parts is 0.2 sheets. That this can be reached is not proved."
    )
    assert buy_sentence(layout, estimate(job, layout), job.unit) == (
        "Buy: 2 x PC 1/8 2x4 = 77.00 all told; at least 38.50; whether less than this would do is not proved"
    )


def test_the_last_line_of_a_proved_job():
    """What to buy, what it costs, and that no layout needs less."""
    job, layout = lid_job()
    assert buy_sentence(layout, estimate(job, layout), job.unit) == (
        "Buy: 1 x PC 1/8 2x4 = 38.50 all told; no layout needs less"
    )


def test_parts_without_a_place_are_never_passed_over():
    """With a part left over the last line says so, and nothing is said about the least."""
    job, layout = routed_job()
    assert verdict_text(layout) == "1 part has no place"
    assert buy_sentence(layout, estimate(job, layout), job.unit) == (
        "Buy: 1 x Ply 12 = 0.74 m2 (no price given); 1 part has no place"
    )
    assert "nothing is said about the least" in least_text(layout.groups[0], "in")


def test_all_from_the_rack():
    """Where nothing has to be bought, that is what is said."""
    job, layout = routed_job()
    laid = layout.groups[0]
    bound = Bound(Fraction(0), "all of it is on hand")
    laid = replace(laid, sheets=laid.sheets[1:], unplaced=(), cost=Fraction(0), least_cost=bound)
    laid = replace(laid, least_sheets=Bound(Fraction(1), "there is at least one part"))
    layout = replace(layout, groups=(laid,))
    assert buy_sentence(layout, estimate(job, layout), job.unit) == (
        "Buy: nothing, all of it comes from what is on hand; no layout needs less"
    )
    assert ROUTER.name in group_name(laid.group, "mm")
