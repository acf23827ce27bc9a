"""The bars in summary.html: what they take, pictures of the sticks, the cut lengths to make."""

from __future__ import annotations

import re
from collections import Counter

from nestkit.drawing.stick_summary import sticks_picture
from nestkit.estimate.bar_words import bar_group_name, bars_facts, least_sticks_text
from nestkit.estimate.bars import BarRow
from nestkit.estimate.estimate import Estimate
from nestkit.estimate.words import drill_text
from nestkit.job.model import Job
from nestkit.job.understood_bars import copies_said, tube_ends
from nestkit.layout.result import JobLayout
from nestkit.parts.tube import Tube
from nestkit.stock.section import section_text
from nestkit.text import money_text
from nestkit.units import Unit, length_text, with_unit
from nestkit.writers.html import Lines, said
from nestkit.writers.svg import svg_inline


def bar_to_buy(row: BarRow, unit: Unit) -> Lines:
    """One stock length: how many to buy, how many come from the rack."""
    bar = row.stock
    about = f"{with_unit(bar.length, unit)} long, {bar.material}, {section_text(bar.section, unit)} {unit}"
    lines = []
    if row.buy:
        price = ""
        if row.price is not None and row.cost is not None:
            price = f" &mdash; {money_text(row.price)} each, {money_text(row.cost)}"
        lines.append(
            f'<li class="item"><span class="large">{row.buy} &times; <bdi>{said(bar.name)}</bdi></span>'
            f"<br>{said(about)}{price}</li>"
        )
    if row.on_hand:
        lines.append(
            f'<li class="item"><strong>{row.on_hand} &times; <bdi>{said(bar.name)}</bdi> '
            f"from what is on hand</strong><br>{said(about)}</li>"
        )
    return lines


def bars_part(layout: JobLayout, estimate: Estimate, unit: Unit) -> Lines:
    """What each group of tubes takes and why no cut list could do with less."""
    lines: Lines = []
    for laid, taken in zip(layout.bars, estimate.bars, strict=True):
        lines.append(f"<h3>{said(bar_group_name(laid.group, unit))}</h3>")
        lines.append(f"<p>{said(least_sticks_text(laid))}</p>")
        facts = (f"{name}: {text}" for name, text in bars_facts(taken, unit))
        lines += ["<ul>", *(f"<li>{said(fact[:1].upper() + fact[1:])}</li>" for fact in facts), "</ul>"]
    return lines


def sticks_part(job: Job, layout: JobLayout) -> Lines:
    """A picture of the sticks of each group, to scale, and a link to the cut plan."""
    lines: Lines = []
    for index, laid in enumerate(layout.bars, start=1):
        picture = sticks_picture(laid, job.unit)
        if picture is None:
            continue
        lines += [
            "<figure>",
            f"<figcaption>{said(bar_group_name(laid.group, job.unit))}"
            '<br><span class="small"><a href="cut_plan.pdf">cut plan</a></span></figcaption>',
            # HTML knows the names of SVG without an address.
            re.sub(r' xmlns(:\w+)?="[^"]*"', "", svg_inline(picture, prefix=f"sticks{index}"), count=3),
            "</figure>",
        ]
    return ["<h2>Sticks</h2>", *lines] if lines else []


def tube_item(tube: Tube, unit: Unit) -> str:
    """One cut length to make: name, length in large figures, how many, holes, mitres."""
    revision = f", revision {tube.revision}" if tube.revision else ""
    facts = [f"{copies_said(tube)}{revision}", f"{tube.material}, {section_text(tube.section, unit)} {unit}"]
    facts += [said_so for said_so in (walls_text(tube, unit), tube_ends(tube)) if said_so]
    return (
        f'<li class="item"><strong><bdi>{said(tube.name)}</bdi></strong> '
        f'<span class="size">{length_text(tube.length, unit)} {unit}</span>'
        f"<br>{said('; '.join(facts))}</li>"
    )


def walls_text(tube: Tube, unit: Unit) -> str:
    """Return the holes of a tube by drill: ``8 x #2 (.221 in), 4 of them through both walls``."""
    counts = Counter(drill_text(hole.drill, unit) for hole in tube.holes)
    said_so = ", ".join(f"{n} x {name}" for name, n in counts.items())
    through = sum(hole.through for hole in tube.holes) if tube.section.two_walls else 0
    return f"{said_so}, {through} of them through both walls" if through else said_so
