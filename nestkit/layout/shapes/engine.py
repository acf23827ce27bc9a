"""The tables of a set of kinds, and the compiled functions that work on them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from nestkit.layout.rects.engine.twin import Form, Kernels
from nestkit.layout.shapes import contacts, depths, inserting, loops, places, sums, sweeps, unions
from nestkit.layout.shapes.nfp import Polygons, polygons_of
from nestkit.layout.shapes.problem import Kind
from nestkit.layout.shapes.ready_parts import starts
from nestkit.layout.shapes.standing import Pinned
from nestkit.layout.shapes.states import States, states_of
from nestkit.layout.shapes.tables import Live, Tables

INLINED = (
    "draw", "pressed", "add_row", "keep_spot", "scan_map", "boxes_near",
    "move", "sweep", "overlap", "reweigh", "off", "lowest", "find_box", "end_piece",
)  # fmt: skip
"""What is called in one place, or is small: compiled into its callers a quarter of the compiling is saved."""
SHAPES = Kernels("shapes", (loops, sums, unions, depths, places, sweeps, contacts, inserting), INLINED)
SPOTS = 4
"""Places of a map that are looked at exactly."""
MOST_CELLS = 25_000_000
"""Of all depth fields together: four bytes each. Where there would be more, steps are larger."""
AREA_POWER = 0.35
"""Pair weights go with the product of the hulls' areas to this power."""


@cache
def compiled() -> Form:
    """Return the functions compiled."""
    return SHAPES.compiled()


@cache
def plain() -> Form:
    """Return the functions in plain Python: fast enough to draw a layout together, too slow to search."""
    return SHAPES.plain()


@dataclass(frozen=True, slots=True)
class Model:
    """Kinds made ready: states, polygons, tables, and the functions that work on them."""

    kinds: tuple[Kind, ...]
    known: States
    polygons: Polygons
    tables: Tables
    form: Form

    def call(self, name: str) -> Any:
        """Return a function by its name."""
        return self.form.functions[name]


def model_of(kinds: Sequence[Kind], gap: float, step: float, form: Form) -> Model:
    """Return kinds made ready; depth fields, of a step, are only filled for the compiled functions."""
    known = states_of(kinds, gap)
    while (cells := _cells(known, step)) > MOST_CELLS:
        step *= max(1.05, math.sqrt(cells / MOST_CELLS))
    compiles = form.name == "compiled"
    polygons = polygons_of(known, form.functions["unite"] if compiles else None)
    tables = tables_of(known, polygons, step)
    if compiles:
        form.functions["fill_fields"](tables)
    return Model(tuple(kinds), known, polygons, tables, form)


def _cells(known: States, step: float) -> float:
    """Return about how many cells the depth fields of all pairs of states have: a sum is as large as both."""
    sizes = np.array([(s.box[2] - s.box[0], s.box[3] - s.box[1]) for s in known.states]) / step
    wide, high = (np.add.outer(side, side) + 2 for side in sizes.T)
    return float(np.sum(wide * high))


def tables_of(known: States, polygons: Polygons, step: float) -> Tables:
    """Return the tables of states, the fields still empty."""
    number = len(known.states)
    field_at = np.zeros((number * number, 5), np.int64)
    size = 0
    for a in range(number):
        for b in range(number):
            one, other = a * number + b, b * number + a
            if a <= b:
                low = np.floor(polygons.look[one, :2] / step).astype(np.int64)
                top = np.ceil(polygons.look[one, 2:4] / step).astype(np.int64)
                field_at[one, 1:] = (*low, *(top - low + 1))
            else:
                cols, rows = field_at[other, 3:]
                field_at[one, 1:] = (
                    -(field_at[other, 1] + cols - 1), -(field_at[other, 2] + rows - 1), cols, rows,
                )  # fmt: skip
            field_at[one, 0] = size
            size += int(field_at[one, 3] * field_at[one, 4])
    parts = [part @ s.matrix.T for s in known.states for part in known.forms[s.form].parts]
    # A mirrored part runs clockwise, so it is turned round.
    mirrored = [s.mirrored for s in known.states for _ in known.forms[s.form].parts]
    parts = [part[::-1] if back else part for part, back in zip(parts, mirrored, strict=True)]
    counts = [len(known.forms[s.form].parts) for s in known.states]
    return Tables(
        step=float(step),
        states=number,
        edges=polygons.edges,
        spans=polygons.spans,
        pair=polygons.pair,
        look=polygons.look,
        field=np.zeros(size, np.float32),
        field_at=field_at,
        box=np.array([s.box for s in known.states], np.float64),
        kind_first=starts([len(s) for s in known.of_kind]),
        state_list=np.array([s for states in known.of_kind for s in states], np.int64),
        part_first=starts(counts),
        corner_first=starts([len(p) for p in parts]),
        corners=np.ascontiguousarray(np.concatenate(parts)),
        part_box=np.array([(*p.min(axis=0), *p.max(axis=0)) for p in parts], np.float64),
    )


def live_of(
    model: Model,
    pieces: Sequence[int],
    wide: Sequence[float],
    high: Sequence[float],
    seed: int,
    pinned: Sequence[Pinned] = (),
) -> Live:
    """Return pieces of kinds on plates, all at the origin of the first; these are the largest plates ever.

    What is pinned on plates comes after them, in its place.
    """
    kind = [*pieces, *(k for _, k, _ in pinned)]
    n, t = len(kind), model.tables
    hulls = model.known.hulls
    hull = np.array([hulls[k] for k in kind])
    hull = hull / hull.mean()
    cells = max((int(w / t.step) + 3) * (int(h / t.step) + 3) for w, h in zip(wide, high, strict=True))
    live = Live(
        wide=np.array(wide, np.float64),
        high=np.array(high, np.float64),
        kind=np.array(kind, np.int64),
        x=np.zeros(n),
        y=np.zeros(n),
        state=np.array([model.known.of_kind[k][0] for k in kind], np.int64),
        plate=np.zeros(n, np.int64),
        depth=np.zeros((n, n)),
        weight=np.ones((n, n)),
        scale=np.outer(hull, hull) ** AREA_POWER,
        scratch=np.zeros(cells, np.float32),
        spot=np.zeros((SPOTS, 5)),
        near=np.zeros(n, np.int64),
        beside=np.zeros((n, 3)),
        order=np.zeros(len(pieces), np.int64),
        out=np.zeros(3),
        random=np.array([seed % 2147483646 + 1], np.int64),
    )
    for i, (plate, _, (state, x, y)) in enumerate(pinned, len(pieces)):
        live.plate[i], live.state[i], live.x[i], live.y[i] = plate, state, x, y
    return live
