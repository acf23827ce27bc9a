"""Which part of a drawing is meant, and which of what lies in it is drilled and which cut out."""

from __future__ import annotations

import re
from fractions import Fraction

from nestkit.job.outlines.drawn import Drawn
from nestkit.job.outlines.fault import OutlineFault
from nestkit.job.outlines.figures import Ring
from nestkit.job.outlines.layers import Layers
from nestkit.job.outlines.loops import Loop, Part, within
from nestkit.job.shown import shown

_NOISE = 1e-6
_FORMAT = re.compile(r"\\[A-Za-z][^;\\]*;|[{}]")


def part_of(drawn: Drawn, wanted: int | str | None) -> tuple[Part, list[str]]:
    """Return the part that is meant, and what is to be said of the choice.

    Parts are counted from left to right, those that begin at one x from bottom to top; a name is that of a
    block, a layer or a group, or a text inside the part. Raises :class:`OutlineFault` where it is not clear.
    """
    parts = drawn.parts
    if wanted is None:
        if len(parts) > 1:
            listed = ", ".join(
                f"{i} at {drawn.sketch.where(p.outer.box.centre)}" for i, p in enumerate(parts[:6], 1)
            )
            more = ", ..." if len(parts) > 6 else ""
            text = f"it has {len(parts)} parts: {listed}{more}"
            raise OutlineFault(
                text, "Write outline_part = 1 (from the left), or the name of its block or layer"
            )
        return parts[0], []
    if isinstance(wanted, int):
        if wanted > len(parts):
            have = "only one part" if len(parts) == 1 else f"only {len(parts)} parts"
            raise OutlineFault(
                f"it has {have}, no part {wanted}", f"Write outline_part from 1 to {len(parts)}"
            )
        return parts[wanted - 1], [f"part {wanted} of {len(parts)}, counted from the left"]
    name = wanted.strip().casefold()
    found = [p for p in parts if name in _names(drawn, p)]
    if len(found) != 1:
        what = "none of its parts" if not found else f"{len(found)} of its parts"
        text = f"{what} is called {shown(wanted)}" if not found else f"{what} are called {shown(wanted)}"
        remedy = f"Write outline_part as a number from 1 to {len(parts)}, counted from the left"
        raise OutlineFault(text, remedy)
    return found[0], [f"part {shown(wanted)} of {len(parts)}"]


def _names(drawn: Drawn, part: Part) -> set[str]:
    names = set(part.outer.names)
    for at, words in drawn.sketch.texts:
        if within(part, at):
            names.add(_FORMAT.sub("", words).strip().casefold())
    return names


def cut_of(drawn: Drawn, part: Part, layers: Layers, drill_up_to: Fraction) -> tuple[list[Ring], list[Loop]]:
    """Return the drill holes of a part, and the openings from left to right, those of one x from the bottom.

    Raises :class:`OutlineFault` for what lies on a layer of holes and is no circle inside the part.
    """
    if _drilled(part.outer, layers):
        where = drawn.sketch.where(part.outer.box.centre)
        text = f"what is drawn at {where} lies on a layer of holes, but inside no outline"
        raise OutlineFault(
            text, "Draw the outline around it, or take its layer out of holes in outline_layers"
        )
    rings: list[Ring] = []
    openings: list[Loop] = []
    for loop in part.inner:
        listed = _drilled(loop, layers)
        if listed and loop.ring is None:
            where = drawn.sketch.where(loop.box.centre)
            text = f"what is drawn at {where} lies on a layer of holes, but is no circle"
            raise OutlineFault(text, "Take its layer out of holes in outline_layers, or draw circles")
        if loop.ring is not None and (listed or 2 * loop.ring.radius <= float(drill_up_to) + _NOISE):
            rings.append(loop.ring)
        else:
            openings.append(loop)
    return rings, sorted(openings, key=lambda o: (round(o.box.left, 2), round(o.box.bottom, 2)))


def _drilled(loop: Loop, layers: Layers) -> bool:
    return any(layers.drills(*tag.names) for tag in loop.tags)
