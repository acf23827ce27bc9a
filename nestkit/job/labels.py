"""The [labels] table: where labels lie on bought sheets of labels, and in which order they are printed."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import get_args

from nestkit.job.entry import Entry
from nestkit.job.model import LabelGrid, LabelOrder, Labels, Paper, Printing
from nestkit.job.settings import read_paper
from nestkit.job.shown import shown
from nestkit.job.values import Pair, choice, count, length, pair
from nestkit.text import counted
from nestkit.units import decimal_text, with_unit

PAPER_EDGE = 4.0
"""Millimetres at the paper's edge that many printers leave white."""
LABEL_EDGE = 1.5
"""Millimetres between words and a label's edge: sheets feed askew by as much."""

_SMALLEST: Pair = (Fraction(25), Fraction(10))
_MOST = 500
_LEAST_ROOM = (15.0, 3.0)
_TRUE = 1e-6
_GRID = ("columns", "rows", "size", "pitch", "margin", "skip")
_AS_BOUGHT = "Write columns, rows, size, pitch and margin as the sheet of labels has them, or its paper"


def reach(side: float, scale: float) -> tuple[float, float]:
    """Return from where to where along a side of the paper words can be printed, in mm as they come out.

    They keep off the edges of the paper, and of the page that a printer scales by ``scale``.
    """
    return PAPER_EDGE * max(1.0, scale), (side - PAPER_EDGE) * min(1.0, scale)


@dataclass(frozen=True, slots=True)
class _Side:
    """One direction of the sheet of labels: what it is called, and what was read for it, in mm."""

    key: str
    what: str
    edge: str
    extent: str
    count: int
    size: Fraction
    pitch: Fraction
    margin: Fraction | None

    @property
    def block(self) -> Fraction:
        return (self.count - 1) * self.pitch + self.size

    def start(self, side: float | None) -> float:
        """Return where the first label begins: at its margin, or so that the block is centred."""
        if self.margin is not None:
            return float(self.margin)
        return 0.0 if side is None else (side - float(self.block)) / 2


def read_labels(top: Entry, printing: Printing | None) -> Labels:
    """Return how labels are printed; ``printing`` is None where it is wrong itself.

    Without a size the labels are for plain paper, to be cut apart.
    """
    entry = top.child("labels", "labels", named=True)
    if entry is None:
        return Labels()
    order: LabelOrder = choice(entry, "sort", get_args(LabelOrder), "for") or "for"
    paper = read_paper(entry)
    lying = _lying(entry, paper)
    if not any(key in entry for key in _GRID):
        return Labels(paper, lying, None, order)
    used = paper if "paper" in entry else (printing.paper if printing is not None else None)
    scales = (printing.scale_x, printing.scale_y) if printing is not None else (1.0, 1.0)
    grid = _grid(entry, used, scales, lying)
    return Labels(paper, lying, grid, order)


def _lying(entry: Entry, paper: Paper | None) -> bool:
    """Say whether a paper that is given by its size is written with its long side first: across."""
    if paper is None or not isinstance(entry.data["paper"], list):
        return False
    size = pair(entry, "paper")
    return size is not None and size[0] > size[1]


def _grid(entry: Entry, paper: Paper | None, scales: tuple[float, float], lying: bool) -> LabelGrid | None:
    """Read where labels lie, and hold it against the paper; None where something is wrong."""
    before = len(entry.notes)
    columns, rows = (count(entry, key, least=1, most=_MOST) for key in ("columns", "rows"))
    if "size" not in entry:
        entry.missing("size", 'Write the size of one label, such as ["2 5/8", 1]')
    size = pair(entry, "size")
    pitch = pair(entry, "pitch") if "pitch" in entry else size
    margins = _margins(entry)
    used = count(entry, "skip", 0)
    if size is not None:
        _check_size(entry, size, pitch)
    if columns is not None and rows is not None and used is not None and used >= columns * rows:
        most = columns * rows - 1
        entry.wrong("skip", f"{used} labels are used, and a sheet has {columns * rows}", f"Write 0 to {most}")
    if paper is not None and paper.long is None:
        text = f"labels do not lie on {paper.name}, which has no length"
        entry.wrong("paper", text, 'Write the paper of the sheets of labels, such as paper = "letter"')
    if columns is None or rows is None or size is None or pitch is None or used is None:
        return None
    x = _Side("columns", "column", "left", "wide", columns, size[0], pitch[0], margins[0])
    y = _Side("rows", "row", "top", "high", rows, size[1], pitch[1], margins[1])
    width = height = None
    if paper is not None and paper.long is not None:
        width, height = (paper.long, paper.short) if lying else (paper.short, paper.long)
        if len(entry.notes) == before:
            across, along = reversed(scales) if lying else scales
            _check_side(entry, x, paper.name, width, across, _LEAST_ROOM[0])
            _check_side(entry, y, paper.name, height, along, _LEAST_ROOM[1])
    w, h, step_x, step_y = (float(v) for v in (*size, *pitch))
    return LabelGrid(columns, rows, w, h, step_x, step_y, x.start(width), y.start(height), used)


def _margins(entry: Entry) -> tuple[Fraction | None, Fraction | None]:
    """Read the corner of the first label, from the left and from the top."""
    if "margin" not in entry:
        return None, None
    if not isinstance(entry.data["margin"], dict):
        entry.wrong(
            "margin",
            f"the corner of the first label is wanted, not {shown(entry.data['margin'])}",
            "Write margin = { left = 1, top = 1 }, or leave it out: then the labels are centred",
        )
        return None, None
    corner = entry.child("margin", "corner of the first label", named=True)
    if corner is None:
        return None, None
    return length(corner, "left", "amount"), length(corner, "top", "amount")


def _check_size(entry: Entry, size: Pair, pitch: Pair | None) -> None:
    """Note a label too small to read, and labels that lie over one another."""
    unit = entry.notes.unit
    for i, (side, least) in enumerate(zip(size, _SMALLEST, strict=True)):
        if side < least:
            text = f"a label {with_unit(side, unit)} {('wide', 'high')[i]} is too small to read"
            entry.wrong("size", text, "Write 25 x 10 mm or more", i)
    for i, (step, side) in enumerate(zip(pitch or size, size, strict=True)):
        if step < side:
            text = f"a pitch of {with_unit(step, unit)} is below the label's {with_unit(side, unit)}"
            entry.wrong("pitch", text, "Write it from one label's edge to the same edge of the next", i)


def _check_side(entry: Entry, side: _Side, paper: str, room: float, scale: float, least: float) -> None:
    """Note labels that leave the paper, or that the printer cannot reach once its scale is taken out."""
    unit = entry.notes.unit
    end = max(0.0, side.start(room)) + float(side.block)
    if end > room + _TRUE:
        text = (
            f"{counted(side.count, side.what)} end {with_unit(end, unit)} from the {side.edge} edge; "
            f"{paper} is {with_unit(room, unit)} {side.extent}"
        )
        entry.wrong(side.key, text, _AS_BOUGHT)
        return
    free = min(end - LABEL_EDGE, reach(room, scale)[1]) - (end - float(side.size) + LABEL_EDGE)
    if free < least:
        text = f"a printer with the scale {decimal_text(scale, 4)} does not reach the last {side.what}"
        entry.wrong(side.key, text, f"Use fewer {side.key}, or measure the printer again")
