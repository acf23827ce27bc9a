"""Jobs off a roll on the whole way through ``lay_out``."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from nestkit.job.model import Group
from nestkit.layout.lay_out import lay_out
from nestkit.layout.verify import verify
from nestkit.parts.panel import allowed_turns
from nestkit.stock.sheet import Sheet
from nestkit.units import grid_down, grid_mm, grid_up
from tests.layout.made import group, job, lengths, panels, sheet

METRE = Fraction(1000)
LONGEST = Fraction(100_000)


@st.composite
def rolls(draw: st.DrawFn) -> list[Sheet]:
    """One or two rolls, with prices for a metre for both or for none."""
    priced = draw(st.booleans())
    return [
        sheet(
            f"roll {i + 1}",
            draw(lengths(200, 900)),
            LONGEST,
            price=draw(st.fractions(1, 30, max_denominator=100)) if priced else None,
            priced_by=draw(st.sampled_from([METRE, Fraction("304.8")])),
            grain=draw(st.sampled_from(["none", "none", "y"])),
        )
        for i in range(draw(st.integers(1, 2)))
    ]


@st.composite
def roll_groups(draw: st.DrawFn) -> Group:
    """Any small group off a roll: any way of cutting, kerf, gap and margin."""
    how = draw(st.sampled_from(["saw", "saw", "jigsaw", "router", "laser"]))
    kerf = draw(st.sampled_from([0, 1, Fraction(127, 40), 6]))
    gap = kerf + draw(st.sampled_from([0, 0, 2, Fraction(25, 4)]))
    margin = tuple(draw(st.sampled_from([0, 0, 5, Fraction(127, 10)])) for _ in range(4))
    way = {"stages": draw(st.sampled_from([0, 2, 3])), "first": draw(st.sampled_from(["any", "x", "y"]))}
    return group(draw(panels(8)), draw(rolls()), how, kerf, gap, margin, **(way if how == "saw" else {}))


def fits(made: Group, roll: Sheet, index: int) -> bool:
    """Say whether a roll is wide enough for a panel, counted anew."""
    part = made.panels[index]
    room = grid_down(roll.width) - grid_up(made.margin.left) - grid_up(made.margin.right)
    sides = (grid_up(part.width), grid_up(part.height))
    return any(sides[t % 180 > 0] <= room for t in allowed_turns(part.turn, part.grain, roll.grain))


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(roll_groups())
def test_a_random_job_off_a_roll(made):
    """Verified; one piece, as long as its highest part and the border; cost is length by price."""
    (laid,) = lay_out(job(made), effort="quick").groups
    verify(laid)
    assert len(laid.sheets) <= 1
    for piece in laid.sheets:
        roll = next(s for s in made.sheets if s.name == piece.stock.name)
        top = max(part.y + part.height for part in piece.parts)
        assert piece.stock == roll.cut_off(top + grid_mm(grid_up(made.margin.top)))
        length = piece.stock.height
        price = roll.width / 10**6 if roll.price is None else roll.price / roll.priced_by
        assert piece.cost == laid.cost == length * price
        assert all(o.y + o.height <= length for o in piece.offcuts)
        assert all(c.end <= (length if c.axis == "x" else roll.width) for c in piece.cuts)
    asked = [i for i, p in enumerate(made.panels) if p.needed]
    every = [r for r in made.sheets if all(fits(made, r, i) for i in asked)]
    # All parts come off one piece: where its first cut must run along y they cannot simply be stacked.
    stacked = not made.way.edge_to_edge or made.way.first != "y"
    if not every:
        assert laid.unplaced
    elif stacked:
        assert not laid.unplaced
    if laid.unplaced:
        assert laid.least_cost is None
    elif asked:
        assert laid.least_cost.value <= laid.cost
        assert laid.least_sheets.value == len(laid.sheets) == 1
    assert not any("sheet" in u.why or "100" in u.why for u in laid.unplaced)
