"""Saw cuts done again from the plan alone: pieces, kerf, stages. Knows no solver."""

from __future__ import annotations

from dataclasses import dataclass

from nestkit.errors import ToolFault

Rect = tuple[int, int, int, int]
"""Left, bottom, right, top in grid steps."""


@dataclass(frozen=True, slots=True)
class PlannedCut:
    """A cut as the plan writes it, in grid steps; ``axis`` 0 cuts at an x, 1 at a y."""

    step: int
    piece: str
    axis: int
    at: int
    start: int
    end: int
    trim: bool


@dataclass(frozen=True, slots=True)
class _Piece:
    """A piece on the bench: what lies in it, and the separating cuts behind it."""

    rect: Rect
    parts: tuple[Rect, ...]
    axis: int | None
    stages: int


@dataclass(frozen=True, slots=True)
class Replayed:
    """What cuts leave: pieces that are one part exactly, pieces without part, and the stages used.

    ``first`` is the axis of the first separating cut, None without one.
    """

    parts: tuple[Rect, ...]
    rests: tuple[Rect, ...]
    stages: int
    first: int | None


def replay(sheet: Rect, parts: list[Rect], cuts: list[PlannedCut], kerf: int) -> Replayed:
    """Do the cuts one after another; raise :class:`~nestkit.errors.ToolFault` where one is wrong."""
    pieces = {"sheet": _Piece(sheet, tuple(parts), None, 0)}
    stages, first = 0, None
    for number, cut in enumerate(cuts, 1):
        if cut.step != number:
            raise ToolFault(f"saw cut {cut.step} stands where cut {number} should")
        piece = pieces.pop(cut.piece, None)
        if piece is None:
            raise ToolFault(f"saw cut {number} wants piece {cut.piece}, which is not there")
        low, high = _cut(piece, cut, kerf)
        if not cut.trim:
            if first is None:
                first = cut.axis
            stages = max(stages, low.stages if low else 0)
        for half, name in ((low, "a"), (high, "b")):
            if half is not None:
                pieces[f"{number}{name}"] = half
    done, rests = [], []
    for name, piece in pieces.items():
        if not piece.parts:
            rests.append(piece.rect)
        elif piece.parts == (piece.rect,):
            done.append(piece.rect)
        else:
            raise ToolFault(f"after the last saw cut piece {name} is not one part of its own size")
    return Replayed(tuple(sorted(done)), tuple(sorted(rests)), stages, first)


def _cut(piece: _Piece, cut: PlannedCut, kerf: int) -> tuple[_Piece | None, _Piece | None]:
    axis, across = cut.axis, 1 - cut.axis
    low, high = piece.rect[axis], piece.rect[axis + 2]
    if (cut.start, cut.end) != (piece.rect[across], piece.rect[across + 2]):
        raise ToolFault(f"saw cut {cut.step} does not run from edge to edge of piece {cut.piece}")
    if cut.at >= high or cut.at + kerf <= low or (cut.at <= low and cut.at + kerf >= high):
        raise ToolFault(f"saw cut {cut.step} at {cut.at} misses piece {cut.piece} or leaves nothing of it")
    before = tuple(p for p in piece.parts if p[axis + 2] <= cut.at)
    after = tuple(p for p in piece.parts if p[axis] >= cut.at + kerf)
    if len(before) + len(after) != len(piece.parts):
        raise ToolFault(f"saw cut {cut.step} runs through a part")
    separating = bool(before and after)
    if separating is cut.trim:
        raise ToolFault(f"saw cut {cut.step} says {'trim' if cut.trim else 'no trim'}, which is wrong")
    stages, last = piece.stages, piece.axis
    if separating:
        stages += last != axis
        last = axis
    halves: list[_Piece | None] = []
    for start, end, held in ((low, cut.at, before), (cut.at + kerf, high, after)):
        if start >= end:
            halves.append(None)
            continue
        rect = (
            (start, piece.rect[1], end, piece.rect[3])
            if axis == 0
            else (piece.rect[0], start, piece.rect[2], end)
        )
        halves.append(_Piece(rect, held, last, stages))
    return halves[0], halves[1]
