"""Where one pattern of holes lies best on another, when nobody says which hole belongs to which.

A pair of holes far apart in the smaller pattern is laid on every pair of the other that is as far apart; each
such motion is judged by how many more holes then meet. Other pairs follow in case holes of the first have no
partner. The best motions are refined until the largest miss is as small as it can be.
"""

from __future__ import annotations

import cmath
import math
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from nestkit.fit.assembly import Placement
from nestkit.fit.minimax import least_largest, least_squares
from nestkit.fit.pairing import Near, Pairs, paired
from nestkit.geometry.points import Point

EXACT = 0.05
"""Millimetres within which patterns are taken to be meant alike: what rounding of sizes leaves."""
WITHIN = 3.0
"""Millimetres by which holes of a pair may be off when patterns are not alike."""
FAR = 25.0
"""Millimetres beyond which a hole is not the partner of another, whatever the rest does."""
SAME = 0.005
"""Millimetres that nobody can tell: largest misses that differ by less are alike."""

_FEW = 8
"""Holes up to which every pair is tried as the first."""
_BASES = 28
"""Pairs of holes that are tried as the first at most: as many holes may be left over without a partner."""
_LARGE = 4000
"""Pairs of a hole of each pattern from which on far partners are not searched for: it would take seconds."""
_REFINED = 100
"""Motions, best first, that are looked at more closely at most."""


@dataclass(frozen=True, slots=True)
class Match:
    """How a pattern lies on the reference: the motion, the pairs, and the largest miss among them in mm.

    ``pairs`` are places in the two lists of points, the reference's first and rising. ``symmetric`` says that
    another turn or move fits as well (of one hole, which any turn fits, it says nothing).
    """

    placement: Placement
    pairs: Pairs
    largest: float
    symmetric: bool = False


def best_placement(
    reference: Sequence[Point], other: Sequence[Point], *, within: float = FAR, mirrored: bool = False
) -> Match:
    """Return the motion of ``other``, mirrored first if so said, that lays it best on ``reference``.

    Most holes are in pairs within a distance, and then the largest miss is least. Of several such motions the
    one is taken that brings first hole to first, second to second and so on: what is mirrored as a whole is
    then laid mirrored. Else the one with the least turn: none, quarter turns, others; then low numbers go
    with low ones. The distance is 0.05 mm if all can meet so, else 3 mm, else ``within``, which may be less;
    where most of the holes meet without the rest, the rest does not draw them away, and beyond 3 mm very
    large patterns are not looked at. Two holes on two, or one on any, are always in pairs.

    Raises ``ValueError`` for a pattern without holes.
    """
    if not reference or not other:
        raise ValueError("a pattern has one hole or more")
    fixed = [complex(*p) for p in reference]
    moving = [complex(-p.x if mirrored else p.x, p.y) for p in other]
    least = min(len(fixed), len(moving))
    if least == 1 or (len(fixed) == len(moving) == 2):
        return _best(fixed, moving, _few_pairs(len(fixed), len(moving)), mirrored)
    best = _search(fixed, moving, min(EXACT, within), mirrored)
    for limit in (min(WITHIN, within), within):
        if len(best.pairs) == least or limit <= EXACT:
            break
        most = len(best.pairs) >= max(3, least / 2)
        if limit > WITHIN and (most or len(fixed) * len(moving) > _LARGE):
            break
        found = _search(fixed, moving, limit, mirrored)
        if len(found.pairs) == least or (not most and len(found.pairs) > len(best.pairs)):
            best = found
    return best


def placed(reference: Sequence[Point], other: Sequence[Point], placement: Placement) -> Match:
    """Return the pairs of a placement that is given: holes go with the nearest, up to 25 mm."""
    fixed = [complex(*p) for p in reference]
    moved = [complex(*placement(p)) for p in other]
    pairs = paired(Near(fixed, FAR), moved)
    return Match(placement, pairs, max((abs(fixed[i] - moved[j]) for i, j in pairs), default=0.0))


def refined(
    reference: Sequence[Point], other: Sequence[Point], pairs: Pairs, *, mirrored: bool = False
) -> Match:
    """Return the motion with the least largest miss for given pairs; there is one pair or more."""
    fixed = [complex(*p) for p in reference]
    moving = [complex(-p.x if mirrored else p.x, p.y) for p in other]
    return _refined(fixed, moving, pairs, mirrored)


def _few_pairs(fixed: int, moving: int) -> list[Pairs]:
    if min(fixed, moving) == 1:
        return [((0, 0),)]
    return [((0, 0), (1, 1)), ((0, 1), (1, 0))]


def _refined(fixed: Sequence[complex], moving: Sequence[complex], pairs: Pairs, mirrored: bool) -> Match:
    turn, move, largest = least_largest([fixed[i] for i, _ in pairs], [moving[j] for _, j in pairs])
    return Match(Placement(turn, Point(move.real, move.imag), mirrored), pairs, largest)


def _best(
    fixed: Sequence[complex], moving: Sequence[complex], candidates: Sequence[Pairs], mirrored: bool
) -> Match:
    """Return the best of several pairings of one number of holes."""
    floors = []
    for pairs in candidates:
        _, square = least_squares([fixed[i] for i, _ in pairs], [moving[j] for _, j in pairs])
        floors.append((math.sqrt(square), pairs))
    floors.sort(key=lambda item: (round(item[0], 6), item[1]))
    found: list[Match] = []
    for floor, pairs in floors:
        # No motion of these pairs has a largest miss below their least mean square's root.
        if found and floor > min(m.largest for m in found) + SAME:
            break
        found.append(_refined(fixed, moving, pairs, mirrored))
    best = min(m.largest for m in found)
    good = sorted((m for m in found if m.largest <= best + SAME), key=_plainness)
    first = good[0]
    others = any(not _alike(first.placement, m.placement) for m in good[1:])
    return Match(first.placement, first.pairs, first.largest, others)


