"""What a template says of holes: a row of the table for those made alike, and the label of each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from nestkit.drawing.later_words import NOT_YET
from nestkit.parts.holes import Drill, Hole
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube, TubeHole, WallMark
from nestkit.trade.pilots import by_hand_tool, is_large, pilots_for, spoken
from nestkit.units import Unit, decimal_text, inches_text


@dataclass(frozen=True, slots=True)
class HoleRow:
    """Holes of one group and drill that follow each other in number."""

    numbers: str
    pilot: str
    drill: str
    dia: str
    use: str
    source: str


def hole_rows(
    view: Panel | Tube, unit: Unit, cut: frozenset[int], later: Mapping[int, str] | None = None
) -> list[HoleRow]:
    """Return the table of a part's holes; those ``cut`` by a machine name no drill.

    Nor do those that are drilled ``later``, by their numbers with what they are drilled through.
    """
    rows = []
    through = later or {}
    holes: Sequence[Hole | TubeHole] = view.holes
    for (group, drill, wait), same in groupby(
        holes, key=lambda h: (h.group, h.drill, through.get(h.number, ""))
    ):
        numbers = [hole.number for hole in same]
        span = str(numbers[0]) if len(numbers) == 1 else f"{numbers[0]} to {numbers[-1]}"
        use = f"{drill.screw} {drill.fit or ''}".strip() if drill.screw else ""
        if drill.tap:
            use = f"tap {drill.tap}"
        done = numbers[0] in cut
        if wait:
            use = f"through {wait}"
        pilots = () if done or wait else pilots_for(drill.dia, view.material, unit)
        rows.append(
            HoleRow(
                numbers=span,
                pilot=", ".join(spoken(row) for row in pilots) or "-",
                drill=NOT_YET if wait else "CUT ALREADY" if done else _tool(drill),
                dia=_both_units(drill.dia, unit),
                use=f"{group}: {use}" if group and use else group or use,
                # Table and standard; who was seen to print the same values is for the table itself.
                source="" if wait else drill.source.partition("; ")[0],
            )
        )
    return rows


def _tool(drill: Drill) -> str:
    """What makes the hole by hand: its drill, or for a large one what does not grab."""
    if is_large(drill.dia):
        return f"{drill.name}: {by_hand_tool(drill.dia)}".removeprefix(": ")
    return drill.name or "no drill of the tables"


def _both_units(dia: float, unit: Unit) -> str:
    mm = f"{dia:.2f} mm"
    return f"{inches_text(dia)} in  {mm}" if unit == "in" else mm


def _dia(drill: Drill, unit: Unit) -> str:
    """The diameter as a label says it; the sign for it where no inch drill name stands before it."""
    if unit == "in":
        return inches_text(drill.dia) if drill.name else f"Ø{inches_text(drill.dia)}"
    return f"Ø{decimal_text(drill.dia, 2)}"


def hole_label(hole: Hole | TubeHole | WallMark, unit: Unit, *, cut: bool = False) -> str:
    """Return the label of a hole: number, drill, diameter: ``3  #2 .221``, ``3  Ø5.5``.

    A hole that a machine has ``cut`` names no drill: ``3  CUT Ø10``.
    """
    drill = hole.drill
    if cut:
        return f"{hole.number}  CUT {_dia(drill, unit)}"
    same = drill.name.removesuffix(" mm") == decimal_text(drill.dia, 2)
    name = "" if same and unit == "mm" else drill.name
    return f"{hole.number}  {name} {_dia(drill, unit)}" if name else f"{hole.number}  {_dia(drill, unit)}"
