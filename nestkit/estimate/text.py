"""The estimate as text: columns with units, and the one line that matters at the end."""

from __future__ import annotations

import textwrap

from nestkit.estimate.amounts import time_text, way_text, weight_text, yield_text
from nestkit.estimate.bar_words import bar_group_name, bars_facts, least_sticks_text
from nestkit.estimate.bars import BarRow, BarsEstimate
from nestkit.estimate.estimate import TWO_PEOPLE_KG, BoughtRow, Estimate, GroupEstimate, StockRow
from nestkit.estimate.words import buy_sentence, group_name, least_text, on_sheets_text, per_length_text
from nestkit.job.model import Job
from nestkit.layout.bars.result import BarsLayout
from nestkit.layout.result import GroupLayout, JobLayout
from nestkit.stock.section import section_text
from nestkit.text import columns, counted, money_text
from nestkit.trade.cautions import cautions
from nestkit.units import Unit, length_text

WIDTH = 96


def estimate_text(job: Job, layout: JobLayout, estimate: Estimate) -> str:
    """Return what a job takes as text for a terminal; its last line says what to buy."""
    lines = [*_stock_lines(estimate, job.unit), ""]
    for laid, taken in zip(layout.groups, estimate.groups, strict=True):
        lines += [group_name(laid.group, job.unit), *_group_lines(laid, taken, job.unit), ""]
    for cut, bars in zip(layout.bars, estimate.bars, strict=True):
        lines += [bar_group_name(cut.group, job.unit), *_bars_lines(cut, bars, job.unit), ""]
    if time := minutes_text(estimate):
        lines += [*_wrapped(time, ""), ""]
    for caution in cautions("estimate"):
        lines += _wrapped(caution, "")
    lines += ["", buy_sentence(layout, estimate, job.unit)]
    return "\n".join(lines) + "\n"


def _stock_lines(estimate: Estimate, unit: Unit) -> list[str]:
    if not estimate.rows and not estimate.bar_rows and not estimate.bought:
        return ["No stock is used."]
    sheets = [_sheet_row(row, unit) for row in estimate.rows]
    bars = [_bar_row(row, unit) for row in estimate.bar_rows]
    lines: list[str] = []
    for head, rows in ((f"thickness [{unit}]", sheets), (f"section [{unit}]", bars)):
        if rows:
            kind = f"{'size' if rows is sheets else 'length'} [{unit}]"
            lines += ["", *_table([("stock", kind, head, "buy", "on hand", "price", "", "cost"), *rows])]
    if estimate.bought:
        rows = [_bought_row(row) for row in estimate.bought]
        lines += ["", *columns([("bought in", "buy", "price", "cost"), *rows], right=frozenset({1, 2, 3}))]
    return lines[1:]


def _bought_row(row: BoughtRow) -> tuple[str, ...]:
    price = "-" if row.part.price is None else money_text(row.part.price)
    return row.part.name, str(row.buy), price, "-" if row.cost is None else money_text(row.cost)


def _table(rows: list[tuple[str, ...]]) -> list[str]:
    if not any(row[-2] for row in rows):
        rows = [(*row[:-2], row[-1]) for row in rows]
    return columns(rows, right=frozenset({2, 3, 4, 5, len(rows[0]) - 1}))


def _sheet_row(row: StockRow, unit: Unit) -> tuple[str, ...]:
    stock = row.stock
    size = f"{length_text(stock.width, unit)} x {length_text(stock.height, unit)}"
    price = "-" if stock.price is None else money_text(stock.price)
    per = per_length_text(unit) if stock.roll and stock.price is not None else ""
    return (stock.name, size, length_text(stock.thickness, unit), *_counts(row), price, per, _cost(row))


def _bar_row(row: BarRow, unit: Unit) -> tuple[str, ...]:
    stock = row.stock
    price = "-" if row.price is None else money_text(row.price)
    section = section_text(stock.section, unit)
    return (stock.name, length_text(stock.length, unit), section, *_counts(row), price, "", _cost(row))


