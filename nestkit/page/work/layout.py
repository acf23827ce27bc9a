"""A draft laid out: something to see at once, then better and better."""

from __future__ import annotations

import pickle
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

from nestkit.estimate.bar_words import bar_group_name
from nestkit.estimate.words import group_name
from nestkit.job.model import Job
from nestkit.job.reader import read_data
from nestkit.layout.bars.result import BarsLayout
from nestkit.layout.events import Progress
from nestkit.layout.lay_out import lay_out
from nestkit.layout.result import GroupLayout, JobLayout
from nestkit.page.bench import READING, Line
from nestkit.page.objects import Object, json_bytes
from nestkit.page.work.result import Results


def work(line: Line, tree: Object, folder: Path, seed: int, effort: str) -> None:
    """Lay a draft out and tell each better result, with the layout behind it for the prints."""
    line.tell({"say": READING})
    job = read_data(tree, folder)
    show = _Shown(line, job, tree)
    say = _teller(job, line)
    best = lay_out(job, seed=seed, effort="first", shapes=None, on_event=say, stop=line.stop)
    show(best, quick=True)

    def better(index: int, laid: GroupLayout | BarsLayout) -> None:
        """Show a group that is done in the place of what was there before."""
        nonlocal best
        found = with_group(best, index, laid)
        if laid is not found.every[-1] and score(laid) < score(best.every[index]):
            show(found, quick=True)
        best = found

    if line.stop():
        show(replace(best, stopped=True), quick=False)
        return
    first = best
    whole = lay_out(job, seed=seed, effort=effort, on_event=say, stop=line.stop, on_group=better)
    # One that was ended early may be worse than what was there before it.
    show(better_of(first, whole) if whole.stopped else whole, quick=False)


def with_group(layout: JobLayout, index: int, laid: GroupLayout | BarsLayout) -> JobLayout:
    """Return a layout with one of its groups laid out anew."""
    every: list[Any] = [*layout.every]
    every[index] = laid
    sheets = len(layout.groups)
    return replace(layout, groups=tuple(every[:sheets]), bars=tuple(every[sheets:]))


def better_of(one: JobLayout, two: JobLayout) -> JobLayout:
    """Return of each group the better layout, the second where they are as good."""
    groups = (_better(a, b) for a, b in zip(one.groups, two.groups, strict=True))
    bars = (_better(a, b) for a, b in zip(one.bars, two.bars, strict=True))
    return replace(two, groups=tuple(groups), bars=tuple(bars))


def _better(one: Any, two: Any) -> Any:
    return one if score(one) < score(two) else two


def score(laid: GroupLayout | BarsLayout) -> tuple[Any, ...]:
    """Parts without a place, cost, sheets or sticks: less is better."""
    pieces = laid.sheets if isinstance(laid, GroupLayout) else laid.sticks
    return len(laid.unplaced), laid.cost, len(pieces)


class _Shown:
    """Tells results; what is drawn of a group is drawn once."""

    def __init__(self, line: Line, job: Job, tree: Object) -> None:
        self._line, self._job = line, job
        self._result_of = Results(job, tree)

    def __call__(self, layout: JobLayout, *, quick: bool) -> None:
        result = self._result_of(layout, quick=quick)
        pickled = pickle.dumps((self._job, layout))
        self._line.tell({"result": json_bytes(result), "pickled": pickled, "say": result["lead"]})


def _teller(job: Job, line: Line) -> Callable[[Progress], None]:
    """Return what tells each new sentence of the search, with what it is about where there are several."""
    names = [group_name(group, job.unit) for group in job.groups]
    names += [bar_group_name(group, job.unit) for group in job.bar_groups]
    last = ""

    def tell(event: Progress) -> None:
        nonlocal last
        said = event.sentence()
        if len(names) > 1:
            said = f"{names[event.group]}: {said}"
        if said != last:
            last = said
            line.tell({"say": said})

    return tell
