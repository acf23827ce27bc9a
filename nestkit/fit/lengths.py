"""How long the fastener of a joint must be, and what is wrong with the one that the job gives."""

from __future__ import annotations

from dataclasses import replace

from nestkit.fit.length_of import Length, Trouble
from nestkit.fit.rivet_lengths import rivet_length
from nestkit.fit.screw_lengths import length_of_screw
from nestkit.fit.stack import Stack
from nestkit.fit.wood_lengths import wood_screw_length
from nestkit.units import Unit


def screw_length(stack: Stack, unit: Unit) -> Length:
    """Return the length that a stack asks for, rounded up to one that is sold; words in ``unit``.

    A job's own length is kept, and judged. A flat head counts in its screw's length and lies flush. Ties and
    tapes have the length that the job gives.
    """
    found = _length(stack, unit)
    if stack.fastener.kind in ("cable tie", "hook-and-loop"):
        return found
    open_end = "cannot be checked" if found.own else "is open"
    missing = tuple(
        Trouble(
            False,
            f"the thickness of {words} is not known, so the length {open_end}",
            "measure it, and write its thickness",
        )
        for words in stack.missing
    )
    return replace(found, troubles=(*missing, *found.troubles))


def _length(stack: Stack, unit: Unit) -> Length:
    if stack.thread is not None:
        return length_of_screw(stack, stack.thread, unit)
    if stack.fastener.kind == "rivet":
        return rivet_length(stack, unit)
    if stack.fastener.kind == "wood screw":
        return wood_screw_length(stack, unit)
    own = stack.fastener.length
    return Length(stack.fastener.size, own, own, own=own is not None)
