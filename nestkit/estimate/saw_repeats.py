"""Saw cuts that are alike, said once: one piece cut again and again, or equal pieces cut in the same way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain

from nestkit.estimate.saw_steps import Gained, SawStep
from nestkit.layout.result import PlacedPart


@dataclass(frozen=True, slots=True)
class Lot:
    """Pieces that a repeat leaves and that are alike, with all that is cut of them: one name for all.

    ``places`` says for each name of the pieces before by which of their cuts it is left, counted from 1;
    what is left beyond the last cut counts as one more.
    """

    pieces: tuple[Gained, ...]
    places: tuple[tuple[str, tuple[int, ...]], ...]

    @property
    def name(self) -> str:
        """The name of its first piece."""
        return self.pieces[0].name


@dataclass(frozen=True, slots=True)
class Repeat:
    """Cuts at one setting in their order: ``times`` through the first piece, as often through its like.

    ``names`` are what plans call these pieces, each once. A cut without its like is a repeat of one.
    """

    steps: tuple[SawStep, ...]
    times: int
    names: tuple[str, ...]
    lots: tuple[Lot, ...]

    @property
    def first(self) -> SawStep:
        """The first cut."""
        return self.steps[0]

    @property
    def pieces(self) -> int:
        """How many pieces are cut."""
        return len(self.steps) // self.times

    @property
    def sawn(self) -> tuple[SawStep, ...]:
        """The first cut through each piece."""
        return self.steps[:: self.times]


def unfolded(repeats: Iterable[Repeat]) -> tuple[SawStep, ...]:
    """Return the single cuts of repeats, in their order."""
    return tuple(chain.from_iterable(r.steps for r in repeats))


def folded(steps: Sequence[SawStep]) -> tuple[Repeat, ...]:
    """Return cuts that follow each other with those that are alike together, in the same order."""
    if not steps:
        return ()
    runs: list[tuple[int, int, int]] = []
    while not runs or runs[-1][2] < len(steps):
        runs.append(_run(steps, runs[-1][2] if runs else 0))
    # Pieces that are alike but are not sawn together have names of their own.
    kinds = _kinds(steps, {s.cut.piece: start for start, _, end in runs for s in steps[start:end]})
    called: dict[str, str] = {}
    repeats = []
    for start, times, end in runs:
        repeat = _repeat(steps[start:end], times, kinds, called)
        for lot in repeat.lots:
            called |= {piece.name: lot.name for piece in lot.pieces}
        repeats.append(repeat)
    return tuple(repeats)


def _kinds(steps: Sequence[SawStep], sawn_in: Mapping[str, int]) -> dict[str, int]:
    """Return a number for each piece, equal where pieces are alike with all that is cut of them, and when."""
    kinds: dict[str, int] = {}
    numbers: dict[object, int] = {}
    # From the last cut on, so that what is cut of a piece is known before the piece.
    for step in reversed(steps):
        for piece in step.gained:
            if piece.name not in kinds:
                # What was left over is called by another name, since it may have to be measured.
                held = tuple(map(_kind_of, piece.parts))
                kind = (piece.size, piece.keep, piece.clear, piece.left_over, held)
                kinds[piece.name] = numbers.setdefault(kind, len(numbers))
        inner = tuple((g.name[-1], kinds[g.name]) for g in step.gained)
        made = (_size(step), sign_of(step), sawn_in[step.cut.piece], inner)
        kinds[step.cut.piece] = numbers.setdefault(made, len(numbers))
    return kinds


def _size(step: SawStep) -> tuple[Fraction, Fraction]:
    left, bottom, right, top = step.piece
    return right - left, top - bottom


def _kind_of(part: PlacedPart) -> tuple[object, ...]:
    return part.panel.name, part.opposite_hand


def sign_of(step: SawStep) -> tuple[object, ...]:
    """Return what is set and done for a cut, equal for cuts that are made in the same way."""
    return step.axis, step.held, step.edge, step.setting, step.side


def beyond(step: SawStep) -> Gained | None:
    """Return the piece that a cut leaves away from the edge that it is measured from."""
    letter = "b" if step.edge in ("left", "lower") else "a"
    return next((g for g in step.gained if g.name.endswith(letter)), None)


def _run(steps: Sequence[SawStep], start: int) -> tuple[int, int, int]:
    """Return the start, how often a piece is cut at one setting from there, and where its like end."""
    times = _chain(steps, start)
    end = start + times
    while end < len(steps) and _alike(steps[end], steps[start]) and _chain(steps, end) == times:
        end += times
    return start, times, end


def _alike(one: SawStep, other: SawStep) -> bool:
    """Say whether two pieces of one size are cut in the same way."""
    return (_size(one), sign_of(one), one.kind) == (_size(other), sign_of(other), other.kind)


def _chain(steps: Sequence[SawStep], start: int) -> int:
    """Return how many cuts from one on go at one setting through what the one before leaves."""
    count = 1
    while start + count < len(steps):
        before, step = steps[start + count - 1], steps[start + count]
        rest = beyond(before)
        if rest is None or step.cut.piece != rest.name or sign_of(step) != sign_of(before):
            break
        count += 1
    return count


def _repeat(
    steps: Sequence[SawStep], times: int, kinds: Mapping[str, int], called: Mapping[str, str]
) -> Repeat:
    """Return cuts as a repeat, with what they leave in lots."""
    found: dict[int, list[Gained]] = {}
    places: dict[int, dict[str, list[int]]] = {}
    for start in range(0, len(steps), times):
        source = called.get(steps[start].cut.piece, steps[start].cut.piece)
        for number, piece in _left(steps[start : start + times]):
            kind = kinds[piece.name]
            found.setdefault(kind, []).append(piece)
            numbers = places.setdefault(kind, {}).setdefault(source, [])
            if number not in numbers:
                numbers.append(number)
    lots = tuple(
        Lot(tuple(pieces), tuple((name, tuple(n)) for name, n in places[kind].items()))
        for kind, pieces in found.items()
    )
    names = tuple(dict.fromkeys(called.get(s.cut.piece, s.cut.piece) for s in steps[::times]))
    return Repeat(tuple(steps), times, names, lots)


def _left(cuts: Sequence[SawStep]) -> Iterator[tuple[int, Gained]]:
    """Yield what cuts through one piece leave, with the cut's number, one more for what is left at last."""
    for number, step in enumerate(cuts, 1):
        rest = beyond(step)
        for piece in step.gained:
            if piece is not rest:
                yield number, piece
            elif number == len(cuts):
                yield number + 1, piece
