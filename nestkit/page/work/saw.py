"""How a sheet is sawn, step by step, as the printed saw plan has it."""

from __future__ import annotations

from typing import Any

from nestkit.drawing.saw_map import sheet_map
from nestkit.drawing.saw_picture import piece_at_saw
from nestkit.estimate.cut_off import cut_off_words
from nestkit.estimate.saw_repeats import folded
from nestkit.estimate.saw_steps import as_set, saw_steps
from nestkit.estimate.saw_words import words_of
from nestkit.job.model import Job
from nestkit.layout.result import CutSheet, GroupLayout
from nestkit.page.objects import Object
from nestkit.writers.numbers import number
from nestkit.writers.svg import svg_inline


def saw_of(job: Job, laid: GroupLayout, sheet: CutSheet, name: str, *, pictures: bool) -> list[Object]:
    """Return a sheet's saw plan: one row for each setting, as the printed plan has it, with its pictures."""
    if not laid.group.way.edge_to_edge:
        return []
    steps = saw_steps(sheet, laid.group.way.kerf, job.unit)
    repeats = folded(steps)
    whole = "the piece" if sheet.stock.roll else "the sheet"
    rows: list[Object] = []
    if sheet.stock.roll:
        said = cut_off_words(sheet.stock, job.unit)
        rows.append({"numbers": [], **_words(said), "map": None, "saw": None})
    for repeat, said in zip(repeats, words_of(repeats, job.unit, whole=whole), strict=True):
        first = repeat.first.cut.step
        small = large = None
        if pictures:
            done = steps[: first - 1]
            small = svg_inline(sheet_map(sheet, done, repeat), prefix=f"{name}-map{first}")
            size = as_set(repeat.first.setting, job.unit)[0]
            large = svg_inline(piece_at_saw(repeat, size), prefix=f"{name}-saw{first}")
        rows.append(
            {"numbers": [s.cut.step for s in repeat.steps], **_words(said), "map": small, "saw": large}
        )
    return rows


def _words(said: Any) -> Object:
    set_so = f"{said.setting}."
    times = f"{said.times}." if said.times else ""
    return {
        "say": " ".join(filter(None, (said.what, set_so, times, said.how, *said.gives))),
        "what": said.what,
        "setting": said.setting,
        "times": said.times,
        "how": said.how,
        "gives": list(said.gives),
    }


def cuts_of(sheet: CutSheet, steps: list[Object]) -> list[Object]:
    """Return a sheet's cuts, each with what its step of the saw plan says and which that is."""
    said = {number_: (at, row["say"]) for at, row in enumerate(steps) for number_ in row["numbers"]}
    return [
        {
            "step": cut.step,
            "say": said[cut.step][1],
            "row": said[cut.step][0],
            "piece": cut.piece,
            "axis": cut.axis,
            "at_mm": number(cut.at),
            "from_mm": number(cut.start),
            "to_mm": number(cut.end),
            "trim": cut.trim,
        }
        for cut in sheet.cuts
    ]
