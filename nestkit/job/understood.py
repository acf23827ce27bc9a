"""What was understood of a job, in words: said back before anything is cut."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from nestkit.job.model import Group, Job
from nestkit.job.tabs import tabs_said
from nestkit.job.understood_bars import bar_group_said, copies_said
from nestkit.job.understood_fixed import fixed_said
from nestkit.job.understood_joints import bought_said, fitting_said, holes_said, joints_said, method_said
from nestkit.parts.panel import Panel
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Margin
from nestkit.text import columns, counted, money_text
from nestkit.units import Unit, length_text, sides_text, with_unit


def understood(job: Job) -> tuple[str, ...]:
    """Return lines that say what is to be made, from which stock, and how it is cut."""
    pieces = sum(p.needed for p in job.panels) + sum(t.needed for t in job.tubes)
    date = f", {job.date.isoformat()}" if job.date else ""
    kinds = [(len(job.panels), "panel"), (len(job.tubes), "tube"), (pieces, "piece")]
    head = f"{job.name}{date}: {', '.join(counted(n, thing) for n, thing in kinds if n)}"
    lines = [head, f"A number without a unit is in {'inches' if job.unit == 'in' else 'millimetres'}."]
    for group in job.groups:
        lines += ["", *_group(group, job.unit)]
    unused = [s for s in job.sheets if not any(s in g.sheets for g in job.groups)]
    if unused:
        lines += ["", "No panel is cut from: " + ", ".join(s.name for s in unused)]
    for bars in job.bar_groups:
        lines += ["", *bar_group_said(bars, job.unit)]
    used = {b.name for g in job.bar_groups for b in g.bars}
    left = [b for b in job.bars if b.name not in used]
    if left:
        lines += ["", "No tube is cut from: " + ", ".join(b.name for b in left)]
    for said in (bought_said(job), joints_said(job), fitting_said(job)):
        more = list(said)
        lines += ["", *more] if more else []
    return tuple(lines)


def _group(group: Group, unit: Unit) -> Iterator[str]:
    way = group.way
    named = f' ("{way.name}")' if way.name else ""
    yield f"{group.material}, {with_unit(group.thickness, unit)}, cut by {way.how}{named}"
    yield f"  {_room(group, unit)}"
    for rule in group.settled_by:
        yield f"    {rule}"
    rows = [_sheet_row(s, unit) for s in group.sheets]
    yield from (f"  {line}" for line in columns(rows, right=frozenset({2})))
    yield from (f"  {line}" for line in fixed_said(group, unit))
    if not rows:
        yield "  no stock of this material and thickness"
    lines = columns([_panel_row(p, unit) for p in group.panels])
    for panel, line in zip(group.panels, lines, strict=True):
        yield f"    {line}"
        if panel.drawn is not None:
            yield f"      {panel.drawn.file}: {'; '.join(panel.drawn.notes)}"


def _room(group: Group, unit: Unit) -> str:
    way = group.way
    said = [
        f"kerf {with_unit(way.kerf, unit)}",
        f"gap {with_unit(group.gap, unit)}",
        margin_off_a_roll(group.margin, unit) if group.off_a_roll else _margin(group.margin, unit),
    ]
    if way.edge_to_edge:
        said.append(
            f"{way.stages} cutting directions in a row at most" if way.stages else "any cuts edge to edge"
        )
        if way.first != "any":
            said.append(f"first cuts along {way.first}")
    if way.tabs is not None:
        said.append(tabs_said(way.tabs, unit))
    if way.relief == "corners":
        said.append("inner corners relieved")
    return ", ".join(said)


def _margin(margin: Margin, unit: Unit) -> str:
    sides = (margin.left, margin.right, margin.bottom, margin.top)
    if len(set(sides)) == 1:
        return f"margin {with_unit(sides[0], unit)}"
    named = zip(("left", "right", "bottom", "top"), sides, strict=True)
    return "margin " + " ".join(f"{side} {length_text(value, unit)}" for side, value in named) + f" {unit}"


def margin_off_a_roll(margin: Margin, unit: Unit) -> str:
    """Return what is kept free of goods off a roll: along its edges, and at the ends of the piece.

    >>> side, end = Fraction(10), Fraction(20)
    >>> margin_off_a_roll(Margin(), "mm"), margin_off_a_roll(Margin(side, side), "mm")
    ('no margin', 'margin 10 mm along the edges of the roll')
    >>> margin_off_a_roll(Margin(side, end, end, end), "mm")
    'margin left 10 and right 20 mm along the edges of the roll, 20 mm at each end of the piece'
    """
    along = _pair((margin.left, margin.right), ("left", "right"), unit)
    ends = _pair((margin.bottom, margin.top), ("bottom", "top"), unit)
    at = "at each end" if margin.bottom == margin.top else "at the ends"
    if margin.left and len({margin.left, margin.right, margin.bottom, margin.top}) == 1:
        return f"margin {along} along the edges of the roll and at each end of the piece"
    said = [f"{along} along the edges of the roll"] if along else []
    said += [f"{ends} {at} of the piece"] if ends else []
    return f"margin {', '.join(said)}" if said else "no margin"


def _pair(sides: tuple[Fraction, Fraction], names: tuple[str, str], unit: Unit) -> str:
    """Return the margins of two sides, empty where there is none: ``10 mm``, ``left 10 and right 20 mm``."""
    if sides[0] == sides[1]:
        return with_unit(sides[0], unit) if sides[0] else ""
    first, second = (length_text(side, unit) for side in sides)
    return f"{names[0]} {first} and {names[1]} {second} {unit}"


def _sheet_row(sheet: Sheet, unit: Unit) -> tuple[str, ...]:
    size = sides_text(sheet.width, sheet.height, unit)
    if sheet.roll:
        size = f"{with_unit(sheet.width, unit)} wide, off the roll"
    sold = f"sold as {with_unit(sheet.sold_as, unit)}" if sheet.sold_as is not None else ""
    price = "" if sheet.price is None else money_text(sheet.price)
    if price and sheet.roll:
        price += " a foot" if unit == "in" else " a metre"
    here = f"{sheet.on_hand} on hand" if sheet.on_hand else ""
    buy = "" if sheet.buy else "not to be bought"
    grain = f"grain along {sheet.grain}" if sheet.grain != "none" else ""
    return sheet.name, size, price, ", ".join(t for t in (sold, here, buy, grain) if t)


def _panel_row(panel: Panel, unit: Unit) -> tuple[str, ...]:
    size = sides_text(panel.width, panel.height, unit)
    shape = {"rectangle": "", "disc": "disc", "points": "points", "outline": "outline"}[panel.shape]
    lie = f"grain along {panel.grain}" if panel.grain != "none" else ""
    last = ", ".join(said for said in (lie, method_said(panel.method)) if said)
    return panel.name, size, shape, how_many(panel), made_by(panel, unit), last


def how_many(panel: Panel) -> str:
    """Return a panel's copies: ``2 as drawn + 1 opposite hand = 3``."""
    alike = ", faces alike" if panel.faces == "alike" and panel.made else ""
    if panel.either_hand:
        alike += ": turned over, one hand is the other"
    return copies_said(panel) + alike


def made_by(panel: Panel, unit: Unit) -> str:
    """Return a panel's holes by drill, then its openings: ``8 x #2, 4 x #7, 1 slot``."""
    said = [holes_said(panel.holes, unit)] if panel.holes else []
    for kind, word in (("slot", "slot"), ("cutout", "cut-out")):
        n = sum(o.kind == kind for o in panel.openings)
        if n:
            said.append(counted(n, word))
    return ", ".join(said)
