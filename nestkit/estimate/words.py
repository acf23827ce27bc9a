"""How a job's estimate is said: groups, sheets, what to buy, and what no layout can beat."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from nestkit.estimate.amounts import cost_text, least_cost_text
from nestkit.estimate.estimate import Estimate, GroupEstimate, StockRow
from nestkit.job.model import Group
from nestkit.layout.bars.result import BarsLayout
from nestkit.layout.proof import Bound
from nestkit.layout.result import CutSheet, GroupLayout, JobLayout
from nestkit.parts.holes import Drill
from nestkit.text import counted, money_text
from nestkit.units import Unit, decimal_text, run_text, with_unit


def drill_text(drill: Drill, unit: Unit) -> str:
    """Return what makes a hole: ``#2 (.221 in)``, or its size alone where that is the drill's name."""
    size = with_unit(drill.dia, unit)
    return f"{drill.name} ({size})" if drill.name not in ("", size) else size


def group_name(group: Group, unit: Unit) -> str:
    """Return a group's name: material, real thickness, way of cutting."""
    way = f"{group.way.how} ({group.way.name})" if group.way.name else group.way.how
    return f"{group.material}, {with_unit(group.thickness, unit)}, {way}"


def sheet_name(sheet: CutSheet) -> str:
    """Return which sheet it is: ``PC 1/8 2x4, sheet 2``, or ``deck foam, piece off the roll``."""
    which = "piece off the roll" if sheet.stock.roll else f"sheet {sheet.number}"
    return f"{sheet.stock.name}, {which}"


def on_sheets_text(taken: GroupEstimate) -> str:
    """Return on how many sheets a group's parts lie: ``2 sheets``, ``one piece off the roll``."""
    if taken.group.off_a_roll and taken.sheets == 1:
        return "one piece off the roll"
    return counted(taken.sheets, "sheet")


def per_length_text(unit: Unit) -> str:
    """Return for how much of a roll a price is: ``a foot``."""
    return "a foot" if unit == "in" else "a metre"


def least_text(laid: GroupLayout, unit: Unit) -> str:
    """Return in a sentence what no layout of all parts can beat, and why."""
    if laid.unplaced:
        missing = counted(len(laid.unplaced), "part")
        return f"{missing} without a place, so nothing is said about the least that could do."
    if laid.least_cost is None or laid.least_sheets is None:
        return "Nothing is known about the least that could do."
    if laid.group.off_a_roll and laid.sheets:
        return _least_of_a_roll(laid, laid.sheets[0], laid.least_cost, unit)
    used, sheets = len(laid.sheets), laid.least_sheets
    said = f"{counted(used, 'sheet')}; {_no_fewer(used, sheets)}"
    if laid.proved:
        tail = f"No layout costs less than {cost_text(laid.cost, laid.cost_in)}: {laid.least_cost.why}."
    else:
        least = least_cost_text(laid.least_cost.value, laid.cost_in)
        tail = f"It costs at least {least}: {laid.least_cost.why}. That this can be reached is not proved."
    return f"{said} {tail}"


def _no_fewer(used: int, sheets: Bound) -> str:
    if sheets.value >= used:
        return f"no layout needs fewer: {sheets.why}."
    verb = "is" if sheets.value == 1 else "are"
    return f"at least {decimal_text(sheets.value)} {verb} needed: {sheets.why}."


def _least_of_a_roll(laid: GroupLayout, piece: CutSheet, least: Bound, unit: Unit) -> str:
    """Say it as a length of the roll; of several rolls as a cost, since the least may lie on another."""
    said = f"{run_text(piece.stock.height, unit)} off the roll {with_unit(piece.stock.width, unit)} wide"
    if not piece.cost:
        return f"{said}, which costs nothing."
    several = len(laid.group.sheets) > 1
    if laid.proved:
        tail = f"no piece costs less: {least.why}" if several else f"no layout needs less: {least.why}"
        return f"{said}; {tail}."
    if several:
        tail = f"a piece costs at least {least_cost_text(least.value, laid.cost_in)}"
    else:
        # What no layout can beat is rounded down, what is bought up.
        length = least.value * piece.stock.height / piece.cost
        tail = f"no layout needs less than {run_text(length, unit, up=False)} of it"
    return f"{said}; {tail}: {least.why}. That this can be reached is not proved."


def buy_sentence(layout: JobLayout, estimate: Estimate, unit: Unit) -> str:
    """Return the one line that matters: what to buy, what it costs, whether less would do."""
    return f"Buy: {buy_list_text(estimate, unit)}{_total_text(estimate)}; {verdict_text(layout)}"


def buy_list_text(estimate: Estimate, unit: Unit) -> str:
    """Return what to buy as a list: ``2 x PC 1/8 2x4, 5 ft 3 1/2 in of deck foam off the 24 in roll``."""
    bought = [_bought(row, unit) for row in estimate.rows if row.buy]
    bought += [f"{row.buy} x {row.stock.name}" for row in estimate.bar_rows if row.buy]
    bought += [f"{row.buy} x {row.part.name}" for row in estimate.bought]
    return ", ".join(bought) or "nothing"


def _bought(row: StockRow, unit: Unit) -> str:
    stock = row.stock
    if not stock.roll:
        return f"{row.buy} x {stock.name}"
    return f"{run_text(stock.height, unit)} of {stock.name} off the {with_unit(stock.width, unit)} roll"


def _total_text(estimate: Estimate) -> str:
    if not estimate.buys:
        some = estimate.rows or estimate.bar_rows
        return ", all of it comes from what is on hand" if some else ""
    sums = []
    if estimate.cost:
        sums.append(f"{total_text(estimate)} all told")
    sums += unpriced_texts(estimate)
    return f" = {' and '.join(sums)}" if sums else ""


def unpriced_texts(estimate: Estimate) -> list[str]:
    """Return what is bought without a price: square metres of sheets, metres of bars, bought-in parts."""
    parts = sum(row.buy for row in estimate.bought if row.cost is None)
    amounts = ((estimate.m2, "m2"), (estimate.metres, "m"))
    said = [f"{decimal_text(amount, 2)} {of}" for amount, of in amounts if amount]
    said += [counted(parts, "bought-in part")] if parts else []
    return [f"{one} (no price given)" for one in said]


def total_text(estimate: Estimate) -> str:
    """Return what all stock and all bought-in parts with prices cost."""
    return money_text(estimate.cost or Fraction(0))


def verdict_text(layout: JobLayout) -> str:
    """Return whether less would do, for the whole job."""
    left = sum(len(laid.unplaced) for laid in layout.every)
    if left:
        return f"{counted(left, 'part')} {'has' if left == 1 else 'have'} no place"
    if all(laid.proved for laid in layout.every):
        return "no layout needs less"
    return f"at least {_least_total(layout.every)}; whether less than this would do is not proved"


def _least_total(groups: Sequence[GroupLayout | BarsLayout]) -> str:
    sums = []
    for kind in ("price", "m2", "m"):
        bounds = [g.least_cost.value for g in groups if g.cost_in == kind and g.least_cost is not None]
        if bounds:
            sums.append(least_cost_text(sum(bounds, Fraction(0)), kind))
    return " and ".join(sums) or "0"
