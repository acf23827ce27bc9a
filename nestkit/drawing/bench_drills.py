"""The steps of drilling by hand: one for each drill, pilots first, each tap after its tap drill."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from nestkit.fit.drill_words import drill_said
from nestkit.parts.holes import Hole
from nestkit.parts.marking import check_pairs
from nestkit.parts.tube import TubeHole
from nestkit.text import counted, number_list
from nestkit.trade.drills import DrillRow
from nestkit.trade.pilots import by_hand_tool, is_large, pilots_for, spoken
from nestkit.units import Unit


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do. ``signed_off``: only with a trained adult, or by a person signed off on the machine.

    ``large`` is for what the hands need most; ``signature`` asks for one instead of initials; ``holes``
    are the numbers that a final drill makes.
    """

    text: str
    large: bool = False
    signed_off: bool = False
    signature: bool = False
    holes: tuple[int, ...] = ()


def counted_holes(numbers: Sequence[int]) -> str:
    """Return how many holes, and their numbers.

    >>> counted_holes([1, 2, 3, 7])
    '4 holes: 1 to 3, 7'
    """
    return f"{counted(len(numbers), 'hole')}: {number_list(numbers)}"


def drill_steps(
    holes: Iterable[Hole | TubeHole],
    material: str,
    unit: Unit,
    said: Callable[[Sequence[int]], str] = counted_holes,
) -> Iterator[Step]:
    """Yield a step for each drill: pilots first, the smallest first, each tap after its tap drill.

    ``said`` tells by their numbers which holes they are.
    """
    before: dict[tuple[int, DrillRow], list[int]] = {}
    final: dict[tuple[float, str], list[Hole | TubeHole]] = {}
    for hole in holes:
        for order, row in enumerate(pilots_for(hole.drill.dia, material, unit)):
            before.setdefault((order, row), []).append(hole.number)
        final.setdefault((hole.drill.dia, hole.drill.name), []).append(hole)
    for (order, row), numbers in sorted(before.items(), key=lambda item: (item[0][0], item[0][1].dia)):
        doing = "Open up with" if order else "Pilot"
        yield Step(f"{doing} {spoken(row)}: {said(numbers)}", large=True)
    for (dia, _), same in sorted(final.items(), key=lambda item: item[0]):
        tool = f"{by_hand_tool(dia).capitalize()} {drill_said(same[0].drill, unit)}"
        made = tuple(hole.number for hole in same)
        # A hole saw turns a hand drill round with it when it grabs.
        yield Step(f"{tool}: {said(made)}", large=True, signed_off=is_large(dia), holes=made)
        yield from tap_steps(same, said)


def tap_steps(
    holes: Iterable[Hole | TubeHole], said: Callable[[Sequence[int]], str] = counted_holes
) -> Iterator[Step]:
    """Yield a step for each thread of some holes; none for holes without."""
    tapped: dict[str, list[int]] = {}
    for hole in holes:
        if hole.drill.tap:
            tapped.setdefault(hole.drill.tap, []).append(hole.number)
    for thread, numbers in tapped.items():
        yield Step(f"Tap {thread}, square to the face: {said(numbers)}", large=True)


def far_pair(holes: Sequence[Hole]) -> tuple[int, int, float] | None:
    """Return the two holes furthest apart and their true distance in mm, or None with less than two."""
    return next(iter(check_pairs(holes)), None)
