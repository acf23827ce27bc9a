"""The stack of a joint in one line for people, and a fastener as the trade writes it."""

from __future__ import annotations

from fractions import Fraction

from nestkit.fit.length_of import Length, trade_text
from nestkit.fit.screw_lengths import MOST_SHOWING
from nestkit.fit.stack import Entry, Stack
from nestkit.text import counted
from nestkit.units import Unit, length_text, with_unit

_CALLED = {
    "screw": "screw",
    "rivet": "rivet",
    "wood screw": "wood screw",
    "cable tie": "cable tie",
    "hook-and-loop": "hook-and-loop",
}


def stack_line(stack: Stack, length: Length, unit: Unit) -> str:
    """Return what lies under the head with its thickness in ``unit``, the sum, and the fastener.

    As in ``washer .049 + console lid .118 + deck frame 1 + lock nut .24 = 1.407 in; screw 10-32 x 1 1/2, 2
    threads show``. What is not known has a question mark.
    """
    called = _CALLED[stack.fastener.kind]
    fastener = f"{called} {fastener_text(length)}"
    if stack.fastener.kind in ("cable tie", "hook-and-loop"):
        return fastener
    words = [word for word in (fastener, _end(stack, length, unit)) if word]
    if not stack.entries:
        return ", ".join(words)
    total = stack.total
    summed = "not known" if total is None else f"{_plain(total, unit)} {unit}"
    return f"{' + '.join(_entry(e, unit) for e in stack.entries)} = {summed}; {', '.join(words)}"


def fastener_text(length: Length) -> str:
    """Return a fastener as the trade writes it: ``10-32 x 1 1/2``, ``M5 x 40``, ``1/8 in code 42``."""
    return trade_text(length.size, length.length)


def _entry(entry: Entry, unit: Unit) -> str:
    return f"{entry.words} {'?' if entry.thickness is None else _plain(entry.thickness, unit)}"


def _plain(mm: Fraction, unit: Unit) -> str:
    """Return a length for a sum: a whole number or a decimal, never a fraction."""
    return length_text(mm, unit, denominator=1, places=4 if unit == "in" else 3)


def _end(stack: Stack, length: Length, unit: Unit) -> str:
    """Say where the point of a screw ends."""
    if length.length is None:
        return "" if stack.fastener.kind == "rivet" else "length open"
    if stack.fastener.kind == "wood screw":
        clear = stack.clear
        return "" if clear is None else f"{with_unit(length.length - clear, unit)} in the last part"
    if stack.fastener.held_by in ("lock nut", "nut"):
        return "" if length.showing is None else _threads_show(length.showing)
    if stack.fastener.kind == "screw" and length.out is not None and length.out > 0:
        return f"stands out {with_unit(length.out, unit)} behind"
    return ""


def _threads_show(showing: Fraction) -> str:
    if showing < 0:
        return "too short for the nut"
    if showing < 1:
        return "less than 1 thread shows"
    whole = int(showing)
    over = "over " if showing > MOST_SHOWING and showing != whole else ""
    return f"{over}{counted(whole, 'thread')} show{'s' if whole == 1 else ''}"
