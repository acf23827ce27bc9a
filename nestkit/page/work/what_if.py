"""A draft with other spares, other stock, another way of cutting, all laid out with the same effort."""

from __future__ import annotations

from pathlib import Path

from nestkit.errors import JobError, UserError
from nestkit.estimate.estimate import estimate
from nestkit.estimate.words import buy_sentence, total_text, verdict_text
from nestkit.job.reader import read_data
from nestkit.job.spares import with_spares
from nestkit.layout.lay_out import lay_out
from nestkit.page.bench import Line
from nestkit.page.objects import Object, json_bytes
from nestkit.page.work.result import buy_of
from nestkit.units import decimal_text

EFFORT = "quick"
"""Alike for every case, so that they can be compared; the layout view searches longer."""

Case = tuple[str, int, tuple[str, ...], str]
"""A name, further spares of each part, stock that is not there, how all is cut (empty: as it is)."""


def work(line: Line, tree: Object, folder: Path, cases: list[Case]) -> bytes:
    """Return what the draft takes as it is, then what each case takes, as JSON."""
    as_it_is: Case = ("as it is", 0, (), "")
    return json_bytes({"cases": [_case(line, tree, folder, case) for case in (as_it_is, *cases)]})


def _case(line: Line, tree: Object, folder: Path, case: Case) -> Object:
    name, spare, without, how = case
    found: Object = {"name": name, "cost": None, "sheets": 0, "least": None, "proved": False}
    found |= {"cost_text": "", "buy": [], "say": "", "error": None, "complete": False}
    try:
        job = with_spares(read_data(changed(tree, without, how), folder), spare)
        layout = lay_out(job, effort=EFFORT, stop=line.stop)
    except JobError as error:
        found["error"] = str(error.mistakes[0])
        return found
    except UserError as error:
        found["error"] = str(error)
        return found
    reckoned = estimate(job, layout)
    bounds = [laid.least_sheets for laid in layout.groups]
    known = [bound.value for bound in bounds if bound is not None]
    return found | {
        "cost": None if reckoned.cost is None else float(reckoned.cost),
        "cost_text": total_text(reckoned) if reckoned.cost else "",
        "sheets": sum(len(laid.sheets) for laid in layout.groups),
        "sticks": sum(len(laid.sticks) for laid in layout.bars),
        "least": decimal_text(sum(known)) if known and len(known) == len(bounds) else None,
        "proved": all(laid.proved for laid in layout.every),
        "complete": layout.complete,
        "verdict": verdict_text(layout),
        "buy": buy_of(job, reckoned),
        "say": buy_sentence(layout, reckoned, job.unit),
    }


def changed(tree: Object, without: tuple[str, ...], how: str) -> Object:
    """Return a draft without some stock, and cut in another way where one is named."""
    found = dict(tree)
    for kind in ("sheet", "bar"):
        listed = tree.get(kind)
        if isinstance(listed, list) and without:
            found[kind] = [s for s in listed if not (isinstance(s, dict) and s.get("name") in without)]
    if how:
        cutting = tree.get("cutting")
        found["cutting"] = {**(cutting if isinstance(cutting, dict) else {}), "how": how}
    return found
