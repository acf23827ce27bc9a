"""A layout as the page shows it: what to buy, the sheets with their pictures, how they are cut."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from nestkit.drawing.part import laid as laid_part
from nestkit.drawing.sheet import size_text, thickness_text
from nestkit.drawing.sheet_picture import BOTTOM, LEFT, picture_scale, sheet_plan, signs_text
from nestkit.drawing.stick_summary import sticks_picture
from nestkit.estimate.bar_words import bar_group_name, least_sticks_text
from nestkit.estimate.estimate import Estimate, estimate
from nestkit.estimate.saw_words import label_of
from nestkit.estimate.words import buy_sentence, group_name, least_text, sheet_name
from nestkit.fit.checking import findings_of
from nestkit.job.model import Job
from nestkit.layout.result import CutSheet, GroupLayout, JobLayout, PlacedPart
from nestkit.page.objects import Object
from nestkit.page.work.checked import Places, finding_object
from nestkit.page.work.saw import cuts_of, saw_of
from nestkit.stock.ways import MACHINES
from nestkit.text import money_text
from nestkit.units import Unit, sides_text
from nestkit.writers.hand_over import ORDER
from nestkit.writers.layout_json import layout_object
from nestkit.writers.lists import buy_rows
from nestkit.writers.numbers import number
from nestkit.writers.plan import sheet_files
from nestkit.writers.svg import path_text, svg_inline


class Results:
    """The results of one draft: what was drawn of a group is kept for the next result that has it."""

    def __init__(self, job: Job, tree: Object) -> None:
        self._job, self._places = job, Places(tree)
        self._drawn: dict[tuple[int, bool], tuple[object, list[Object]]] = {}

    def __call__(self, layout: JobLayout, *, quick: bool) -> Object:
        """Return everything that the page shows; a ``quick`` layout has no pictures of single cuts."""
        job = self._job
        reckoned = estimate(job, layout)
        return {
            "layout": layout_object(job, layout),
            "quick": quick,
            "stopped": layout.stopped,
            "complete": layout.complete,
            "buy": buy_of(job, reckoned),
            "lead": buy_sentence(layout, reckoned, job.unit),
            "groups": [
                {
                    "name": group_name(laid.group, job.unit),
                    "least": least_text(laid, job.unit),
                    "proved": laid.proved,
                    "index": index,
                }
                for index, laid in enumerate(layout.groups)
            ],
            "sheets": [
                sheet for index in range(len(layout.groups)) for sheet in self._sheets(layout, index, quick)
            ],
            "sticks": list(_sticks(job, layout)),
            "unplaced": unplaced_of(layout),
            "findings": [] if quick else [finding_object(f, self._places) for f in findings_of(job)],
        }

    def _sheets(self, layout: JobLayout, index: int, quick: bool) -> list[Object]:
        """Return the sheets of one group, drawn now or before."""
        laid = layout.groups[index]
        kept = self._drawn.get((index, quick))
        if kept is None or kept[0] is not laid:
            stems = [stem for group, _, stem in sheet_files(self._job, layout) if group is laid]
            sheets = enumerate(zip(laid.sheets, stems, strict=True))
            drawn = [
                _sheet(self._job, laid, sheet, (f"g{index}s{at}", index, stem), quick=quick)
                for at, (sheet, stem) in sheets
            ]
            kept = self._drawn[index, quick] = (laid, drawn)
        return kept[1]


def buy_of(job: Job, reckoned: Estimate) -> list[Object]:
    """Return the rows of the buy list, money also as it is written."""
    rows = buy_rows(job, reckoned)
    costs = [row.cost for row in reckoned.rows]
    costs += [row.cost for row in reckoned.bar_rows]
    costs += [row.cost for row in reckoned.bought]
    for row, cost in zip(rows, costs, strict=True):
        row["cost_text"] = "" if cost is None else money_text(cost)
    return [{key: _plain(value) for key, value in row.items()} for row in rows]


def _plain(value: Any) -> Any:
    return number(value) if isinstance(value, Fraction) else value


def unplaced_of(layout: JobLayout) -> list[Object]:
    """Return every copy that found no place, and why."""
    found = [(u.panel.name, u) for g in layout.groups for u in g.unplaced]
    rows: list[tuple[str, Any]] = [*found, *((u.tube.name, u) for b in layout.bars for u in b.unplaced)]
    return [
        {"part": name, "copy": u.copy, "opposite_hand": u.opposite_hand, "why": u.why} for name, u in rows
    ]


def _sheet(
    job: Job, laid: GroupLayout, sheet: CutSheet, named: tuple[str, int, str], *, quick: bool
) -> Object:
    """Return one sheet; it is ``named`` by its id, by the place of its group, and by its file."""
    name, group, stem = named
    unit, stock, way = job.unit, sheet.stock, laid.group.way
    scale = picture_scale(sheet)
    plan = sheet_plan(sheet, laid.group, unit=unit, scale=scale)
    steps = saw_of(job, laid, sheet, name, pictures=not quick)
    return {
        "id": name,
        "group": group,
        "title": sheet_name(sheet),
        "about": ", ".join((size_text(stock, unit), laid.group.material, thickness_text(stock, unit))),
        "stock": stock.name,
        "number": sheet.number,
        "on_hand": sheet.on_hand,
        "file": stem,
        "how": way.how,
        "svg": svg_inline(plan.drawing, prefix=name),
        # Where the sheet's lower left is in the picture, and how long a millimetre of it is there.
        "frame": {"x": LEFT, "y": round(plan.drawing.height - BOTTOM, 6), "per_mm": 1 / scale},
        "kerf_mm": number(way.kerf),
        "signs": signs_text(sheet, laid.group, unit),
        "key": [{"number": row.number, "text": row.text} for row in plan.key],
        "width_mm": number(stock.width),
        "height_mm": number(stock.height),
        "parts": [_part(part, unit) for part in sheet.parts],
        "offcuts": [{key: number(getattr(o, side)) for key, side in _SIDES} for o in sheet.offcuts],
        "keep_clear": list(_keep_clear(sheet)),
        "cuts": cuts_of(sheet, steps),
        "saw": steps,
        "order": [ORDER] if way.how in MACHINES else [],
    }


_SIDES = (("x_mm", "x"), ("y_mm", "y"), ("width_mm", "width"), ("height_mm", "height"))


def _part(part: PlacedPart, unit: Unit) -> Object:
    outline = laid_part(part).outline
    return {
        "part": part.panel.name,
        "label": label_of(part, copies=True),
        "copy": part.copy,
        "opposite_hand": part.opposite_hand,
        "turned_over": part.turned_over,
        "x_mm": number(part.x),
        "y_mm": number(part.y),
        "turn_deg": number(part.turn % 360, 9),
        "width_mm": number(part.width),
        "height_mm": number(part.height),
        "size": sides_text(part.panel.width, part.panel.height, unit),
        "held": part.held,
        "outline": path_text(outline.vertices, closed=True),
    }


def _keep_clear(sheet: CutSheet) -> Iterator[Object]:
    """Yield the regions of a sheet that nothing may lie on, in mm, each with its place in the job's list."""
    for index, region in enumerate(sheet.stock.keep_clear):
        if region not in sheet.keep_clear:
            continue
        found: Object = {"index": index, "why": region.why, "on": region.on}
        wide, high = region.right - region.left, region.top - region.bottom
        if region.disc:
            x, y = (region.left + region.right) / 2, (region.bottom + region.top) / 2
            yield found | {"x_mm": number(x), "y_mm": number(y), "disc_mm": number(wide)}
        else:
            found |= {"x_mm": number(region.left), "y_mm": number(region.bottom)}
            yield found | {"width_mm": number(wide), "height_mm": number(high)}


def _sticks(job: Job, layout: JobLayout) -> Iterator[Object]:
    for index, laid in enumerate(layout.bars):
        picture = sticks_picture(laid, job.unit)
        yield {
            "title": bar_group_name(laid.group, job.unit),
            "say": least_sticks_text(laid),
            "svg": None if picture is None else svg_inline(picture, prefix=f"sticks{index}"),
            "proved": laid.proved,
        }
