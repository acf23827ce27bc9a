"""What the picture of a sheet writes into its parts, and the key for those that have no room."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from nestkit.layout.result import PlacedPart
from nestkit.units import Unit, decimal_text, length_text, with_unit

Kind = tuple[str, bool]
"""A panel's name and whether it is the opposite hand."""


@dataclass(frozen=True, slots=True)
class KeyLine:
    """A line of the key: the number in the box, and the parts that it stands for."""

    number: int
    text: str


def kind_of(part: PlacedPart) -> Kind:
    """Return what parts under one number of the key share."""
    return part.panel.name, part.opposite_hand


def numbers_of(parts: Iterable[PlacedPart]) -> dict[Kind, int]:
    """Return a number for each kind among parts, from 1 on, in the order of the parts."""
    return {kind: n for n, kind in enumerate(dict.fromkeys(kind_of(p) for p in parts), start=1)}


def part_lines(part: PlacedPart, unit: Unit) -> tuple[str, ...]:
    """Return what is written into a part: name, copy and hand, size as it lies.

    Of a part at an angle it is the size as drawn, and the angle.
    """
    size = lying_size(part.width, part.height, unit)
    if part.turn % 90:
        size = f"{lying_size(part.panel.width, part.panel.height, unit)}, {decimal_text(part.turn, 1)}°"
    return (part.panel.name, _copy_text(part), size)


def _copy_text(part: PlacedPart) -> str:
    copies = part.panel.needed + part.panel.spare_if_room
    said = [f"copy {part.copy}"] if copies > 1 else []
    if part.opposite_hand:
        said.append(_hand(part))
    if part.held:
        said.append("HELD")
    return ", ".join(said)


def _hand(part: PlacedPart) -> str:
    return "TURNED OVER" if part.turned_over else "OPPOSITE HAND"


def lying_size(width: Fraction, height: Fraction, unit: Unit) -> str:
    """Return a size along x and y: ``14 1/2 x 9 3/4 in``."""
    return f"{length_text(width, unit)} x {with_unit(height, unit)}"


def key_lines(parts: Iterable[PlacedPart], numbers: dict[Kind, int], unit: Unit) -> tuple[KeyLine, ...]:
    """Return the key for parts that show a number only, by rising number."""
    copies: dict[Kind, list[PlacedPart]] = {}
    for part in parts:
        copies.setdefault(kind_of(part), []).append(part)
    lines = []
    for kind in sorted(copies, key=lambda k: numbers[k]):
        panel = copies[kind][0].panel
        hand = f", {_hand(copies[kind][0])}" if kind[1] else ""
        size = lying_size(panel.width, panel.height, unit)
        named = f"{panel.name}{hand}, drawn {size}"
        total = panel.needed + panel.spare_if_room
        if total > 1:
            spans = _spans(sorted(p.copy for p in copies[kind]))
            named += f": {'copy' if len(copies[kind]) == 1 else 'copies'} {spans}"
        if held := [p.copy for p in copies[kind] if p.held]:
            named += f", HELD {_spans(sorted(held))}" if total > 1 else ", HELD"
        lines.append(KeyLine(numbers[kind], named))
    return tuple(lines)


def _spans(numbers: list[int]) -> str:
    """Return rising numbers in short: ``1-4, 7``."""
    spans: list[list[int]] = []
    for n in numbers:
        if spans and n == spans[-1][-1] + 1:
            spans[-1] = [spans[-1][0], n]
        else:
            spans.append([n])
    return ", ".join("-".join(str(n) for n in span) for span in spans)