def _plainness(match: Match) -> tuple[bool, int, float, bool, Pairs]:
    turn = round(match.placement.turn_deg, 6)
    return any(i != j for i, j in match.pairs), _kind(turn), abs(turn), turn < 0, match.pairs


def _kind(turn_deg: float) -> int:
    """Return 0 for no turn, 1 for a quarter or more of them, 2 for any other."""
    return 0 if turn_deg == 0 else 1 if turn_deg % 90 == 0 else 2


def _alike(a: Placement, b: Placement) -> bool:
    return math.isclose(a.turn_deg, b.turn_deg, abs_tol=1e-4) and a.move.to(b.move) < SAME


def _search(fixed: list[complex], moving: list[complex], within: float, mirrored: bool) -> Match:
    """Return the best match whose pairs all lie within a distance, one pair at the least."""
    swapped = len(moving) > len(fixed)
    still, laid = (moving, fixed) if swapped else (fixed, moving)
    near, wide = Near(still, within), Near(still, 2 * within)
    candidates: dict[Pairs, None] = {}
    for turn, move in _motions(still, laid, within):
        pairs = paired(wide, [turn * z + move for z in laid])
        candidates[_settled(still, laid, pairs, near)] = None
    if len(still) == len(laid):
        in_order = tuple((i, i) for i in range(len(still)))
        candidates[_settled(still, laid, in_order, near)] = None
    best = max(len(pairs) for pairs in candidates) if candidates else 0
    most = [pairs for pairs in candidates if len(pairs) == best] if best else [((0, 0),)]
    if swapped:
        most = [tuple(sorted((j, i) for i, j in pairs)) for pairs in most]
    return _best(fixed, moving, most, mirrored)


def _settled(still: list[complex], laid: list[complex], pairs: Pairs, near: Near) -> Pairs:
    """Return the pairs that lie within the distance once the motion suits them.

    A motion that comes from two holes only is not yet good: it is fitted to all pairs, and the pairs to it.
    """
    for _ in range(4):
        if not pairs:
            break
        a, b = [still[i] for i, _ in pairs], [laid[j] for _, j in pairs]
        turn, _ = least_squares(a, b)
        move = (sum(a) - turn * sum(b)) / len(a)
        again = paired(near, [turn * z + move for z in laid])
        if again == pairs:
            break
        pairs = again
    return pairs


_Motion = tuple[complex, complex]
"""A turn, as a number of length 1, and the move after it."""


def _motions(still: list[complex], laid: list[complex], within: float) -> list[_Motion]:
    """Return motions of ``laid`` that bring the most of its points near one of ``still``, the best first."""
    # A motion by two holes, each off by the distance, can be off by four times as much elsewhere.
    near = Near(still, 4 * within)
    spans = sorted((abs(q - p), i, j) for i, p in enumerate(still) for j, q in enumerate(still) if i != j)
    most, found = 1, list[_Motion]()
    for tried, (first, second) in enumerate(islice(_bases(laid), _BASES)):
        # With so many left over, one of the bases that share no hole had to be right by now.
        if len(laid) - most < tried <= len(laid) // 2:
            break
        for turn, move in _by_two_holes(still, spans, first, second, 2 * within):
            met = _met(near, laid, turn, move, most)
            if met > most:
                most, found = met, []
            if met == most:
                found.append((turn, move))
    close = Near(still, within)

    def rank(motion: _Motion) -> tuple[int, int, float]:
        turn, move = motion
        degrees = round(math.degrees(cmath.phase(turn)), 4)
        return -_met(close, laid, turn, move, 0), _kind(degrees), abs(degrees)

    return sorted(found, key=rank)[:_REFINED]


def _met(near: Near, laid: list[complex], turn: complex, move: complex, least: int) -> int:
    """Count the points that come near one; 0 as soon as ``least`` of them cannot be reached."""
    spare = len(laid) - least
    for z in laid:
        if not near.any(turn * z + move):
            spare -= 1
            if spare < 0:
                return 0
    return least + spare


def _by_two_holes(
    still: list[complex], spans: list[tuple[float, int, int]], first: complex, second: complex, off: float
) -> Iterator[_Motion]:
    """Yield the motions that lay two points on two of ``still`` that are as far apart, up to ``off``."""
    length, middle = abs(second - first), (first + second) / 2
    if length < SAME:
        for p in still:
            yield complex(1.0), p - middle
        return
    for k in range(bisect_left(spans, (length - off,)), len(spans)):
        span, i, j = spans[k]
        if span > length + off:
            break
        if span >= SAME:
            turn = (still[j] - still[i]) * (second - first).conjugate() / (span * length)
            yield turn, (still[i] + still[j]) / 2 - turn * middle


def _bases(laid: list[complex]) -> Iterator[tuple[complex, complex]]:
    """Yield pairs of points: those that share none, the longest first, then, of few points, all others."""
    numbers = range(len(laid))
    spans = sorted(
        ((i, j) for i in numbers for j in numbers[i + 1 :]),
        key=lambda ij: (-round(abs(laid[ij[0]] - laid[ij[1]]), 6), ij),
    )
    used: set[int] = set()
    later = []
    for i, j in spans:
        if i in used or j in used:
            later.append((i, j))
        else:
            used.update((i, j))
            yield laid[i], laid[j]
    if len(laid) <= _FEW:
        for i, j in later:
            yield laid[i], laid[j]
