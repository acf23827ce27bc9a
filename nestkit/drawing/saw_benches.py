"""Who can start when: after which sheets a bench has all its parts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from nestkit.drawing.template_flow import Flow
from nestkit.geometry.points import Rect
from nestkit.layout.result import GroupLayout, JobLayout, PlacedPart, Unplaced
from nestkit.stock.ways import How
from nestkit.text import counted, number_list

TITLE = "Who can start when"
_SIZES = (1.0, 0.85, 0.7, 0.6)
"""The type gets smaller in these steps, so that all benches stand on one page."""


@dataclass(slots=True)
class _Bench:
    """A bench: the numbers of the sheets that hold parts of it, by stock, and how many parts have no sheet.

    ``last`` is the place, in the order of sawing, of the last of its sheets. Of ``rolls`` one piece is cut
    off, and has no number.
    """

    name: str
    sheets: dict[str, list[int]] = field(default_factory=dict)
    rolls: set[str] = field(default_factory=set)
    last: int = -1
    missing: int = 0


def bench_sections(
    layout: JobLayout, sawn: Sequence[GroupLayout], room: Rect
) -> Iterator[tuple[str, list[Flow]]]:
    """Yield a page for each sawn material, where a bench needs several, and one for the whole job."""
    benches = _benches(layout.groups)
    sheets = [s for g in layout.groups for s in g.sheets]
    if len(sheets) < 2 or not benches:
        return
    ways = {s.stock.name: g.group.way.how for g in layout.groups for s in g.sheets}
    in_material = [_benches([g]) for g in layout.groups]
    several = any(sum(b.name in {o.name for o in own} for own in in_material) > 1 for b in benches)
    for laid in sawn if several else ():
        own = _benches([laid])
        if len(laid.sheets) > 1 and own:
            title = f"{laid.group.material}: {TITLE.lower()}"
            note = f"Here only parts of {laid.group.material} count; the last page counts all materials."
            yield title, _columns(title, note, own, ways, room)
    note = "A bench has ALL its parts once the sheets under its name are cut. Spares are not counted."
    yield TITLE, _columns(TITLE, note, benches, ways, room)


def _columns(
    title: str, note: str, benches: Sequence[_Bench], ways: dict[str, How], room: Rect
) -> list[Flow]:
    """Return the benches in one column, in type as large as lets them stand in it, else in several."""
    for share in _SIZES:
        flow = _head(title, note, room)
        for bench in benches:
            flow.add(_said(bench, ways, room.width, share))
        if flow.height <= room.height:
            return [flow]
    flows = [_head(title, note, room)]
    for bench in benches:
        row = _said(bench, ways, room.width, _SIZES[-1])
        if flows[-1].height + row.height > room.height:
            flows.append(_head(f"{title} (continued)", "", room))
        flows[-1].add(row)
    return flows


def _head(title: str, note: str, room: Rect) -> Flow:
    flow = Flow(room.width)
    flow.title(title, 9.0, least=4.0)
    if note:
        flow.text(note, 4.0)
    flow.gap(3.0)
    return flow


def _said(bench: _Bench, ways: dict[str, How], width: float, share: float) -> Flow:
    """A bench, large, and below it the sheets it waits for and how each is cut."""
    flow = Flow(width)
    flow.text(bench.name, 7.0 * share, bold=True)
    for stock, numbers in bench.sheets.items():
        which = f"{'sheet' if len(numbers) == 1 else 'sheets'} {number_list(numbers)}"
        if stock in bench.rolls:
            which = "piece off the roll"
        flow.text(f"after {stock}, {which} ({ways[stock]})", 5.0 * share)
    if bench.missing:
        missing = counted(bench.missing, "part")
        flow.text(f"{missing} found no sheet: it cannot be finished.", 5.0 * share)
    flow.gap(4.0 * share)
    return flow


def _benches(groups: Sequence[GroupLayout]) -> list[_Bench]:
    """Return the benches of some groups, the first to be complete first."""
    found: dict[str, _Bench] = {}
    place = 0
    for laid in groups:
        for sheet in laid.sheets:
            for name in sorted({p.panel.used_for for p in sheet.parts if _counts(p)}):
                bench = found.setdefault(name, _Bench(name))
                bench.sheets.setdefault(sheet.stock.name, []).append(sheet.number)
                bench.last = place
                if sheet.stock.roll:
                    bench.rolls.add(sheet.stock.name)
            place += 1
        for part in laid.unplaced:
            if _counts(part):
                found.setdefault(part.panel.used_for, _Bench(part.panel.used_for)).missing += 1
    return sorted(found.values(), key=lambda b: (b.missing > 0, b.last, b.name))


def _counts(part: PlacedPart | Unplaced) -> bool:
    """Say whether a bench waits for a part: it is for a bench, and no spare."""
    panel = part.panel
    if part.opposite_hand and panel.faces != "alike":
        return bool(panel.used_for)
    asked = panel.quantity + (panel.opposite_hand if panel.faces == "alike" else 0)
    return bool(panel.used_for) and part.copy <= asked