def _counts(row: StockRow | BarRow) -> tuple[str, str]:
    return str(row.buy), str(row.on_hand)


def _cost(row: StockRow | BarRow) -> str:
    return "-" if row.cost is None else money_text(row.cost)


def _group_lines(laid: GroupLayout, taken: GroupEstimate, unit: Unit) -> list[str]:
    lines = _wrapped(least_text(laid, unit), "  ")
    lines += _facts(taken, unit)
    for left in laid.unplaced:
        hand = ", opposite hand" if left.opposite_hand else ""
        lines += _wrapped(f"No place for {left.panel.name}, copy {left.copy}{hand}: {left.why}", "  ")
    return lines


def _bars_lines(laid: BarsLayout, taken: BarsEstimate, unit: Unit) -> list[str]:
    lines = _wrapped(least_sticks_text(laid), "  ") + _told(bars_facts(taken, unit))
    for left in laid.unplaced:
        hand = ", opposite hand" if left.opposite_hand else ""
        lines += _wrapped(f"No place for {left.tube.name}, copy {left.copy}{hand}: {left.why}", "  ")
    return lines


def _facts(taken: GroupEstimate, unit: Unit) -> list[str]:
    facts = [
        (
            "parts",
            f"{taken.pieces} on {on_sheets_text(taken)}, yield {yield_text(taken.yield_share)}",
        )
    ]
    facts.append(("weight", weights_text(taken, unit)))
    facts.append(("to cut", cutting_text(taken, unit)))
    if holes := holes_text(taken):
        facts.append(("holes", holes))
    return _told(facts)


def _told(facts: list[tuple[str, str]]) -> list[str]:
    lines = []
    for name, text in facts:
        lines += textwrap.wrap(text, WIDTH, initial_indent=f"  {name:<8}", subsequent_indent=" " * 10)
    return lines


def weights_text(taken: GroupEstimate, unit: Unit) -> str:
    """Return what a group's parts and sheets weigh, and whether a sheet needs two people."""
    weight = taken.weight
    if weight is None:
        return f"not known: the tables have no density for {taken.group.material}"
    roll = taken.group.off_a_roll
    full = "the piece off the roll" if roll else "full sheets"
    said = f"parts {weight_text(weight.parts, unit)}, {full} {weight_text(weight.sheets, unit)}"
    said += f", at {float(weight.material.density):g} kg/m3"
    if weight.heaviest > TWO_PEOPLE_KG:
        said += f"; a {'piece' if roll else 'sheet'} of {weight_text(weight.heaviest, unit)} needs two people"
    return said


def cutting_text(taken: GroupEstimate, unit: Unit) -> str:
    """Return how much there is to cut."""
    if taken.how == "saw":
        return f"{counted(taken.saw_cuts, 'saw cut')}, {way_text(taken.saw_mm, unit)} in all"
    if taken.how == "jigsaw":
        return f"about {way_text(taken.contour_mm, unit)} along edges and openings, by hand"
    tool = "cutter" if taken.how == "router" else "beam"
    return f"about {way_text(taken.contour_mm, unit)} along the middle of the {tool}, one pass"


def holes_text(taken: GroupEstimate) -> str:
    """Return who makes the holes; empty where there are none."""
    said = []
    if taken.machined:
        said.append(f"{taken.machined} cut with the parts")
    if taken.drilled:
        said.append(f"{taken.drilled} to drill by hand")
    return ", ".join(said)


def minutes_text(estimate: Estimate) -> str:
    """Return how long the drilling takes, with the rule behind it; empty where there is none."""
    holes = estimate.drilled
    if not holes:
        return ""
    least, typical, most = estimate.minutes
    return (
        f"{counted(holes, 'hole')} to mark, punch, pilot, drill and deburr by hand: "
        f"about {time_text(typical)}, from {time_text(least)} to {time_text(most)} "
        f"({estimate.minutes_said}). Sawing, routing and finishing come on top."
    )


def _wrapped(text: str, indent: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent)
