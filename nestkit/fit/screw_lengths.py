"""How long a machine screw must be: stack, nut, one to three threads, and the next length that is sold."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from nestkit.fit.length_of import ASK, Length, Trouble, next_length, size_unit, trade_length
from nestkit.fit.stack import Stack, exact_dia
from nestkit.trade.fasteners import Thread, screw_lengths
from nestkit.units import Unit, with_unit

MOST_SHOWING = 3
"""Threads that may show behind a nut (common practice); more catch sleeves and skin."""
_IN_THREAD = 2
"""Diameters of a screw beyond which a longer thread in a tapped part is not used (common practice)."""


@dataclass(frozen=True, slots=True)
class _Need:
    """What a stack asks of its screw in mm.

    ``clear`` lies before the thread, ``full`` uses all of it, ``least`` has one thread to spare.
    """

    clear: Fraction
    full: Fraction
    least: Fraction


def length_of_screw(stack: Stack, made: Thread, unit: Unit) -> Length:
    """Return the length of a machine screw, with a nut, in a rivet nut or in a tapped hole."""
    own, pitch = stack.fastener.length, made.pitch or Fraction(0)
    table, need = screw_lengths(made.size), _need(stack, pitch)
    lengths = table.lengths if table else ()
    sold = None if need is None else next_length(lengths, need.least)
    length = own or sold
    showing = None if length is None else _showing(stack, length, pitch)
    troubles = [*_of_thread(made), *_of_tapped(stack, unit)]
    if own is not None:
        troubles += [] if need is None else _own_length(stack, made, own, need, sold, showing, unit)
    elif need is not None and sold is None:
        troubles.append(_not_sold(made, need.least, lengths))
    return Length(
        size=made.text,
        least=None if need is None else need.least,
        length=length,
        showing=showing,
        out=None if length is None else _out(stack, length),
        own=own is not None,
        notes=_many_show(stack, showing),
        troubles=tuple(troubles),
        source=table.source if table else "",
    )


def _need(stack: Stack, pitch: Fraction) -> _Need | None:
    """Return what the stack asks for, None where some of it is not known.

    In a tapped part two diameters of thread are enough; in a rivet nut the screw reaches through its body.
    """
    clear, total = stack.clear, stack.total
    if total is None or clear is None:
        return None
    if stack.fastener.held_by == "tapped hole":
        deep, enough = total - clear, _IN_THREAD * exact_dia(stack.fastener)
        return _Need(clear, clear + min(deep, enough), clear + min(deep + pitch, enough))
    if stack.fastener.held_by == "rivet nut":
        return _Need(clear, total, total)
    return _Need(clear, total, total + pitch)


def _showing(stack: Stack, length: Fraction, pitch: Fraction) -> Fraction | None:
    """Return how many threads stand behind the nut or the tapped part; below 0 they do not reach."""
    if stack.fastener.held_by == "rivet nut" or stack.total is None or not pitch:
        return None
    return (length - stack.total) / pitch


def _out(stack: Stack, length: Fraction) -> Fraction | None:
    """Return how far a screw's point stands beyond the last part of its stack."""
    if stack.fastener.held_by == "tapped hole":
        return None if stack.total is None else length - stack.total
    if stack.fastener.held_by == "rivet nut":
        return None if stack.far is None or stack.clear is None else length - stack.clear - stack.far
    return None if stack.parts is None else length - stack.parts


def _many_show(stack: Stack, showing: Fraction | None) -> tuple[str, ...]:
    if showing is None or showing <= MOST_SHOWING or stack.fastener.held_by == "tapped hole":
        return ()
    return (f"more than {MOST_SHOWING} threads show: cap or shorten them where they can catch",)


def _of_thread(made: Thread) -> list[Trouble]:
    if not made.open:
        return []
    text = f"{made.text} is made with more than one thread; reckoned with the coarser"
    return [Trouble(False, text, "write the thread too, such as 10-32, so that nuts and screws match")]


def _of_tapped(stack: Stack, unit: Unit) -> list[Trouble]:
    dia, far = exact_dia(stack.fastener), stack.far
    if stack.fastener.held_by != "tapped hole" or far is None or far >= dia:
        return []
    text = (
        f"the tapped part has {with_unit(far, unit)} of thread, less than one diameter of the screw, "
        f"{with_unit(dia, unit)} (common practice)"
    )
    return [Trouble(False, text, f"use a nut or a rivet nut, or {ASK} whether it holds")]


def _own_length(
    stack: Stack,
    made: Thread,
    own: Fraction,
    need: _Need,
    sold: Fraction | None,
    showing: Fraction | None,
    unit: Unit,
) -> list[Trouble]:
    """Judge the length that the job gives: too short, all but too short, or longer than it need be."""
    screw = f"the screw of {trade_length(own, made.text)}"
    remedy = "take a longer one" if sold is None else f"take {trade_length(sold, made.text)}"
    in_nut = stack.fastener.held_by in ("lock nut", "nut")
    needed = f"{with_unit(need.full, unit)} are needed"
    if own < need.full and (in_nut or own <= need.clear):
        what = "does not fill the nut" if in_nut else "does not reach the thread"
        return [Trouble(True, f"{screw} {what}: {needed}", remedy)]
    if own < need.full:
        return [Trouble(False, f"{screw} does not use all of the thread: {needed}", remedy)]
    if own < need.least:
        return [Trouble(False, f"{screw} shows less than one thread", remedy)]
    if sold is not None and own > sold and (showing is None or showing > MOST_SHOWING):
        return [Trouble(False, f"{screw} is longer than it need be", remedy)]
    return []


def _not_sold(made: Thread, least: Fraction, lengths: tuple[Fraction, ...]) -> Trouble:
    asked = with_unit(least, size_unit(made.text))
    if not lengths:
        text, remedy = f"the tables have no lengths of {made.text}", f"take one of {asked} or more"
        return Trouble(False, text, f"{remedy}, and write its length")
    text = (
        f"a {made.text} of at least {asked} is longer than the longest usual one, "
        f"{trade_length(lengths[-1], made.text)}"
    )
    return Trouble(False, text, "use threaded rod with a nut at each end, or ask the shop for a longer one")
