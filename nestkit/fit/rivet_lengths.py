"""Which blind rivet grips a stack."""

from __future__ import annotations

from nestkit.fit.length_of import Length, Trouble
from nestkit.fit.stack import Stack, exact_dia
from nestkit.trade.rivets import RivetRow, rivets
from nestkit.units import Unit, length_text, with_unit


def rivet_length(stack: Stack, unit: Unit) -> Length:
    """Return which blind rivet grips the stack: by its code, or by the length of its body."""
    size, grip = stack.fastener.size, stack.total
    rows = rivets(exact_dia(stack.fastener))
    own = stack.fastener.length
    if not rows:
        text = f"the tables have no blind rivet of {size}"
        return Length(size, grip, own, own=own is not None,
                      troubles=(Trouble(False, text, "go by the grip on its box"),))  # fmt: skip
    if own is not None:
        given = [row for row in rows if row.length == own]
        rows = tuple(given) or rows
        if not given:
            note = f"go by the grip on the box: the tables have no rivet {size} of this length"
            return Length(size, grip, own, own=True, notes=(note,), source=rows[0].source)
    if grip is None:
        return Length(size, None, own, own=own is not None, source=rows[0].source)
    row = next((row for row in rows if row.grip_most >= grip), None)
    if row is None:
        longest = rows[-1]
        text = (
            f"the rivet grips {with_unit(longest.grip_most, unit)} at most, here are {with_unit(grip, unit)}"
        )
        trouble = Trouble(longest.sure, text, "use a screw with a nut, or a thicker rivet")
        return Length(size, grip, own, own=own is not None, troubles=(trouble,), source=longest.source)
    troubles: tuple[Trouble, ...] = ()
    if grip < row.grip_least and row is rows[0]:
        text = f"the rivet grips {with_unit(row.grip_least, unit)} at least, here are {with_unit(grip, unit)}"
        troubles = (Trouble(False, text, "put a washer behind it, or go by the grip on the box"),)
    notes = () if row.sure else ("go by the grip on the box",)
    named = f"{size} code {row.code}" if row.code else size
    return Length(named, grip, row.length, own=own is not None, notes=(_grip(row), *notes),
                  troubles=troubles, source=row.source)  # fmt: skip


def _grip(row: RivetRow) -> str:
    unit: Unit = "in" if row.code else "mm"
    least, most = (length_text(mm, unit, denominator=1) for mm in (row.grip_least, row.grip_most))
    return f"grips {least} to {most} {unit}"
