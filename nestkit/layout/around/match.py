"""Whether a layout made without marks can be numbered so that it keeps them: then nothing has to move."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from nestkit.layout.around.scene import Number, Scene, box_of
from nestkit.layout.result import CutSheet, GroupLayout, PlacedPart
from nestkit.layout.verify_clear import keeps_clear

Numbered = list[tuple[Number, tuple[PlacedPart, ...]]]
"""Sheets by number, and what lies on each."""
_Key = tuple[str, bool, Fraction, Fraction, int | Fraction]


def numbered(scene: Scene, layout: GroupLayout) -> Numbered | None:
    """Return a layout's sheets with the numbers under which all that is asked is kept; None where none do.

    Held copies are marked as such; the other copies keep what they are called.
    """
    found: Numbered = []
    for sheet in scene.group.sheets:
        own = [s for s in layout.sheets if s.stock.name == sheet.name]
        numbers = _numbers(scene, sheet.name, own)
        if numbers is None:
            return None
        for number, laid in sorted(zip(numbers, own, strict=True), key=lambda row: row[0]):
            parts = with_holds(laid.parts, scene.held.get((sheet.name, number), ()))
            found.append(((sheet.name, number), parts))
    return found


def with_holds(parts: Sequence[PlacedPart], held: Sequence[PlacedPart]) -> tuple[PlacedPart, ...]:
    """Return parts, those that lie as copies are held replaced by these."""
    holds = {_key(h): h for h in held}
    return tuple(holds.get(_key(p), p) for p in parts)


def _key(part: PlacedPart) -> _Key:
    return part.panel.name, part.opposite_hand, part.x, part.y, part.turn


def _numbers(scene: Scene, name: str, own: Sequence[CutSheet]) -> list[int] | None:
    """Return the number of each sheet of one stock, None where no numbering keeps what is asked."""
    here = next(s.on_hand for s in scene.group.sheets if s.name == name)
    special, held = scene.special[name], scene.held_numbers(name)
    on_hand = sum(s.on_hand for s in own)
    bought = _bought_numbers(held, here, len(own) - on_hand)
    if bought is None or not _all_clear(scene, name, own):
        return None
    must = sorted(n for n in held if n <= here) + [n for n in bought if n in special]
    plain = [n for n in range(1, min(here, len(own) + len(special)) + 1) if n not in special]
    wanted = on_hand - sum(n <= here for n in must)
    may = sorted(n for n in special - held if n <= here)
    if wanted < 0:
        return None

    def fits(index: int, number: int) -> bool:
        return _keeps(scene, name, number, own[index].parts)

    pairs = _paired(must, len(own), fits)
    if pairs is None:
        return None
    spare = wanted - len(plain)
    for number in may:
        if spare <= 0:
            break
        spare -= _pair(number, pairs, len(own), fits, set())
    if spare > 0:
        return None
    rest = plain[:wanted] if len(plain) >= wanted else plain
    free = iter([*rest, *(n for n in bought if n not in special)])
    by_sheet = {index: number for number, index in pairs.items()}
    return [by_sheet[i] if i in by_sheet else next(free) for i in range(len(own))]


def _bought_numbers(held: frozenset[int], here: int, count: int) -> list[int] | None:
    """Return the numbers of so many bought sheets: those held, and the lowest of the others."""
    kept = sorted(n for n in held if n > here)
    if len(kept) > count:
        return None
    number, found = here, list(kept)
    while len(found) < count:
        number += 1
        if number not in held:
            found.append(number)
    return sorted(found)


def _all_clear(scene: Scene, name: str, own: Sequence[CutSheet]) -> bool:
    """Say whether all sheets of a stock keep the regions that lie on every one of them."""
    sheet = next(s for s in scene.group.sheets if s.name == name)
    if not sheet.clear_on(0):
        return True
    return all(_keeps(scene, name, 0, s.parts) for s in own)


def _keeps(scene: Scene, name: str, number: int, parts: Sequence[PlacedPart]) -> bool:
    """Say whether parts lie as is asked of a sheet."""
    lying = {_key(p) for p in parts}
    if any(_key(h) not in lying for h in scene.held.get((name, number), ())):
        return False
    sheet = next(s for s in scene.group.sheets if s.name == name)
    regions = sheet.clear_on(number)
    if not regions:
        return True
    if scene.group.way.edge_to_edge:
        return scene.sawable([box_of(p) for p in parts], scene.clear(name, number))
    return keeps_clear(parts, regions, scene.group.way.kerf)


def _paired(numbers: Sequence[int], sheets: int, fits: Callable[[int, int], bool]) -> dict[int, int] | None:
    """Return a sheet of its own for each number, None where there is none."""
    pairs: dict[int, int] = {}
    for number in numbers:
        if not _pair(number, pairs, sheets, fits, set()):
            return None
    return pairs


def _pair(
    number: int, pairs: dict[int, int], sheets: int, fits: Callable[[int, int], bool], seen: set[int]
) -> bool:
    """Find a sheet for a number, moving other numbers to other sheets where that helps.

    Augmenting paths as in H. W. Kuhn, "The Hungarian method for the assignment problem", Naval Research
    Logistics Quarterly 2, 1955 (from memory).
    """
    owner = {sheet: n for n, sheet in pairs.items()}
    for sheet in range(sheets):
        if sheet in seen or not fits(sheet, number):
            continue
        seen.add(sheet)
        if sheet not in owner or _pair(owner[sheet], pairs, sheets, fits, seen):
            pairs[number] = sheet
            return True
    return False
