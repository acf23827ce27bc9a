"""The saw plan: every cut with its setting in large beside its pictures, sheet after sheet."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from nestkit.drawing.keep_clear import region_said
from nestkit.drawing.model import Drawing
from nestkit.drawing.plan_pages import PlanPaper, Section
from nestkit.drawing.roll_picture import piece_off_the_roll
from nestkit.drawing.saw_benches import bench_sections
from nestkit.drawing.saw_map import MAP, sheet_map
from nestkit.drawing.saw_picture import BENCH, SIGNS, piece_at_saw
from nestkit.drawing.sheet import size_text
from nestkit.drawing.template_flow import Flow
from nestkit.drawing.type import text_width
from nestkit.estimate.amounts import weight_text
from nestkit.estimate.cut_off import cut_off_words
from nestkit.estimate.estimate import TWO_PEOPLE_KG, sheet_kg
from nestkit.estimate.saw_repeats import Repeat, folded, unfolded
from nestkit.estimate.saw_steps import SawStep, as_set, counts_of, saw_steps
from nestkit.estimate.saw_words import StepWords, words_of
from nestkit.estimate.words import sheet_name
from nestkit.geometry.points import Rect
from nestkit.job.model import Group, Job
from nestkit.layout.result import CutSheet, GroupLayout, JobLayout
from nestkit.text import number_list
from nestkit.trade.cautions import cautions
from nestkit.trade.materials import density
from nestkit.units import Unit, with_unit

_GAP = 4.0
_SETTING = 8.0
_TIMES = 6.0
_TYPE = 4.0
_MORE_ON_A_PAGE = 24.0
"""Room that a page needs beside what is said of a cut: its title, who has to help, space below."""


@dataclass(frozen=True, slots=True)
class _Alike:
    """Sheets that are sawn alike, said once."""

    group: Group
    sheets: tuple[CutSheet, ...]

    @property
    def title(self) -> str:
        """What the pages of these sheets are called."""
        if self.sheets[0].stock.roll:
            return f"Saw {sheet_name(self.sheets[0])}"
        numbers = number_list(s.number for s in self.sheets)
        which = f"sheet {numbers}" if len(self.sheets) == 1 else f"sheets {numbers}, all alike"
        return f"Saw {self.sheets[0].stock.name}, {which}"


def saw_plan_pages(job: Job, layout: JobLayout) -> tuple[Drawing, ...]:
    """Return the saw plan of all groups that are sawn; empty where none is."""
    paper = PlanPaper(job.printing.paper)
    foot = cautions("saw")[-1], cautions("footer")[-1]
    sections = (Section(title, flows, foot) for title, flows in _sections(job, layout, paper.column))
    return paper.pages(sections, "saw plan")


def _sections(job: Job, layout: JobLayout, room: Rect) -> Iterator[tuple[str, list[Flow]]]:
    """Yield what belongs together: a title, and the columns that it takes."""
    sawn = [g for g in layout.groups if g.group.way.edge_to_edge]
    for laid in sawn:
        for alike in _alike(laid):
            yield alike.title, list(_sheet(job, alike, room))
    if sawn:
        yield from bench_sections(layout, sawn, room)


def _alike(laid: GroupLayout) -> list[_Alike]:
    """Return the sheets of a group, those with the same parts and the same cuts together."""
    found: dict[object, list[CutSheet]] = {}
    for sheet in laid.sheets:
        parts = tuple((p.panel.name, p.opposite_hand, p.x, p.y, p.turn) for p in sheet.parts)
        found.setdefault((sheet.stock.name, parts, sheet.cuts, sheet.keep_clear), []).append(sheet)
    return [_Alike(laid.group, tuple(sheets)) for sheets in found.values()]


def _sheet(job: Job, alike: _Alike, room: Rect) -> Iterator[Flow]:
    """Yield the columns of one sheet and its like: what it is, then its cuts, as many as fit."""
    sheet = alike.sheets[0]
    steps = saw_steps(sheet, alike.group.way.kerf, job.unit)
    # Of sheets that are alike each has copies of its own: their numbers are left out.
    roll = sheet.stock.roll
    whole = "the piece" if roll else "the sheet"
    repeats = folded(steps)
    words = words_of(repeats, job.unit, copies=len(alike.sheets) == 1, whole=whole)
    heavy = _heavy(alike, steps)
    flow = _head(job, alike, repeats, heavy, room)
    if roll:
        flow.add(_cut_off(sheet, job.unit, room))
    if not steps:
        flow.text(f"{'No more cuts' if roll else 'No cut'}: the part is {whole}.", _TYPE)
    for repeat, said in zip(repeats, words, strict=True):
        first = repeat.first.cut.step
        for part in _on_pages(said, room):
            row = _row(job, sheet, steps[: first - 1], repeat, part, heavy.get(first), room)
            if flow.height + row.height > room.height:
                yield flow
                flow = Flow(room.width)
                _title(flow, f"{alike.title} (continued)", 7.0)
                flow.gap(2.0)
            flow.add(row)
    yield flow


def _on_pages(said: StepWords, room: Rect) -> Iterator[StepWords]:
    """Yield what is said of cuts in parts that each find room on a page: many pieces may come of them."""
    most = room.height - _MORE_ON_A_PAGE
    gives = said.gives
    while True:
        numbers = range(1, len(gives) + 1)
        fit = bisect_right(numbers, most, key=lambda n: _said(replace(said, gives=gives[:n]), room).height)
        number = max(1, fit)
        yield replace(said, gives=gives[:number])
        gives = gives[number:]
        if not gives:
            break
        cuts = said.what.partition(":")[0].removesuffix(", continued")
        said = replace(said, what=f"{cuts}, continued: what else they leave.")


def _cut_off(sheet: CutSheet, unit: Unit, room: Rect) -> Flow:
    """The cut before all others, of a piece off a roll."""
    said = cut_off_words(sheet.stock, unit)
    picture = piece_off_the_roll(as_set(sheet.stock.height, unit)[0])
    return _beside(Flow(MAP.width), picture, _said(said, room), room)


def _heavy(alike: _Alike, steps: Sequence[SawStep]) -> dict[int, float]:
    """Return the kilograms of pieces that one person should not lift alone, by the cut; 0 is the sheet."""
    material = density(alike.group.material)
    if material is None:
        return {}
    stock = alike.sheets[0].stock
    weights = {0: sheet_kg(stock, material)}
    for step in steps:
        left, bottom, right, top = step.piece
        piece = replace(stock, width=right - left, height=top - bottom)
        weights[step.cut.step] = sheet_kg(piece, material)
    return {cut: kg for cut, kg in weights.items() if kg > TWO_PEOPLE_KG}


def _title(flow: Flow, text: str, height: float) -> None:
    """Add a title; a long one takes more lines rather than lose its end."""
    if text_width(text, height, bold=True) <= flow.width:
        flow.title(text, height, least=height)
    else:
        flow.text(text, 0.7 * height, bold=True)


def _head(job: Job, alike: _Alike, repeats: Sequence[Repeat], heavy: dict[int, float], room: Rect) -> Flow:
    group, stock = alike.group, alike.sheets[0].stock
    steps = unfolded(repeats)
    flow = Flow(room.width)
    _title(flow, alike.title, 9.0)
    facts = [size_text(stock, job.unit), f"{group.material}, {with_unit(group.thickness, job.unit)}"]
    facts.append(f"kerf {with_unit(group.way.kerf, job.unit)}")
    facts += [job.date.isoformat()] if job.date else []
    flow.text(" · ".join([*facts, job.name]), 3.4)
    if steps:
        flow.title(f"{counts_of(steps, job.unit)}.", 5.2, least=4.0)
    if alike.sheets[0].keep_clear:
        where = "; ".join(region_said(region, job.unit) for region in alike.sheets[0].keep_clear)
        flow.text(f"KEEP CLEAR: {where}. Crossed in the pictures.", 4.2, bold=True)
    if heavy:
        cuts = [cut for cut in heavy if cut]
        which = "cut" if len(cuts) == 1 else "cuts"
        at = f" at {which} {number_list(cuts)}" if cuts else ""
        weighs = weight_text(heavy[0], job.unit)
        whole = "piece off the roll" if stock.roll else "sheet"
        flow.text(f"Two people{at}: the {whole} weighs about {weighs}.", 5.2, bold=True)
    if steps:
        names = "Left, right, lower, upper: as in the pictures. "
        names += "Keep each piece as it lay and write its name on it"
        if any(len(lot.pieces) > 1 for repeat in repeats for lot in repeat.lots):
            names += ", the same on pieces that are alike"
        flow.text(f"{names}. Measure to the tooth nearer the fence or stop.", 3.6)
        flow.text(SIGNS, 3.6)
    flow.gap(3.0)
    return flow


def _row(
    job: Job,
    sheet: CutSheet,
    done: Sequence[SawStep],
    repeat: Repeat,
    said: StepWords,
    heavy: float | None,
    room: Rect,
) -> Flow:
    """One cut and its like: where pieces lie on the sheet, how one lies at the saw, what is said of it."""
    small = Flow(MAP.width)
    small.picture(sheet_map(sheet, done, repeat))
    mind = "" if heavy is None else f"Two people: about {weight_text(heavy, job.unit)}."
    picture = piece_at_saw(repeat, as_set(repeat.first.setting, job.unit)[0])
    return _beside(small, picture, _said(said, room, mind), room)


def _said(said: StepWords, room: Rect, mind: str = "") -> Flow:
    """What a plan says of a cut, beside its pictures."""
    words = Flow(room.width - MAP.width - BENCH.width - 2 * _GAP)
    words.text(said.what, 4.6, bold=True)
    words.title(said.setting, _SETTING, least=4.5)
    if said.times:
        words.text(said.times, _TIMES, bold=True)
    words.text(said.how, _TYPE)
    if mind:
        words.text(mind, _TYPE, bold=True)
    words.gap(1.0)
    for gives in said.gives:
        words.text(gives, _TYPE, bold=" DONE" in gives)
    return words


def _beside(small: Flow, picture: Drawing, words: Flow, room: Rect) -> Flow:
    large = Flow(BENCH.width)
    large.picture(picture)
    pictures, row = Flow(room.width), Flow(room.width)
    pictures.beside(small, large, MAP.width + _GAP)
    row.beside(pictures, words, MAP.width + BENCH.width + 2 * _GAP)
    row.gap(_GAP)
    return row
