"""A file's bytes to its parts: read, cleaned, joined, nested; remembered, since a file may hold several."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import Literal

from nestkit.job.outlines.cleaning import cleaned
from nestkit.job.outlines.curves import TOLERANCE
from nestkit.job.outlines.dxf_entities import DxfSketcher
from nestkit.job.outlines.dxf_tags import read_dxf_text
from nestkit.job.outlines.fault import OutlineFault
from nestkit.job.outlines.figures import Sketch
from nestkit.job.outlines.joining import joined
from nestkit.job.outlines.layers import Layers
from nestkit.job.outlines.loops import Part, loops_of, parts_of
from nestkit.job.outlines.svg_file import SvgSketcher, svg_root, unit_of
from nestkit.job.outlines.units_of import of_code, unit_taken
from nestkit.job.shown import shown
from nestkit.text import counted
from nestkit.units import Unit, with_unit


@dataclass(frozen=True, slots=True)
class Drawn:
    """The parts of a drawing, and in words what unit it has and what was mended or left out."""

    sketch: Sketch
    parts: tuple[Part, ...]
    notes: tuple[str, ...]


@functools.lru_cache(maxsize=4)
def drawn_of(
    data: bytes, kind: Literal["dxf", "svg"], asked: Unit | None, job: Unit, layers: Layers, join: float
) -> Drawn:
    """Return the parts of an outline file.

    ``asked`` is the unit that the panel gives, ``job`` that of its job; ``join`` the largest gap in mm
    that is closed. Raises :class:`OutlineFault` with what is wrong, where in the drawing, and what to do.
    """
    read = _dxf if kind == "dxf" else _svg
    sketch = read(data, asked, job, layers)
    for key, name in layers.unseen(sketch.layers):
        what = "layer" if kind == "dxf" else "group or shape"
        text = f"there is no {what} {shown(name)} in it, which outline_layers lists under {key}"
        raise OutlineFault(text, _there_is(sketch))
    if not sketch.segs and not sketch.rings:
        left = _left_out(sketch)
        text = f"no line of it counts ({left})" if left else "it has no lines"
        raise OutlineFault(
            text, "Draw the outline with lines and arcs; outline_layers says which layers count"
        )
    clean, taken_out = cleaned(sketch)
    if not clean.segs and not clean.rings:
        raise OutlineFault("its lines have no length", "Draw the outline with lines and arcs")
    strung = joined(clean, join)
    parts = parts_of(clean, loops_of(clean, strung.loops))
    notes = [sketch.unit]
    if strung.gaps:
        # In millimetres in any job: such gaps are 0 in the digits of an inch.
        largest = with_unit(_up(max(strung.gaps)), "mm")
        notes.append(f"{counted(len(strung.gaps), 'gap')} joined, the largest {largest}")
    off = [f"{n} {what}" for what, n in taken_out.items() if n]
    if off:
        notes.append(f"lines taken out: {', '.join(off)}")
    if sketch.curves:
        notes.append(f"{counted(sketch.curves, 'curve')} as arcs within {TOLERANCE} mm")
    if sketch.ignored:
        notes.append(f"not cut: {_left_out(sketch)}")
    return Drawn(clean, tuple(parts), tuple(notes))


def _dxf(data: bytes, asked: Unit | None, job: Unit, layers: Layers) -> Sketch:
    dxf = read_dxf_text(data)
    said = None if asked is not None else of_code(dxf.unit_code)
    unit, factor = unit_taken(asked, job, said)
    sketch = Sketch(unit, factor, layers=set(dxf.layers))
    DxfSketcher(dxf, sketch, layers).draw()
    return sketch


def _svg(data: bytes, asked: Unit | None, job: Unit, layers: Layers) -> Sketch:
    root = svg_root(data)
    of_file = None if asked is not None else unit_of(root)
    if of_file is not None:
        unit, factor = f"its size in {of_file[2]}, as the file says", of_file[0]
        scale = of_file[:2]
    else:
        unit, factor = unit_taken(asked, job, None)
        scale = (factor, factor)
    sketch = Sketch(unit, factor, y_down=True)
    SvgSketcher(root, scale, sketch, layers).draw()
    return sketch


def _up(mm: float) -> float:
    """Return a gap rounded up to a thousandth of a millimetre."""
    return math.ceil(mm * 1000 - 1e-9) / 1000


def _left_out(sketch: Sketch) -> str:
    rows = sorted(sketch.ignored.items())
    said = [f"{n} {what}" for what, n in rows[:8]]
    if len(rows) > 8:
        said.append(f"{sum(n for _, n in rows[8:])} others")
    return ", ".join(said)


def _there_is(sketch: Sketch) -> str:
    names = sorted(sketch.layers)
    more = f" and {len(names) - 12} more" if len(names) > 12 else ""
    return f"Its layers are {', '.join(shown(n) for n in names[:12])}{more}" if names else "It has no layers"
