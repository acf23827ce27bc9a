"""How much a drawing holds with its blocks in place, counted before anything is drawn."""

from __future__ import annotations

from collections.abc import Sequence

from nestkit.job.outlines.dxf_tags import DxfText, Entity, layer_name

DEEPEST = 32
"""Blocks that may stand in one another."""


class Expanded:
    """Counts entities, those of blocks as often as they are placed."""

    def __init__(self, dxf: DxfText) -> None:
        self.dxf = dxf
        self._known: dict[str, int] = {}

    def count(self) -> int:
        """Return how many entities the drawing shows."""
        return self._count(self.dxf.entities, ())

    def _count(self, entities: Sequence[Entity], around: tuple[str, ...]) -> int:
        total = len(entities)
        for entity in entities:
            if entity.kind == "INSERT":
                times = max(1, entity.whole(70, 1)) * max(1, entity.whole(71, 1))
                total += times * (1 + self._block(layer_name(entity.text(2)), around))
        return total

    def _block(self, name: str, around: tuple[str, ...]) -> int:
        # A block that holds itself, is not there or stands too deep is told where it is drawn.
        if name in around or name not in self.dxf.blocks or len(around) > DEEPEST:
            return 0
        if name not in self._known:
            self._known[name] = self._count(self.dxf.blocks[name][1], (*around, name))
        return self._known[name]
