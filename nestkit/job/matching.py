"""Panels and sheets brought together: which stock a panel is cut from, and what each way leaves open."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from nestkit.job.entry import Notes
from nestkit.job.lines import KeyPath
from nestkit.job.model import Group
from nestkit.job.settling import settled_by_rules
from nestkit.parts.panel import Panel
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Way
from nestkit.trade.materials import plain_name
from nestkit.units import with_unit


@dataclass(frozen=True, slots=True)
class Asked:
    """A panel with where it was read, for mistakes that show only beside the stock."""

    panel: Panel
    path: KeyPath
    place: str
    in_file: bool


def groups_of(
    asked: Sequence[Asked], sheets: Sequence[Sheet], ways: Mapping[str, Way | None], notes: Notes
) -> tuple[Group, ...]:
    """Return one group for each material, real thickness and way that has panels, in their order."""
    by_material: dict[str, list[Sheet]] = {}
    for sheet in sheets:
        by_material.setdefault(plain_name(sheet.material), []).append(sheet)
    found: dict[tuple[str, Fraction, str], list[Panel]] = {}
    stock: dict[tuple[str, Fraction, str], tuple[Sheet, ...]] = {}
    for ask in asked:
        material = plain_name(ask.panel.material)
        match = _matching(ask, by_material.get(material, []), notes)
        panel = replace(ask.panel, thickness=match[0].thickness) if match else ask.panel
        key = material, panel.thickness, match[0].cut if match else ""
        found.setdefault(key, []).append(panel)
        stock[key] = match
    groups = []
    for key, panels in found.items():
        way = ways.get(key[2])
        if way is None:
            continue
        gap, margin, settled = settled_by_rules(way, key[1])
        material = stock[key][0].material if stock[key] else panels[0].material
        turned = tuple(_as_sawn(p) if way.edge_to_edge else p for p in panels)
        groups.append(Group(material, key[1], way, gap, margin, turned, stock[key], settled))
    return tuple(groups)


def _as_sawn(panel: Panel) -> Panel:
    """Return a panel as a saw may lay it: "any" turn means quarter turns there."""
    return replace(panel, turn="quarter") if panel.turn == "any" else panel


def _matching(ask: Asked, named: Sequence[Sheet], notes: Notes) -> tuple[Sheet, ...]:
    """Return those sheets of a panel's material that its thickness names; empty where there are none."""
    wanted = ask.panel.thickness
    match = [s for s in named if wanted in (s.thickness, s.sold_as)]
    real = sorted({s.thickness for s in match})
    if len(real) > 1:
        both = " and ".join(with_unit(t, notes.unit) for t in real)
        place = f"{ask.place}, thickness"
        text = f"{with_unit(wanted, notes.unit)} names stock of more than one real thickness: {both}"
        remedy = "Write the real thickness that is wanted"
        notes.add((*ask.path, "thickness"), place, text, remedy, in_file=ask.in_file)
        return ()
    # All stock of that real thickness serves, whatever name it is sold by.
    return tuple(s for s in named if real and s.thickness == real[0])
