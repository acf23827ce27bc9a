"""Tubes and bars brought together: which stock a tube is cut from, and by which saw."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from nestkit.geometry.section import Section
from nestkit.job.model import BarGroup
from nestkit.parts.tube import Tube
from nestkit.stock.bar import Bar
from nestkit.stock.ways import Way
from nestkit.trade.materials import plain_name


def bar_groups_of(
    tubes: Sequence[Tube], bars: Sequence[Bar], ways: Mapping[str, Way | None]
) -> tuple[BarGroup, ...]:
    """Return one group for each material and section that has tubes, in the order of their first ones."""
    stock: dict[tuple[object, ...], list[Bar]] = {}
    for bar in bars:
        stock.setdefault(_key(bar.material, bar.section), []).append(bar)
    found: dict[tuple[object, ...], list[Tube]] = {}
    for tube in tubes:
        found.setdefault(_key(tube.material, tube.section), []).append(tube)
    groups = []
    for key, like in found.items():
        section, here = like[0].section, stock.get(key, [])
        material = here[0].material if here else like[0].material
        groups.append(BarGroup(material, section, _way(section, here, ways), tuple(like), tuple(here)))
    return tuple(groups)


def _key(material: str, section: Section) -> tuple[object, ...]:
    return plain_name(material), *section.stock_key


def _way(section: Section, bars: Sequence[Bar], ways: Mapping[str, Way | None]) -> Way | None:
    """Return the saw for a section: that of its bars, else the usual one; none off a roll."""
    if section.kind == "roll":
        return None
    way = ways.get(bars[0].cut if bars else "")
    return way if way is not None and way.edge_to_edge else None
