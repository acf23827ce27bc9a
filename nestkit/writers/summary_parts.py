"""The sections of summary.html, each a list of lines of HTML; every text of the job is escaped here."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from nestkit.drawing.sheet import size_text, thickness_text
from nestkit.drawing.sheet_picture import long_scale, sheet_plan, signs_text
from nestkit.estimate.amounts import yield_text
from nestkit.estimate.estimate import BoughtRow, Estimate
from nestkit.estimate.text import cutting_text, holes_text, minutes_text, weights_text
from nestkit.estimate.words import (
    drill_text,
    group_name,
    least_text,
    on_sheets_text,
    per_length_text,
    total_text,
    unpriced_texts,
    verdict_text,
)
from nestkit.geometry.points import Rect
from nestkit.job.model import Job
from nestkit.job.understood import how_many
from nestkit.layout.result import JobLayout
from nestkit.parts.panel import Panel
from nestkit.text import counted, money_text, sentence
from nestkit.trade.cautions import cautions, for_materials
from nestkit.units import Unit, length_text, run_text, with_unit
from nestkit.writers.html import Lines, said
from nestkit.writers.plan import sheet_files
from nestkit.writers.summary_bars import bar_to_buy, bars_part, tube_item
from nestkit.writers.svg import svg_inline

if TYPE_CHECKING:
    from nestkit.checks.findings import Finding

PICTURE = Rect(0.0, 0.0, 150.0, 220.0)
"""Paper that pictures are drawn for: narrow, so that their words can be read on a phone."""


LONG = 3
"""A picture that is so many times as high as wide may be higher than a screen."""


def buy_part(layout: JobLayout, estimate: Estimate, unit: Unit) -> Lines:
    """What to buy, first and large; what is taken from the rack; whether less would do."""
    lines = ["<h2>Buy</h2>", '<ul class="plain">']
    for row in estimate.rows:
        stock = row.stock
        about = f"{size_text(stock, unit)}, {stock.material}, {thickness_text(stock, unit)}"
        if row.buy:
            price = ""
            if row.price is not None and row.cost is not None:
                each = f"{money_text(row.price)} each, {money_text(row.cost)}"
                if stock.roll and stock.price is not None:
                    each = f"{money_text(stock.price)} {per_length_text(unit)}, {money_text(row.cost)}"
                price = f" &mdash; {each}"
            count = f"{run_text(stock.height, unit)} of" if stock.roll else f"{row.buy} &times;"
            lines.append(
                f'<li class="item"><span class="large">{count} <bdi>{said(stock.name)}</bdi></span>'
                f"<br>{said(about)}{price}</li>"
            )
        if row.on_hand:
            lines.append(
                f'<li class="item"><strong>{row.on_hand} &times; <bdi>{said(stock.name)}</bdi> '
                f"from what is on hand</strong><br>{said(about)}</li>"
            )
    for bar in estimate.bar_rows:
        lines += bar_to_buy(bar, unit)
    lines += [_bought_item(part) for part in estimate.bought]
    if not estimate.buys:
        lines.append('<li class="item"><span class="large">Nothing to buy</span></li>')
    lines.append("</ul>")
    if estimate.cost:
        lines.append(f'<p class="large">{total_text(estimate)} all told</p>')
    lines += [
        f'<p class="large">{said(amount.replace("m2", "m²"))}</p>' for amount in unpriced_texts(estimate)
    ]
    verdict = verdict_text(layout)
    lines.append(f"<p>{said(verdict[:1].upper() + verdict[1:])}.</p>")
    return lines


def _bought_item(row: BoughtRow) -> str:
    price = ""
    if row.part.price is not None and row.cost is not None:
        price = f"{money_text(row.part.price)} each, {money_text(row.cost)}"
    about = ", ".join(
        filter(None, (row.part.material, row.part.used_for and f"for {row.part.used_for}", price))
    )
    name = f'<span class="large">{row.buy} &times; <bdi>{said(row.part.name)}</bdi></span>'
    return f'<li class="item">{name}{f"<br>{said(about)}" if about else ""}</li>'


def unplaced_part(layout: JobLayout) -> Lines:
    """Parts without a place, in a heavy frame, or nothing."""
    left = [(u.panel.name, u.copy, u.opposite_hand, u.why) for g in layout.groups for u in g.unplaced]
    left += [(u.tube.name, u.copy, u.opposite_hand, u.why) for b in layout.bars for u in b.unplaced]
    if not left:
        return []
    lines = ['<div class="must">', f"<strong>{counted(len(left), 'part')} without a place</strong>", "<ul>"]
    for name, copy, opposite, why in left:
        hand = ", opposite hand" if opposite else ""
        lines.append(f"<li><bdi>{said(name)}</bdi>, copy {copy}{hand}: {said(why)}</li>")
    return [*lines, "</ul>", "</div>"]


def errors_part(findings: Sequence[Finding]) -> Lines:
    """What must be mended first, in a heavy frame, or nothing."""
    errors = [f for f in findings if f.level == "error"]
    if not errors:
        return []
    head = f"{counted(len(errors), 'error')}: this cannot be made as described"
    return ['<div class="must">', f"<strong>{head}</strong>", *_findings(errors), "</div>"]


def advice_part(findings: Sequence[Finding]) -> Lines:
    """Advice, with its sources."""
    advice = [f for f in findings if f.level != "error"]
    return ["<h2>Advice</h2>", *_findings(advice)] if advice else []


def _findings(findings: Iterable[Finding]) -> Lines:
    lines = ["<ul>"]
    for f in findings:
        basis = f"Rule {f.rule}: {f.source}" if f.rule and f.source else f.source or f.rule
        lines.append(
            f"<li><strong>{said(f.place)}</strong>: {said(sentence(f.text))} {said(sentence(f.remedy))}"
            f' <span class="small">{said(sentence(basis))}</span></li>'
        )
    return [*lines, "</ul>"]


def groups_part(layout: JobLayout, estimate: Estimate, unit: Unit) -> Lines:
    """What each group takes and why no layout could do with less."""
    lines = ["<h2>What it takes</h2>"]
    for laid, taken in zip(layout.groups, estimate.groups, strict=True):
        lines.append(f"<h3>{said(group_name(laid.group, unit))}</h3>")
        lines.append(f"<p>{said(least_text(laid, unit))}</p>")
        facts = [
            f"{counted(taken.pieces, 'part')} on {on_sheets_text(taken)}, "
            f"yield {yield_text(taken.yield_share)}",
            f"Weight: {weights_text(taken, unit)}",
            f"To cut: {cutting_text(taken, unit)}",
        ]
        if holes := holes_text(taken):
            facts.append(f"Holes: {holes}")
        lines += ["<ul>", *(f"<li>{said(fact)}</li>" for fact in facts), "</ul>"]
    lines += bars_part(layout, estimate, unit)
    if time := minutes_text(estimate):
        lines.append(f"<p>{said(time)}</p>")
    return lines


def sheets_part(job: Job, layout: JobLayout) -> Lines:
    """A picture of every sheet with what explains it, and links to its files."""
    lines = ["<h2>Sheets</h2>"] if any(laid.sheets for laid in layout.groups) else []
    for index, (laid, sheet, stem) in enumerate(sheet_files(job, layout), start=1):
        stock = sheet.stock
        which = "piece off the roll" if stock.roll else f"sheet {sheet.number}"
        scale = long_scale(sheet, PICTURE)
        plan = sheet_plan(sheet, laid.group, unit=job.unit, scale=scale)
        links = ", ".join(f'<a href="sheets/{stem}.{end}">{end.upper()}</a>' for end in ("pdf", "svg", "dxf"))
        about = f"{size_text(stock, job.unit)}, {laid.group.material}, {thickness_text(stock, job.unit)}"
        lines += [
            '<figure class="long">' if plan.drawing.height > LONG * plan.drawing.width else "<figure>",
            f"<figcaption><bdi>{said(stock.name)}</bdi>, {which}: {said(about)}",
            f'<br><span class="small">{links}</span></figcaption>',
            # HTML knows the names of SVG without an address.
            re.sub(r' xmlns(:\w+)?="[^"]*"', "", svg_inline(plan.drawing, prefix=f"sheet{index}"), count=3),
            f'<p class="small">{said(signs_text(sheet, laid.group, job.unit))}</p>',
        ]
        if plan.key:
            rows = (f'<li value="{row.number}">{said(row.text)}</li>' for row in plan.key)
            lines += ["<p>By the number in the box:</p>", '<ol class="small">', *rows, "</ol>"]
        lines.append("</figure>")
    return lines


def parts_part(job: Job) -> Lines:
    """Parts to make, by what they are for: name, size in large figures, how many, holes."""
    lines = ["<h2>Parts to make</h2>"]
    uses = sorted({p.used_for for p in job.parts}, key=lambda use: (not use, use))
    for use in uses:
        if use or len(uses) > 1:
            lines.append(f"<h3>{said(use) if use else 'Other'}</h3>")
        lines.append('<ul class="plain">')
        lines += [_part(p, job.unit) for p in job.panels if p.used_for == use]
        lines += [tube_item(t, job.unit) for t in job.tubes if t.used_for == use]
        lines.append("</ul>")
    return lines


def _part(panel: Panel, unit: Unit) -> str:
    size = f"{length_text(panel.width, unit)} &times; {length_text(panel.height, unit)} {unit}"
    thickness = f"{panel.material}, {with_unit(panel.thickness, unit)}"
    revision = f", revision {panel.revision}" if panel.revision else ""
    facts = [f"{how_many(panel)}{revision}", thickness]
    if holes := drills_text(panel, unit):
        facts.append(holes)
    return (
        f'<li class="item"><strong><bdi>{said(panel.name)}</bdi></strong> <span class="size">{size}</span>'
        f"<br>{said('; '.join(facts))}</li>"
    )


def drills_text(panel: Panel, unit: Unit) -> str:
    """Return the holes of a part by drill: ``8 x #2 (.221 in), 4 x #7 (.201 in)``."""
    counts = Counter(drill_text(hole.drill, unit) for hole in panel.holes)
    return ", ".join(f"{n} x {name}" for name, n in counts.items())


def cautions_part(layout: JobLayout) -> Lines:
    """Cautions for the materials and ways of cutting of the job."""
    materials = [laid.group.material for laid in layout.every]
    hows = [laid.group.way.how for laid in layout.groups]
    own = for_materials(materials, hows, tube=any(not b.group.off_a_roll for b in layout.bars))
    texts = dict.fromkeys((*own[-1:], *cautions("cover"), *own[:-1], *cautions("estimate")))
    return ["<h2>Take care</h2>", "<ul>", *(f"<li>{said(text)}</li>" for text in texts), "</ul>"]


def files_part(files: Sequence[str]) -> Lines:
    """All files of the job folder, as links."""
    links = (f'<li><a href="{said(name)}">{said(name)}</a></li>' for name in files)
    return ["<h2>Files</h2>", '<ul class="plain small">', *links, "</ul>"]
