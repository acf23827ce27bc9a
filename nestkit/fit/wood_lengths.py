"""How long a wood screw may be, so that it holds and does not come out at the back."""

from __future__ import annotations

from fractions import Fraction

from nestkit.fit.length_of import ASK, Length, Trouble, next_length, trade_length
from nestkit.fit.stack import Stack, exact_dia
from nestkit.trade.rivets import wood_screw
from nestkit.units import Unit, with_unit

_BACK = Fraction(1)
"""Millimetres that a wood screw's point stays inside the last part (common practice)."""
_IN_WOOD = 7
"""Diameters of a wood screw that sit in the last part where it is thick enough (common practice)."""
_LEAST_IN_WOOD = 3
"""Diameters below which a wood screw may not hold (common practice)."""


def wood_screw_length(stack: Stack, unit: Unit) -> Length:
    """A wood screw sits seven diameters deep in the last part, or as deep as that allows."""
    fastener, clear, total = stack.fastener, stack.clear, stack.total
    row = wood_screw(exact_dia(fastener))
    size = row.size if row else fastener.size
    source = row.lengths.source if row else ""
    own = fastener.length
    if clear is None or total is None:
        return Length(size, length=own, own=own is not None, source=source)
    dia, most = exact_dia(fastener), total - _BACK
    least = clear + min(_IN_WOOD * dia, most - clear)
    length = own
    troubles: list[Trouble] = []
    if own is not None:
        troubles += _own_wood(own, clear, most, size, unit)
    elif row is None:
        text, remedy = (
            f"the tables have no wood screw of {size}",
            f"take one of at most {with_unit(most, unit)}",
        )
        troubles.append(Trouble(False, text, remedy))
    else:
        fits = [n for n in row.lengths.lengths if clear < n <= most]
        length = next_length(fits, clear + _IN_WOOD * dia) or max(fits, default=None)
        if length is None:
            troubles.append(_no_wood_screw(row.lengths.lengths, clear, most, size, unit))
    if length is not None and clear < length <= most and length - clear < _LEAST_IN_WOOD * dia:
        deep = with_unit(length - clear, unit)
        text = f"only {deep} of the wood screw sit in the last part, less than three diameters"
        troubles.append(Trouble(False, text, f"use a bolt and a nut, or {ASK} whether it holds"))
    notes = (f"pilot {row.pilot_soft} in soft wood, {row.pilot_hard} in hard wood",) if row else ()
    out = None if length is None else length - total
    return Length(size, least, length, out=out, own=own is not None, notes=notes, troubles=tuple(troubles),
                  source=source)  # fmt: skip


def _own_wood(own: Fraction, clear: Fraction, most: Fraction, size: str, unit: Unit) -> list[Trouble]:
    said = trade_length(own, size)
    if own <= clear:
        text = (
            f"the wood screw of {said} does not reach the last part: {with_unit(clear, unit)} lie before it"
        )
        return [Trouble(True, text, "take a longer one")]
    if own > most:
        text = f"the wood screw of {said} comes out at the back, or all but: at most {with_unit(most, unit)}"
        return [Trouble(False, text, "take a shorter one")]
    return []


def _no_wood_screw(
    lengths: tuple[Fraction, ...], clear: Fraction, most: Fraction, size: str, unit: Unit
) -> Trouble:
    if lengths[0] > most:
        text = (
            f"the shortest usual wood screw {size}, {trade_length(lengths[0], size)}, comes out at the back"
        )
        return Trouble(True, text, "use a thinner wood screw, or a bolt and a nut")
    text = f"no usual wood screw {size} reaches the last part: {with_unit(clear, unit)} lie before it"
    return Trouble(True, text, "use a bolt and a nut, or open the holes of the parts before it")
