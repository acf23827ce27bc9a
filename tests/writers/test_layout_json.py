"""layout.json is what the contract shows."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis.strategies import fractions

from nestkit import __version__
from nestkit.estimate.estimate import estimate
from nestkit.writers.layout_json import layout_json, layout_object, number, result_object
from tests.laid_boat import lid_job, routed_job

# The example of the contract, typed in; "..." of the contract filled with this job's names.
CONTRACT = """
{"nestkit": "%s", "job": "Solar boat: console and hatches", "seed": 1, "effort": "normal", "engine": "plain",
 "stopped": false,
 "groups": [{
   "material": "polycarbonate", "thickness_mm": 2.9972, "how": "saw", "kerf_mm": 3.175, "gap_mm": 3.175,
   "margin_mm": {"left": 0, "right": 0, "bottom": 0, "top": 0}, "cost_in": "price",
   "sheets": [{
     "stock": "PC 1/8 2x4", "files": "sheets/pc-1-8-2x4-01",
     "width_mm": 609.6, "height_mm": 1219.2, "price": 38.5, "on_hand": false,
     "parts": [{"part": "console lid", "copy": 1, "opposite_hand": false,
                "x_mm": 0, "y_mm": 0, "turn_deg": 90}],
     "offcuts": [{"x_mm": 250.825, "y_mm": 0, "width_mm": 358.775, "height_mm": 1219.2},
                 {"x_mm": 0, "y_mm": 371.475, "width_mm": 247.65, "height_mm": 847.725}],
     "cuts": [{"step": 1, "piece": "sheet", "axis": "x", "at_mm": 247.65, "from_mm": 0, "to_mm": 1219.2},
              {"step": 2, "piece": "1a", "axis": "y", "at_mm": 368.3, "from_mm": 0, "to_mm": 247.65}]}],
   "unplaced": [],
   "sheets_used": 1, "cost": 38.5, "least_sheets": 1, "least_cost": 38.5, "proved": true, "yield": 0.1227}],
 "bars": []}
"""


def order(value):
    """Return the keys of nested objects in their order."""
    if isinstance(value, dict):
        return [(key, order(inner)) for key, inner in value.items()]
    return [order(inner) for inner in value] if isinstance(value, list) else None


def test_the_example_of_the_contract_comes_out():
    """The contract's job gives the contract's file: keys, their order, values; whole numbers as whole."""
    job, layout = lid_job()
    wanted = json.loads(CONTRACT % __version__)
    found = json.loads(layout_json(job, layout))
    assert order(found) == order(wanted)
    group, example = found["groups"][0], wanted["groups"][0]
    assert group.pop("yield") == pytest.approx(example.pop("yield"), abs=5e-5)
    assert found == wanted
    assert '"x_mm": 0,' in layout_json(job, layout)


def test_left_over_parts_have_no_bounds():
    """With a part without a place the bounds are null, and the reason stands beside it."""
    job, layout = routed_job()
    group = layout_object(job, layout)["groups"][0]
    assert group["unplaced"] == [
        {"part": "=gusset", "copy": 2, "opposite_hand": False, "why": "no sheet has room left"}
    ]
    assert group["least_sheets"] is None
    assert group["least_cost"] is None
    assert group["proved"] is False


def test_square_metres_are_the_cost_without_prices():
    """Without prices a sheet's price is its square metres, 0 on hand, and so is the cost."""
    job, layout = routed_job()
    group = layout_object(job, layout)["groups"][0]
    assert group["cost_in"] == "m2"
    assert [s["price"] for s in group["sheets"]] == [0.7442, 0]
    assert [s["on_hand"] for s in group["sheets"]] == [False, True]
    assert group["cost"] == 0.7442
    assert [s["files"] for s in group["sheets"]] == ["sheets/ply-12-01", "sheets/ply-12-2-01"]
    assert [s["cuts"] for s in group["sheets"]] == [[], []]


def test_what_the_run_was_asked_stands_at_the_top():
    """Seed, effort, engine and whether the search was ended early."""
    job, layout = routed_job()
    top = layout_object(job, layout)
    assert (top["seed"], top["effort"], top["engine"], top["stopped"]) == (7, "quick", "plain", True)
    compiled = replace(layout, groups=(replace(layout.groups[0], engine="compiled"),))
    assert layout_object(job, compiled)["engine"] == "compiled"


def test_what_is_finer_than_the_grid_is_written_as_laid_out():
    """A sheet of a third of a metre is written as cut off, a kerf of a third of a mm as rounded up."""
    job, layout = lid_job()
    laid = layout.groups[0]
    stock = replace(laid.sheets[0].stock, width=Fraction(1000, 3))
    group = replace(laid.group, way=replace(laid.group.way, kerf=Fraction(1, 3)))
    sheet = replace(laid.sheets[0], stock=stock)
    laid = replace(laid, group=group, sheets=(sheet,))
    found = layout_object(replace(job, sheets=(stock,)), replace(layout, groups=(laid,)))["groups"][0]
    assert found["sheets"][0]["width_mm"] == 333.333325
    assert found["kerf_mm"] == 0.33335


@given(fractions(min_value=-100_000, max_value=100_000, max_denominator=40_000))
def test_numbers_have_at_most_six_decimals(value):
    """Any length is written with at most six decimals, within half a millionth, whole ones as int."""
    written = number(value)
    assert abs(Fraction(written) - value) <= Fraction(1, 1_000_000)
    assert isinstance(written, int) == (round(value, 6).denominator == 1)
    assert len(repr(written).partition(".")[2]) <= 6 or "e" in repr(written)


def test_programs_get_the_buy_list_too():
    """What nest and estimate print has the file's keys and then the rows of the buy list."""
    job, layout = lid_job()
    found = result_object(job, layout, estimate(job, layout))
    assert list(found)[-1] == "buy"
    assert {k: v for k, v in found.items() if k != "buy"} == layout_object(job, layout)
    json.dumps(found)
