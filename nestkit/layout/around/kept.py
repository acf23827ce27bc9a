"""What of a layout can stay where it lies once copies are held and regions kept clear."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace

from nestkit.geometry.edge_to_edge import Box
from nestkit.layout.around.match import with_holds
from nestkit.layout.around.scene import HandKey, Number, Rack, Scene, box_of, copy_key, hand_of
from nestkit.layout.result import CutSheet, GroupLayout, PlacedPart
from nestkit.layout.verify_clear import meets_none
from nestkit.parts.lying import body_at, is_box
from nestkit.units import grid_mm, grid_up

SLIP = 1e-5

Fixed = dict[Number, list[PlacedPart]]
"""What lies on sheets, by number."""


def staying(scene: Scene, layout: GroupLayout) -> Fixed:
    """Return the held copies, and what of a layout can stay beside them, on numbered sheets.

    Each sheet on which copies are held takes over the sheet of the layout that has most of them.
    """
    found: Fixed = {number: list(parts) for number, parts in scene.held.items()}
    waiting = list(layout.sheets)
    rack = Rack(scene)
    for number, held in scene.held.items():
        own = [s for s in waiting if s.stock.name == number[0]]
        like = max(own, key=lambda s: _alike(s, held), default=None)
        if like is not None:
            waiting = [s for s in waiting if s is not like]
            found[number] = _beside(scene, number, held, like.parts)
    for sheet in waiting:
        index = next(
            i for i, s in enumerate(scene.built.supplies)
            if s.sheet.name == sheet.stock.name and s.on_hand is sheet.on_hand
        )  # fmt: skip
        offers = [n for i, n in rack.offers() if i == index]
        if offers:
            rack.take(index, offers[0])
            key = sheet.stock.name, offers[0]
            found[key] = _beside(scene, key, (), sheet.parts)
    return _called(scene, found)


def _alike(sheet: CutSheet, held: Sequence[PlacedPart]) -> int:
    """Return how many held copies lie on a sheet already."""
    return sum(p.held for p in with_holds(sheet.parts, held))


def _beside(
    scene: Scene, number: Number, held: Sequence[PlacedPart], parts: Sequence[PlacedPart]
) -> list[PlacedPart]:
    """Return the held copies, and those of a sheet's other parts that can stay where they are."""
    stay = [p for p in with_holds(parts, held) if not p.held and not any(_near(scene, p, h) for h in held)]
    regions = next(s for s in scene.group.sheets if s.name == number[0]).clear_on(number[1])
    if not scene.group.way.edge_to_edge:
        return [*held, *(p for p in stay if meets_none(p, regions, scene.group.way.kerf))]
    clear, kerf = scene.clear(*number), scene.built.problem.kerf
    stay = [p for p in stay if not any(_meets(box_of(p), box, kerf) for box in clear)]
    boxes = [box_of(p) for p in held]
    kept = list(held)
    # Parts are taken up one by one as long as cuts free them all.
    for part in sorted(stay, key=lambda p: (-p.width * p.height, p.y, p.x)):
        if scene.sawable([*boxes, box_of(part)], clear):
            boxes.append(box_of(part))
            kept.append(part)
    return kept


def _near(scene: Scene, one: PlacedPart, two: PlacedPart) -> bool:
    gap = grid_up(scene.group.gap)
    if not _meets(box_of(one), box_of(two), gap):
        return False
    boxes = is_box(one.panel, one.turn) and is_box(two.panel, two.turn)
    if scene.group.way.edge_to_edge or boxes:
        return True
    from nestkit.geometry.clearance import too_near

    bodies = [body_at(p.panel, p.turn, (p.x, p.y), opposite_hand=p.opposite_hand) for p in (one, two)]
    return bool(too_near(bodies, float(grid_mm(gap)), SLIP))


def _meets(a: Box, b: Box, distance: int) -> bool:
    """Say whether boxes are nearer than a distance along both axes."""
    return max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3]) < distance


def _called(scene: Scene, found: Fixed) -> Fixed:
    """Return the same with copies named: the held as they are, the others the first that are free."""
    names = called(scene, found.values())
    return dict(zip(found, names, strict=True))


def called(scene: Scene, sheets: Iterable[Sequence[PlacedPart]]) -> list[list[PlacedPart]]:
    """Return parts with the copies that they are: held ones keep theirs, the others take the first free ones.

    Needed copies come before extras; parts beyond all copies are left out.
    """
    rows = [list(parts) for parts in sheets]
    taken = {copy_key(p) for row in rows for p in row if p.held}
    free: dict[HandKey, list[int]] = defaultdict(list)
    for copies in scene.built.copies:
        for copy in copies:
            if copy_key(copy) not in taken:
                free[hand_of(copy.panel, copy.opposite_hand)].append(copy.number)
    queues = {key: iter(numbers) for key, numbers in free.items()}
    found = []
    for row in rows:
        kept = []
        for part in row:
            if part.held:
                kept.append(part)
                continue
            number = next(queues.get(hand_of(part.panel, part.opposite_hand), iter(())), None)
            if number is not None:
                kept.append(replace(part, copy=number))
        found.append(kept)
    return found
