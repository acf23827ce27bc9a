"""hand_over.txt: the note that goes with the cutting files to the shop that cuts."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

from nestkit.drawing.keep_clear import fixed_lines
from nestkit.drawing.later_words import through_said
from nestkit.drawing.layers import Layer
from nestkit.drawing.sheet import ALONG_THE_ROLL, check_square, size_text, thickness_text
from nestkit.estimate.words import drill_text, group_name
from nestkit.job.model import Group, Job
from nestkit.job.pairs import later_of, to_mark
from nestkit.job.understood import margin_off_a_roll
from nestkit.layout.result import CutSheet, GroupLayout, JobLayout
from nestkit.parts.panel import Panel
from nestkit.stock.ways import MACHINES
from nestkit.text import counted
from nestkit.trade.cautions import cautions
from nestkit.units import Unit, with_unit
from nestkit.writers.dxf import UNIT_WORDS
from nestkit.writers.hand_over_held import held_lines, holds
from nestkit.writers.plan import sheet_files

WIDTH = 96

ORDER = (
    "Order of cutting, where the machine leaves the choice: holes, then openings, then outer edges, small "
    "parts before large; what lies inside an opening before that opening. No edge is shared in the files: "
    "cutting along common lines is left to the shop."
)

LAYER_WORDS = {
    Layer.PART_EDGE: "outer edge of each part: cut through",
    Layer.OPENING: "slots and cut-outs inside a part: cut through",
    Layer.DRILLED_HOLE: "holes, each a circle of its finished size",
    Layer.MARK: "texts to engrave or write on the face that is up; not cut through",
    Layer.NOTE_NO_CUT: "sheet edge, check square and notes beside the sheet: never cut",
}


def hand_over(job: Job, layout: JobLayout) -> str:
    """Return the note for the shop: what each file is, of what, how many, which face is up."""
    files = sheet_files(job, layout)
    lines = ["NOTE FOR THE SHOP THAT CUTS", "", f"Job      {job.name}"]
    if job.date is not None:
        lines.append(f"Date     {job.date.isoformat()}")
    square = check_square(job.unit)[1]
    lines += [
        f"Sheets   {len(files)}, one file each; equal sheets have a file each too",
        f"Unit     {UNIT_WORDS[job.unit]} in every file; the check square beside each sheet is {square}",
        f"Format   DXF {job.dxf.version}, closed outlines with true arcs, holes as circles",
        "",
    ]
    lines += _paragraph(
        "Everything is drawn to nominal size: the offset for cutter or beam is yours. The lower left of the "
        "sheet is at 0,0. The face that is up in the file is up on the machine. Opposite hands are mirrored "
        "in the file already: mirror nothing."
    )
    if any(laid.group.way.how in MACHINES for laid in layout.groups if laid.sheets):
        lines += ["", *_paragraph(ORDER)]
    lines += ["", *_layer_lines(job, tabs=any(holds(laid) for laid in layout.groups))]
    for laid in layout.groups:
        if laid.sheets:
            lines += ["", *_group_lines(job, laid, [f for f in files if f[0] is laid])]
    lines += ["", *_paragraph(cautions("defer")[0])]
    return "\n".join(lines) + "\n"


def _paragraph(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent, break_long_words=False)


def _layer_lines(job: Job, *, tabs: bool) -> list[str]:
    words = dict(LAYER_WORDS)
    if tabs:
        words[Layer.HOLDING_TAB] = "short lines across an edge, each the middle of a tab that stays"
    if job.dxf.single_layer:
        for gone in (Layer.OPENING, Layer.DRILLED_HOLE):
            del words[gone]
        words[Layer.PART_EDGE] = "edges, slots, cut-outs and holes: everything that is cut"
    lines = ["Layers", *(f"  {layer:<14}{text}" for layer, text in words.items())]
    if job.dxf.version == "R12":
        note = (
            f"R12 files cannot say that {Layer.NOTE_NO_CUT} does not plot, nor name their unit in the header."
        )
        lines += _paragraph(note, "  ")
    return lines


def _group_lines(
    job: Job, laid: GroupLayout, files: Sequence[tuple[GroupLayout, CutSheet, str]]
) -> list[str]:
    group, unit = laid.group, job.unit
    lines = [group_name(group, unit).upper()]
    lines += _paragraph(_room_text(group, unit), "  ")
    seen: dict[tuple[object, ...], str] = {}
    for _, sheet, stem in files:
        lines.append(f"  {stem}.dxf")
        stock = sheet.stock
        lines += _paragraph(
            f"{stock.name}, {size_text(stock, unit)}, thickness {thickness_text(stock, unit)}", "    "
        )
        if stock.roll:
            lines += _paragraph(f"off the roll: {ALONG_THE_ROLL}", "    ")
        twin = seen.setdefault(_likeness(sheet), stem)
        count = f"cut once, {counted(len(sheet.parts), 'part')}, face up as drawn"
        lines += _paragraph(count if twin == stem else f"{count}; the same as {twin}.dxf", "    ")
        lines += [row for text in fixed_lines(sheet, unit) for row in _paragraph(text, "    ")]
    panels = _panels_on(s for _, s, _ in files)
    lines += [row for text in held_lines(laid, unit) for row in _paragraph(*text)]
    if through := _holes_through(job, [s for _, s, _ in files]):
        lines += ["  Not in the files: drilled later, through the part they are bolted to:"]
        lines += [row for text in through for row in _paragraph(text, "    ")]
    if later := _holes_later(job, panels, group):
        why = "Holes to be drilled later" + ("" if _all_by_hand(group) else ", narrower than the cut")
        lines += [f"  {why}:", *(row for text in later for row in _paragraph(text, "    "))]
    over = {part.panel.name for _, sheet, _ in files for part in sheet.parts if part.turned_over}
    if either := ", ".join(p.name for p in panels if p.either_hand and p.name not in over):
        lines += _paragraph(f"Both hands cut as drawn, faces alike: {either}", "  ")
    if lying := ", ".join(p.name for p in panels if p.name in over):
        lines += _paragraph(f"Some cut as drawn, some mirrored, faces alike: {lying}", "  ")
    if marks := [f"{p.name}: {m.text}" for p in panels for m in p.marks]:
        lines += ["  Marks:", *(row for text in marks for row in _paragraph(text, "    "))]
    return lines


def _all_by_hand(group: Group) -> bool:
    return group.way.how in ("saw", "jigsaw")


def _room_text(group: Group, unit: Unit) -> str:
    """Say which cut, gap and margin the layout reckons with, and which rule settled them."""
    margin = group.margin
    sides = {side: getattr(margin, side) for side in ("left", "right", "bottom", "top")}
    if group.off_a_roll:
        border = margin_off_a_roll(margin, unit)
    elif len(set(sides.values())) == 1:
        border = f"margin {with_unit(margin.left, unit)} all round"
    else:
        border = "margin " + ", ".join(f"{side} {with_unit(mm, unit)}" for side, mm in sides.items())
    said = (
        f"Laid out for a cut {with_unit(group.way.kerf, unit)} wide; "
        f"gap between parts {with_unit(group.gap, unit)}, {border}"
    )
    return f"{said} ({'; '.join(group.settled_by)})." if group.settled_by else f"{said}."


def _likeness(sheet: CutSheet) -> tuple[object, ...]:
    """Equal for sheets that are cut alike, whichever copies lie on them."""
    parts = sorted((p.panel.name, p.opposite_hand, p.x, p.y, p.turn) for p in sheet.parts)
    return (sheet.stock.name, tuple(parts), sheet.keep_clear)


def _panels_on(sheets: Iterable[CutSheet]) -> list[Panel]:
    """Return each panel once, in the order in which it first lies on a sheet."""
    found = {part.panel.name: part.panel for sheet in sheets for part in sheet.parts}
    return list(found.values())


def _holes_through(job: Job, sheets: Sequence[CutSheet]) -> list[str]:
    """Return a line for each part and hand with holes that are drilled through another part."""
    lines = []
    for panel in _panels_on(sheets):
        for opposite in panel.hands:
            later = later_of(job, panel, opposite)
            if later:
                hand = ", opposite hand" if opposite else ""
                lines.append(f"{panel.name}{hand}: {through_said(later)}")
    return lines


def _holes_later(job: Job, panels: list[Panel], group: Group) -> list[str]:
    """Return a line for each panel and drill: ``lid: holes 1, 2, 3, #2 (.221 in)``."""
    lines = []
    for panel in panels:
        by_drill: dict[str, list[str]] = {}
        marked = {hole.number for hand in panel.hands for hole in to_mark(job, panel, hand).holes}
        for hole in panel.holes:
            if hole.number in marked and group.way.by_hand(hole.dia):
                by_drill.setdefault(drill_text(hole.drill, job.unit), []).append(str(hole.number))
        for name, numbers in by_drill.items():
            word = "hole" if len(numbers) == 1 else "holes"
            lines.append(f"{panel.name}: {word} {', '.join(numbers)}: {name}")
    return lines
