"""The hardware list as a text for people."""

from __future__ import annotations

from fractions import Fraction

from nestkit.fit.length_of import ASK, size_unit, trade_text
from nestkit.fit.result import Conflict, Hardware, Item
from nestkit.job.model import Job
from nestkit.text import columns, sentence, wrapped
from nestkit.units import with_unit

_NOTE = " " * 11
"""A note stands under the sizes."""

CAUTION = f"No torque and no load rating stands here: {ASK}."
LENGTHS = "Lengths go by the greatest nut heights, mostly from memory: try one joint before you buy them all."


def hardware_lines(job: Job, hardware: Hardware) -> list[str]:
    """Return the hardware as aligned lines, each joint's stack, what needs care, and the caution.

    Sizes are written as the trade does: ``10-32 x 1 1/2``, ``M5 x 40``. Empty without joints.
    """
    if not job.joints and not hardware.items:
        return []
    lines = []
    if hardware.items:
        rows = [("buy", "need", "size", "what")]
        rows += [(str(i.count + i.spares), str(i.count), item_text(i), i.what) for i in hardware.items]
        table = columns(rows, right=frozenset({0, 1}))
        lines.append(table[0])
        for item, line in zip(hardware.items, table[1:], strict=True):
            lines += [line, *_noted(item)]
        lines.append("")
    for joint, stack in hardware.stacks:
        lines += _wrapped(f"{joint}: {stack}")
    lines += [""] * bool(hardware.stacks)
    for conflict in hardware.conflicts:
        lines += _wrapped(conflict_text(conflict))
    lines += [""] * bool(hardware.conflicts)
    return [*lines, *_wrapped(LENGTHS), CAUTION]


def error_lines(hardware: Hardware) -> list[str]:
    """Return only what cannot be put together, as lines."""
    return [line for c in hardware.conflicts if c.error for line in _wrapped(conflict_text(c))]


def _noted(item: Item) -> list[str]:
    return _wrapped(item.note, _NOTE) if item.note else []


def _wrapped(text: str, indent: str = "") -> list[str]:
    return wrapped(text, first=indent, rest=indent or "  ")


def item_text(item: Item) -> str:
    """Return a line's size and length as the trade writes them; tape with the unit of its length.

    >>> item_text(Item("machine screw, pan head", "10-32", 38.1, 4, 1, ()))
    '10-32 x 1 1/2'
    """
    length = None if item.length is None else Fraction(round(item.length * 1_000_000), 1_000_000)
    if item.what != "hook-and-loop" or length is None:
        return trade_text(item.size, length)
    return f"{with_unit(length, size_unit(item.size))}, {item.size} wide"


def conflict_text(conflict: Conflict) -> str:
    """Return a conflict in a line: where it is, whether it is an error, what to do."""
    level = "error" if conflict.error else "note"
    rule = f" ({conflict.rule})" if conflict.rule else ""
    text = sentence(f"{conflict.text}{rule}")
    joints = ", ".join((conflict.joint, *conflict.also))
    return f"{level}: {joints}: {text} {sentence(conflict.remedy)}"
