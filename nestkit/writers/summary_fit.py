"""The joints in summary.html: whether they go together, with a picture each; their hardware; the drills."""

from __future__ import annotations

import re
from collections.abc import Iterable

from nestkit.drawing.joint_picture import joint_picture
from nestkit.fit.accuracy_words import accuracy_said
from nestkit.fit.drill_words import (
    care_said,
    dia_text,
    drill_name,
    hole_count,
    holes_said,
    laid_out_said,
    merged_said,
    missing_said,
    order_said,
    use_said,
)
from nestkit.fit.hardware_words import CAUTION, LENGTHS, item_text
from nestkit.fit.result import Conflict, DrillUse, Item, JobFit, JointFit
from nestkit.fit.words import ended, headline, joint_rows, last_line, not_made_said
from nestkit.job.model import Job
from nestkit.text import sentence
from nestkit.units import Unit
from nestkit.writers.html import Lines, said
from nestkit.writers.svg import svg_inline


def joints_part(job: Job, found: JobFit) -> Lines:
    """Each joint: the verdict in large letters, its picture, what it rests on; nothing without joints."""
    if not (found.joints or found.not_made):
        return []
    lines = ["<h2>Will it go together</h2>", f"<p><strong>{said(last_line(found))}</strong></p>"]
    lines += [f"<p>{said(line)}</p>" for line in not_made_said(found)]
    for index, fit in enumerate(found.joints, start=1):
        lines += _joint(job, fit, index)
    return [*lines, *(f'<p class="small">{said(line)}</p>' for line in accuracy_said(job, found))]


def _joint(job: Job, fit: JointFit, index: int) -> Lines:
    head = f'<p class="large">{said(sentence(headline(fit)))}</p>'
    rows = [*joint_rows(job, fit)]
    wrong = [row for row in rows if row[0] in ("error", "do")]
    lines = [f"<h3><bdi>{said(fit.name)}</bdi></h3>"]
    if wrong:
        lines += [
            '<div class="must">',
            head,
            *(f"<p>{said(sentence(text))}</p>" for _, text in wrong),
            "</div>",
        ]
    else:
        lines.append(head)
    picture = joint_picture(job, fit)
    if picture is not None:
        # HTML knows the names of SVG without an address.
        drawn = re.sub(r' xmlns(:\w+)?="[^"]*"', "", svg_inline(picture, prefix=f"joint{index}"), count=3)
        lines += ["<figure>", drawn, "</figure>"]
    lines.append("<dl>")
    for key, text in (row for row in rows if row not in wrong):
        if key:
            lines.append(f"<dt>{said(sentence(key)[:-1])}</dt>")
        lines.append(f"<dd>{said(ended(key, text))}</dd>")
    return [*lines, "</dl>"]


def hardware_part(job: Job, found: JobFit) -> Lines:
    """What to have in the drawer, what needs care, and the caution; nothing without joints."""
    hardware = found.hardware
    if not hardware.items and not hardware.conflicts:
        return []
    errors = [conflict for conflict in hardware.conflicts if conflict.error]
    notes = [conflict for conflict in hardware.conflicts if not conflict.error]
    lines = ["<h2>Screws and the rest</h2>"]
    if errors:
        lines += ['<div class="must">', *_conflicts(errors), "</div>"]
    if hardware.items:
        lines += _table(("Get", "What"), (_hardware_row(item) for item in hardware.items))
    if notes:
        lines += _conflicts(notes)
    return [*lines, f"<p>{said(LENGTHS)}</p>", f"<p><strong>{said(CAUTION)}</strong></p>"]


def _hardware_row(item: Item) -> tuple[str, ...]:
    spares = f'<br><span class="small">{item.count} and {item.spares} spare</span>' if item.spares else ""
    small = [said(sentence(text)) for text in (item.note, item.source) if text]
    return (
        f'<span class="size">{item.count + item.spares}</span>{spares}',
        f'<span class="size">{said(item_text(item))}</span><br>{said(item.what)}'
        f"<br>For {', '.join(f'<bdi>{said(joint)}</bdi>' for joint in item.joints)}"
        + "".join(f'<br><span class="small">{text}</span>' for text in small),
    )


def _conflicts(conflicts: Iterable[Conflict]) -> Lines:
    lines = ["<ul>"]
    for conflict in conflicts:
        rule = f' <span class="small">Rule {said(conflict.rule)}.</span>' if conflict.rule else ""
        lines.append(
            f"<li><strong><bdi>{said(conflict.joint)}</bdi></strong>: {said(sentence(conflict.text))} "
            f"{said(sentence(conflict.remedy))}{rule}</li>"
        )
    return [*lines, "</ul>"]


def drills_part(job: Job, found: JobFit) -> Lines:
    """Every drill, the smallest first, with its holes by part; nothing where none is drilled by hand."""
    schedule = found.drills
    if not schedule:
        return []
    lines = ["<h2>Drills</h2>", f'<p class="large">{said(laid_out_said(schedule))}</p>']
    lines += _table(("Drill", "Holes", "How"), (_drill_row(use, job.unit) for use in schedule))
    notes = (
        *missing_said(schedule, job.unit),
        *merged_said(schedule, job.unit),
        *care_said(schedule, job.unit),
    )
    return [*lines, *(["<ul>", *(f"<li>{said(note)}</li>" for note in notes), "</ul>"] if notes else [])]


def _drill_row(use: DrillUse, unit: Unit) -> tuple[str, ...]:
    size = f"{dia_text(use.drill, unit)} {unit}"
    name = drill_name(use.drill, unit)
    under = f"<br>{said(size)}" if name != size else ""
    # A drill that is used by itself has no order.
    order = order_said(use) if len(use.order) > 1 or use.drill.tap else ""
    facts = [sentence(text)[:-1] for text in (use_said(use), order, use.speed) if text]
    holes = f'<span class="small">{said(holes_said(use))}.</span>'
    return (
        f'<span class="size">{said(name)}</span>{under}',
        f'<span class="size">{hole_count(use)}</span>',
        "<br>".join([*(said(fact) for fact in facts), holes]),
    )


def _table(names: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> Lines:
    """A table of cells that are HTML already."""
    lines = ["<table>", f"<thead><tr>{''.join(f'<th>{name}</th>' for name in names)}</tr></thead>", "<tbody>"]
    lines += [f"<tr>{''.join(f'<td>{cell}</td>' for cell in row)}</tr>" for row in rows]
    return [*lines, "</tbody>", "</table>"]
