"""The estimate as text, word for word."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from nestkit.estimate.estimate import estimate
from nestkit.estimate.text import columns, cutting_text, estimate_text, weights_text
from tests.laid_boat import PC, lid_job, routed_job

GOLDEN = Path(__file__).resolve().parents[1] / "golden"


@pytest.mark.parametrize(
    ("make", "name"), [(lid_job, "estimate_lid.txt"), (routed_job, "estimate_routed.txt")]
)
def test_the_text_of_a_job(make, name):
    """The whole text as golden/ has it; its last line says what to buy."""
    job, layout = make()
    text = estimate_text(job, layout, estimate(job, layout))
    assert text == (GOLDEN / name).read_text(encoding="utf-8")
    assert text.splitlines()[-1].startswith("Buy: ")


def test_a_heavy_sheet_needs_two_people():
    """From 20 kg the estimate says that a sheet needs two people."""
    job, layout = lid_job(unit="mm")
    laid = layout.groups[0]
    big = replace(PC, width=Fraction(2440), height=Fraction(1220), thickness=Fraction(6))
    laid = replace(laid, sheets=(replace(laid.sheets[0], stock=big),))
    taken = estimate(replace(job, sheets=(big,)), replace(layout, groups=(laid,))).groups[0]
    assert weights_text(taken, "mm").endswith("; a sheet of 21.4 kg needs two people")
    assert "two people" not in weights_text(estimate(job, layout).groups[0], "mm")


def test_an_unknown_material_is_said():
    """Without a density the text says that the weight is not known."""
    job, layout = lid_job()
    laid = replace(layout.groups[0], group=replace(layout.groups[0].group, material="unobtainium"))
    taken = estimate(job, replace(layout, groups=(laid,))).groups[0]
    assert weights_text(taken, "in") == "not known: the tables have no density for unobtainium"


@pytest.mark.parametrize(
    ("how", "said"),
    [("router", "middle of the cutter"), ("laser", "middle of the beam"), ("jigsaw", "by hand")],
)
def test_lengths_to_cut_are_said_by_the_way_of_cutting(how, said):
    """No speed is made up: the text gives the length, and along what."""
    job, layout = routed_job()
    laid = layout.groups[0]
    laid = replace(laid, group=replace(laid.group, way=replace(laid.group.way, how=how)))
    taken = estimate(job, replace(layout, groups=(laid,))).groups[0]
    assert said in cutting_text(taken, "mm")


def test_columns_line_up():
    """Figures end in line, words begin in line, no line ends in blanks."""
    lines = columns([("stock", "buy"), ("a", "1"), ("longer", "100")], right=frozenset({1}))
    assert lines == ["stock   buy", "a         1", "longer  100"]
