"""Seeded trials: a joint's holes are drawn at random many times; counted is how often all screws pass."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from nestkit.fit.meeting import Array, Bundles, Flags, Pairs, fitting
from nestkit.fit.result import Chance
from nestkit.fit.spread import Spread, Wall

if TYPE_CHECKING:
    from numpy.random import Generator

AT_ONCE = 20_000
"""Trials that are drawn together: more need memory, not less time."""
_NUMBERS = 4_000_000
"""Numbers that are drawn together at most, for joints of very many holes: each takes 8 bytes an array."""
_LEAST_AT_ONCE = 100
_NO_PLAY = 1e-9
"""Millimetres allowed where a second wall holds the screws too: such a joint does not fit."""


def tried(spread: Spread, trials: int, seed: int) -> Chance:
    """Return how often all screws pass, with its standard error; the same seed gives the same draws.

    Draws do not depend on the plays: of two joints that differ in these alone the looser one
    fits whenever the tighter does.
    """
    random = np.random.Generator(np.random.PCG64(seed))
    good = 0
    step = at_once(spread)
    for start in range(0, trials, step):
        good += int(_some(spread, min(step, trials - start), random).sum())
    return counted(good, trials)


def at_once(spread: Spread) -> int:
    """Return how many trials of a joint are drawn together: fewer of one with very many holes."""
    each = 2 * len(spread.walls) * max(len(spread.points), 1)
    return max(_LEAST_AT_ONCE, min(AT_ONCE, _NUMBERS // each))


def counted(good: int, trials: int) -> Chance:
    """Return a share with its standard error, never 0: of none or all, as if half a trial were otherwise."""
    share = good / trials
    likely = min(max(good, 0.5), trials - 0.5) / trials
    return Chance(share, math.sqrt(likely * (1 - likely) / trials), trials)


def screws_tried(spread: Spread, trials: int, seed: int) -> tuple[Chance, ...]:
    """Return for each screw how often it passes with the parts held as drawn."""
    random = np.random.Generator(np.random.PCG64(seed))
    centres = drawn(spread, trials, random)
    found = []
    for screw in range(len(spread.points)):
        one = _judged(spread.held(), centres[:, :, screw : screw + 1], [screw])
        found.append(counted(int(one.sum()), trials))
    return tuple(found)


def _some(spread: Spread, trials: int, random: Generator) -> Flags:
    return _judged(spread, drawn(spread, trials, random), list(range(len(spread.points))))


def drawn(spread: Spread, trials: int, random: Generator) -> Array:
    """Return how far each hole is off in each trial: (trials, walls, screws, 2), in mm."""
    screws = len(spread.points)
    off: Array = np.zeros((trials, len(spread.walls), screws, 2))
    for i, wall in enumerate(spread.walls):
        own = random.standard_normal((trials, screws, 2)) * np.array(wall.sigma)
        if wall.turn_deg and wall.sigma[0] != wall.sigma[1]:
            own = own @ _turn(wall.turn_deg).T
        off[:, i] = own + np.array(wall.bias)
        if wall.follows is not None:
            off[:, i] += off[:, wall.follows]
    for error in spread.shared:
        amount = random.standard_normal(trials)
        off += amount[:, None, None, None] * np.array(error.moves)
    return off


def _judged(spread: Spread, centres: Array, screws: list[int]) -> Flags:
    """Return which trials fit: against the wall that holds the screws, in pairs, or in bundles."""
    holder = spread.holder
    moves = _motions(spread, screws)
    if holder is None and len(spread.walls) > 2:
        turned = np.array([_turn(-_frame(spread, s)) for s in screws])
        inverse = 1 / np.array([[_allowed(wall, s) for s in screws] for wall in spread.walls])
        in_frames = np.einsum("sij,twsj->twsi", turned, centres)
        return fitting(Bundles(in_frames, inverse, np.einsum("sij,wsjm->wsim", turned, moves)))
    base = 0 if holder is None else holder
    fits = np.ones(len(centres), dtype=bool)
    others = [i for i in range(len(spread.walls)) if i != base]
    # Against one wall that holds the screws each layer finds its own place, whatever the others do.
    for layer in dict.fromkeys(spread.walls[i].layer for i in others):
        rows = [i for i in others if spread.walls[i].layer == layer]
        apart = np.concatenate([centres[:, i] - centres[:, base] for i in rows], axis=1)
        scales = np.concatenate([_scales(spread, base, i, screws) for i in rows])
        motion = np.concatenate([moves[i] - moves[base] for i in rows])
        fits &= fitting(Pairs(apart, scales, motion[:, :, _of(layer, spread)]))
    return fits


def _of(layer: int, spread: Spread) -> slice:
    """Return the columns of motions that move one layer; none of the one that stays."""
    free, each = _moving(spread), _DEGREES[spread.freedom]
    if layer not in free:
        return slice(0, 0)
    first = free.index(layer) * each
    return slice(first, first + each)


_DEGREES = {"none": 0, "slide": 2, "slide and turn": 3}


def _moving(spread: Spread) -> list[int]:
    """Return the layers that move; one stays, and the screws with it where it holds them."""
    layers = list(dict.fromkeys(wall.layer for wall in spread.walls))
    stays = layers[0] if spread.holder is None else spread.walls[spread.holder].layer
    return [layer for layer in layers if layer != stays]


def _motions(spread: Spread, screws: list[int]) -> Array:
    """Return what each motion does to each hole in mm: (walls, screws, 2, motions).

    Turns are about the middle of the screws, and small: they move a hole square to its arm, the furthest
    one by 1 mm.
    """
    each = _DEGREES[spread.freedom]
    moving = _moving(spread)
    found = np.zeros((len(spread.walls), len(screws), 2, each * len(moving)))
    points = np.array([spread.points[s] for s in screws])
    arms = points - points.mean(axis=0)
    reach = max(float(np.abs(arms).max(initial=0.0)), 1e-6)
    for i, wall in enumerate(spread.walls):
        if each == 0 or wall.layer not in moving:
            continue
        first = moving.index(wall.layer) * each
        found[i, :, 0, first] = found[i, :, 1, first + 1] = 1.0
        if each == 3:
            found[i, :, 0, first + 2] = -arms[:, 1] / reach
            found[i, :, 1, first + 2] = arms[:, 0] / reach
    return found


def _allowed(wall: Wall, screw: int) -> tuple[float, float]:
    """Return what a hole allows its screw along and across its slot, or in all directions."""
    play = max(wall.plays[screw], _NO_PLAY)
    slot = wall.slots[screw] if wall.slots else None
    return play + (slot.by if slot else 0.0), play


def _frame(spread: Spread, screw: int) -> float:
    """Return the direction in degrees of a screw's slot, 0 where none of its holes is one."""
    slots = (wall.slots[screw] for wall in spread.walls if wall.slots)
    return next((slot.along_deg for slot in slots if slot is not None), 0.0)


def _scales(spread: Spread, base: int, other: int, screws: list[int]) -> Array:
    """Return what turns the offsets of two walls' holes into units of what both allow together.

    A slot is counted as the ellipse inside it.
    """
    found = []
    for s in screws:
        along, across = np.add(_allowed(spread.walls[base], s), _allowed(spread.walls[other], s))
        found.append(np.diag([1 / along, 1 / across]) @ _turn(-_frame(spread, s)))
    return np.array(found)


def _turn(deg: float) -> Array:
    c, s = math.cos(math.radians(deg)), math.sin(math.radians(deg))
    return np.array([[c, -s], [s, c]])
