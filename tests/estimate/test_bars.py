"""What bars take, in numbers and in words."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from nestkit.estimate.bar_words import bar_group_name, bars_facts, least_sticks_text, stick_name
from nestkit.estimate.estimate import estimate
from nestkit.estimate.text import estimate_text
from nestkit.estimate.words import buy_sentence
from nestkit.job.reader import read_text
from nestkit.layout.lay_out import lay_out
from nestkit.layout.proof import Bound

GOLDEN = Path(__file__).resolve().parents[1] / "golden"

FRAME = """
job = "Solar boat: frame"
unit = "mm"
[cutting]
how = "router"
kerf = 6
[cutting.hacksaw]
how = "saw"
kerf = 1
[[bar]]
name = "square 2 m"
material = "aluminium 6061"
section = "25 x 25 x 2"
length = 2000
price = 12.50
trim = 5
cut = "hacksaw"
[[bar]]
name = "strip"
material = "steel"
section = "strip 30 x 3"
length = 1000
cut = "hacksaw"
[[bar]]
name = "edge trim"
material = "rubber"
section = "roll 12"
length = 5000
price = 8
[[tube]]
name = "deck frame"
material = "aluminium 6061"
section = "25 x 25 x 2"
length = 600
quantity = 3
mitre_1 = { angle_deg = 45, long = "A" }
  [[tube.holes]]
  face = "B"
  through = true
  drill = "5 mm"
  at = [20, 300]
[[tube]]
name = "stay"
material = "steel"
section = "strip 30 x 3"
length = 500
quantity = 2
  [[tube.holes]]
  face = "A"
  through = true
  drill = "5 mm"
  at = [20]
[[tube]]
name = "hatch edge"
material = "rubber"
section = "roll 12"
length = 900
quantity = 4
"""


@pytest.fixture(scope="module")
def laid():
    """Return a job of tubes, strips and edge trim, laid out."""
    job = read_text(FRAME.replace("kerf = 1\n", "kerf = 0\n", 1), Path())
    return job, lay_out(job)


def test_what_sticks_take_is_counted(laid):
    """Pieces, sticks, cuts with the squaring one and the mitres, walls to drill, weight by section."""
    square, strip, roll = estimate(*laid).bars
    assert (square.pieces, square.sticks, square.used_share) == (3, 1, pytest.approx(0.9))
    # One to square the end, one after each part, three mitres.
    assert (square.cuts, square.mitres, square.drilled) == (1 + 3 + 3, 3, 12)
    # (25^2 - 21^2) mm2 of 2700 kg/m3 is 0.4968 kg a metre.
    assert square.weight.parts == pytest.approx(1.8 * 0.4968)
    assert square.weight.sticks == square.weight.heaviest == pytest.approx(2 * 0.4968)
    # A strip is one wall, and two of 500 without a kerf need one cut of 1000.
    assert (strip.cuts, strip.drilled) == (1, 2)
    assert strip.weight.parts == pytest.approx(30 * 3 * 7850 / 1e6)
    assert (roll.pieces, roll.sticks, roll.cuts, roll.weight) == (4, 1, 4, None)


def test_costs_of_bars_stand_beside_those_of_sheets(laid):
    """What has a price adds up, what has none is counted in metres; holes in tube take their time."""
    found = estimate(*laid)
    assert (found.cost, found.metres, found.m2) == (Fraction("20.5"), 1, 0)
    assert found.drilled == 14
    assert found.minutes[1] == 28
    rows = [(r.stock.name, r.buy, r.on_hand, r.cost) for r in found.bar_rows]
    assert rows == [("square 2 m", 1, 0, Fraction("12.5")), ("strip", 1, 0, None), ("edge trim", 1, 0, 8)]
    said = buy_sentence(laid[1], found, "mm")
    assert said == (
        "Buy: 1 x square 2 m, 1 x strip, 1 x edge trim = 20.50 all told and 1 m (no price given); "
        "no layout needs less"
    )


def test_sticks_from_the_rack_cost_nothing(laid):
    """A stick on hand that cannot be bought has no price and costs 0, as a sheet does."""
    job, layout = laid
    own = replace(job.bars[1], on_hand=1, buy=False)
    taken = replace(layout.bars[1].sticks[0], stock=own, on_hand=True)
    here = replace(layout.bars[1], sticks=(taken,))
    layout = replace(layout, bars=(layout.bars[0], here, layout.bars[2]))
    rows = estimate(replace(job, bars=(job.bars[0], own, job.bars[2])), layout).bar_rows
    assert [(r.buy, r.on_hand, r.price, r.cost) for r in rows if r.stock == own] == [(0, 1, None, 0)]


def test_the_text_of_a_job_of_tubes(laid):
    """The whole text as golden/ has it; its last line says what to buy."""
    text = estimate_text(*laid, estimate(*laid))
    assert text == (GOLDEN / "estimate_frame.txt").read_text(encoding="utf-8")


def test_what_is_not_proved_is_said(laid):
    """Below the cost the bound and its reason; without a place nothing is said about the least."""
    bars = laid[1].bars[0]
    open_ended = replace(bars, least_cost=Bound(Fraction("9.999"), "of this"))
    assert "It costs at least 9.99: of this. That this can be reached is not proved." in least_sticks_text(
        open_ended
    )
    few = replace(bars, least_sticks=Bound(Fraction(0), "of that"))
    assert least_sticks_text(few).startswith("1 stick; at least 0 are needed: of that. None costs less than")


def test_names_of_groups_and_sticks(laid):
    """A group by material, section and saw, a stick by its stock and number."""
    groups = [bar_group_name(b.group, "mm") for b in laid[1].bars]
    assert groups == [
        "aluminium 6061, 25 x 25 x 2 mm, saw (hacksaw)",
        "steel, strip 30 x 3 mm, saw (hacksaw)",
        "rubber, roll 12 mm, cut with scissors",
    ]
    assert [stick_name(s) for b in laid[1].bars for s in b.sticks] == [
        "square 2 m, stick 1",
        "strip, stick 1",
        "edge trim, roll 1",
    ]


def test_a_heavy_stick_needs_two_people(laid):
    """From 20 kg on."""
    taken = estimate(*laid).bars[0]
    heavy = replace(taken, weight=replace(taken.weight, heaviest=21.0))
    assert "a stick of 21.0 kg needs two people" in dict(bars_facts(heavy, "mm"))["weight"]
    assert "two people" not in dict(bars_facts(taken, "mm"))["weight"]
    unknown = replace(taken, weight=None)
    assert dict(bars_facts(unknown, "mm"))["weight"].startswith("not known")
