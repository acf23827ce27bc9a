"""What was understood of tubes and bars, in words."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from nestkit.geometry.mitre import Mitre
from nestkit.geometry.section import Section
from nestkit.job.model import BarGroup
from nestkit.job.understood_joints import method_said
from nestkit.parts.copies import Copies
from nestkit.parts.tube import Tube, TubeHole
from nestkit.stock.bar import Bar
from nestkit.stock.section import section_text
from nestkit.text import columns, money_text
from nestkit.units import Unit, decimal_text, with_unit

_NOT_IN_TEXT = ("tube", "round", "roll")
"""Kinds of section whose text does not say what the trade calls them."""


def bar_group_said(group: BarGroup, unit: Unit) -> Iterator[str]:
    """Yield lines that say what is cut to length, from which stock, and by which saw."""
    section = group.section
    words = f" ({section.words})" if section.kind in _NOT_IN_TEXT else ""
    yield f"{group.material}, {section_text(section, unit)} {unit}{words}, {_cut(group)}"
    said = [f"kerf {with_unit(group.kerf, unit)}"] if group.way is not None else []
    trims = sorted({bar.trim for bar in group.bars})
    alike = len(trims) == 1
    if alike and not group.off_a_roll:
        said.append(_trim(trims[0], unit))
    if said:
        yield f"  {', '.join(said)}"
    rows = [_bar_row(bar, group, unit, trim=not alike) for bar in group.bars]
    yield from (f"  {line}" for line in columns(rows, right=frozenset({1, 2})))
    if not rows:
        yield "  no stock of this material and section"
    yield from (f"    {line}" for line in columns([_tube_row(t, group, unit) for t in group.tubes]))


def copies_said(part: Copies) -> str:
    """Return a part's copies: ``2 as drawn + 1 opposite hand = 3``."""
    parts = [(part.quantity, "as drawn"), (part.opposite_hand, "opposite hand"), (part.spare, "spare")]
    if not part.made:
        return "not made: quantity 0"
    given = [f"{n} {what}" for n, what in parts if n]
    total = f" = {part.needed}" if len(given) > 1 else ""
    room = f", {part.spare_if_room} more if there is room" if part.spare_if_room else ""
    return (" + ".join(given) or "none") + total + room


def tube_drilled(tube: Tube, unit: Unit) -> str:
    """Return a tube's holes by drill and place: ``4 x #7 on A, through; 2 x #2 on B``."""
    counts: dict[tuple[str, str], int] = {}
    for hole in tube.holes:
        drill = hole.drill.name or f"dia {with_unit(hole.drill.dia, unit)}"
        key = drill, _place(hole, tube.section)
        counts[key] = counts.get(key, 0) + 1
    return "; ".join(f"{n} x {drill} {place}" for (drill, place), n in counts.items())


def tube_ends(tube: Tube) -> str:
    """Return a tube's mitres: ``45 deg at end 1, long on A``; empty where both ends are square.

    Where both are alike, they are said once: ``45 deg at both ends, long on A``.
    """
    near, far = tube.mitres
    if near is not None and near == far:
        return _mitre(near, "both ends", tube.section)
    ends = [(near, "end 0"), (far, "end 1")]
    return "; ".join(_mitre(mitre, end, tube.section) for mitre, end in ends if mitre is not None)


def _cut(group: BarGroup) -> str:
    if group.off_a_roll:
        return "cut with scissors"
    if group.way is None:
        return "with no saw to cut it"
    return "cut by saw" + (f' ("{group.way.name}")' if group.way.name else "")


def _trim(trim: Fraction, unit: Unit) -> str:
    return f"trim {with_unit(trim, unit)} at each end" if trim else "no trim"


def _bar_row(bar: Bar, group: BarGroup, unit: Unit, *, trim: bool) -> tuple[str, ...]:
    price = "" if bar.price is None else money_text(bar.price)
    said = [
        _turned(bar.section, group, unit),
        _trim(bar.trim, unit) if trim else "",
        f"rests kept from {with_unit(bar.keep, unit)} on" if bar.keep is not None else "",
        f"{bar.on_hand} on hand" if bar.on_hand else "",
        "" if bar.buy else "not to be bought",
    ]
    return bar.name, with_unit(bar.length, unit), price, ", ".join(s for s in said if s)


def _tube_row(tube: Tube, group: BarGroup, unit: Unit) -> tuple[str, ...]:
    copies = copies_said(tube)
    if tube.either_hand:
        copies += ", both hands alike"
    twins = [f"{twin.group} as {twin.tube} / {twin.of_group}" for twin in tube.twins]
    said = [_turned(tube.section, group, unit), tube_drilled(tube, unit), *twins, tube_ends(tube)]
    said.append(method_said(tube.method))
    return tube.name, with_unit(tube.length, unit), copies, "; ".join(s for s in said if s)


def _turned(section: Section, group: BarGroup, unit: Unit) -> str:
    """Return a section that is that of its group turned, as it is written here; else nothing."""
    return f"as {section_text(section, unit)}" if section != group.section else ""


def _place(hole: TubeHole, section: Section) -> str:
    where = f"on {hole.spot.face}" if hole.spot.face else f"at {decimal_text(hole.spot.at_deg)} deg"
    return where + (", through" if hole.through and section.two_walls else "")


def _mitre(mitre: Mitre, end: str, section: Section) -> str:
    long = f"at {decimal_text(mitre.long_deg)} deg" if section.is_round else f"on {mitre.long_face}"
    return f"{decimal_text(mitre.angle_deg)} deg at {end}, long {long}"
