"""What the compiled search reads and writes: flat arrays, gathered under names."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Wholes = NDArray[np.int64]


class Tables(NamedTuple):
    """What does not change: no-fit polygons, depth fields and states.

    ``step`` is the step of the fields. ``field_at`` of a pair of states: where its field begins, its first
    column and row in steps, its columns and rows. The states of kind k stand in
    ``state_list`` from ``kind_first[k]`` to before ``kind_first[k + 1]``. The convex parts of state s are
    ``part_first[s]`` to before ``part_first[s + 1]``, their corners likewise ``corner_first`` in ``corners``.
    """

    step: float
    states: int
    edges: Floats
    spans: Wholes
    pair: Wholes
    look: Floats
    field: NDArray[np.float32]
    field_at: Wholes
    box: Floats
    kind_first: Wholes
    state_list: Wholes
    part_first: Wholes
    corner_first: Wholes
    corners: Floats
    part_box: Floats


class Live(NamedTuple):
    """What the search changes: where pieces lie, on which plates, how deep in one another, pair weights.

    What is fixed comes after all pieces: ``order`` is as long as these are many, and whatever moves pieces
    goes by its length. Depths are those of pairs with a piece in them.
    ``scale`` are fixed factors of the weights. ``scratch`` is room for a map, ``spot`` for candidates:
    value, x, y, state, plate. ``near`` and ``beside`` are room for a piece's neighbours, ``out`` for a
    place that is handed back. ``random`` holds the state of the generator.
    """

    wide: Floats
    high: Floats
    kind: Wholes
    x: Floats
    y: Floats
    state: Wholes
    plate: Wholes
    depth: Floats
    weight: Floats
    scale: Floats
    scratch: NDArray[np.float32]
    spot: Floats
    near: Wholes
    beside: Floats
    order: Wholes
    out: Floats
    random: Wholes

    @property
    def moving(self) -> Live:
        """The same of the pieces alone, where it says something of each: views, not copies."""
        n = len(self.order)
        return self._replace(
            kind=self.kind[:n], x=self.x[:n], y=self.y[:n], state=self.state[:n], plate=self.plate[:n]
        )
