"""One sheet while it is filled around what lies there already and what is kept clear."""

from __future__ import annotations

from collections.abc import Sequence

from nestkit.geometry.edge_to_edge import Box
from nestkit.layout.around.scene import Scene, box_of
from nestkit.layout.rects.room import Place, best_place, places, without
from nestkit.layout.result import PlacedPart

TRIED = 16
"""Places that are asked for their cuts, the best first: where these fail the others seldom serve."""


class Plate:
    """A sheet by stock and number, the parts that are fixed on it, those laid since, and the room left.

    Places are in grid steps of the whole sheet; their sizes are grown by the gap.
    """

    __slots__ = ("_clear", "_taken", "fixed", "laid", "number", "room", "scene", "stock")

    def __init__(self, scene: Scene, stock: int, number: int, fixed: Sequence[PlacedPart]) -> None:
        """Begin with the parts that are fixed, of which all lie free of each other."""
        self.scene, self.stock, self.number, self.fixed = scene, stock, number, tuple(fixed)
        self.laid: list[tuple[int, Place]] = []
        problem = scene.built.problem
        sheet, gap = problem.stocks[stock], problem.gap
        (across, up), left, bottom = sheet.usable, sheet.left, sheet.bottom
        self.room = [(left, bottom, left + across + gap, bottom + up + gap)]
        self._taken: list[Box] = []
        self._clear = scene.clear(scene.built.supplies[stock].sheet.name, number)
        for part in self.fixed:
            self._take(box_of(part))
        inner = gap - problem.kerf
        for left, bottom, right, top in self._clear:
            # The kerf is to be free beside it; parts are grown by the gap at their right and upper side.
            hole = (left + inner, bottom + inner, right + problem.kerf, top + problem.kerf)
            self.room = without(self.room, hole, *scene.least)

    def copy(self) -> Plate:
        """Return the same plate, to be filled in another way."""
        other = Plate.__new__(Plate)
        other.scene, other.stock, other.number, other.fixed = self.scene, self.stock, self.number, self.fixed
        other.laid, other.room = list(self.laid), list(self.room)
        other._taken, other._clear = list(self._taken), self._clear
        return other

    def _take(self, box: Box) -> None:
        gap = self.scene.built.problem.gap
        left, bottom, right, top = box
        self._taken.append(box)
        self.room = without(self.room, (left, bottom, right + gap, top + gap), *self.scene.least)

    def _net(self, place: Place) -> Box:
        x, y, w, h, _ = place
        gap = self.scene.built.problem.gap
        return x, y, x + w - gap, y + h - gap

    def put(self, box: int, place: Place) -> None:
        """Lay a part at a place that is free."""
        self.laid.append((box, place))
        self._take(self._net(place))

    def find(self, box: int, rule: int) -> tuple[int, Place] | None:
        """Return the best place for a part by a rule, with its score, or None."""
        sizes = self.scene.sizes[self.stock][box]
        alone = not self._taken and not self._clear
        if alone or not self.scene.built.problem.edge_to_edge:
            return best_place(self.room, sizes, rule)
        for found in places(self.room, sizes, rule)[:TRIED]:
            if self.scene.sawable([*self._taken, self._net(found[1])], self._clear):
                return found
        return None

    @property
    def used(self) -> bool:
        """Say whether anything lies on it."""
        return bool(self.fixed or self.laid)

    @property
    def covered(self) -> int:
        """The area of the boxes of all parts on it, in square grid steps."""
        return sum((right - left) * (top - bottom) for left, bottom, right, top in self._taken)


def fill(plates: Sequence[Plate], boxes: Sequence[int], rule: int, *, spread: bool) -> list[int]:
    """Lay boxes in the order given, and return those without a place.

    ``spread``: at the best place of all plates, else on the first that has room.
    """
    out: list[int] = []
    hopeless: set[int] = set()
    for box in boxes:
        best: tuple[int, Place] | None = None
        where: Plate | None = None
        for plate in plates if box not in hopeless else ():
            found = plate.find(box, rule)
            if found is not None and (best is None or found[0] < best[0]):
                best, where = found, plate
                if not spread:
                    break
        if best is None or where is None:
            # Room only shrinks: what did not fit once does not fit later.
            hopeless.add(box)
            out.append(box)
        else:
            where.put(box, best[1])
    return out
