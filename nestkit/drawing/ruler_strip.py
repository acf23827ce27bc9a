"""A check ruler with its words: what it must read, where a page printed to fit shows, who joins there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import product

from nestkit.drawing.layers import Layer
from nestkit.drawing.model import Mark, Text, line
from nestkit.drawing.pen import Anchor
from nestkit.drawing.rulers import Axis, check_ruler, longest, reading
from nestkit.drawing.type import ASCENT, DESCENT, fitted, text_width
from nestkit.geometry.points import Point
from nestkit.units import Unit, decimal_text, length_text

USUAL_FITS = (0.94, 0.96)
"""What "fit to page" makes of a page: letter inside 1/4 in, A4 inside 4.2 mm (both reckoned)."""
_ALIKE = 0.0035
_WORDS, _LEAST_WORDS = 3.0, 2.5
_SMALL = 2.5
_TICK = 1.6
_BELOW = 0.2
"""Between a tell-tale's tick and its figure."""
_APART = 0.8
"""Figures closer together read as one."""
_GAP = 3.0


def fit_to_page(width: float, height: float, margin: float) -> float:
    """Return the share to which a page shrinks when it is printed to fit inside a margin.

    >>> round(fit_to_page(215.9, 279.4, 6.35), 3), round(fit_to_page(210, 297, 4.2), 3)
    (0.941, 0.96)
    """
    return min((width - 2 * margin) / width, (height - 2 * margin) / height)


def usual_fits(own: float | None) -> tuple[float, ...]:
    """Return the shares to watch for: the paper's ``own`` (None off a roll), and the usual ones that differ.

    >>> usual_fits(8 / 8.5), usual_fits(0.9545), usual_fits(None)
    ((0.941, 0.96), (0.955, 0.94, 0.96), (0.94, 0.96))
    """
    if own is None:
        return USUAL_FITS
    own = round(own, 3)
    return (own, *(f for f in USUAL_FITS if abs(f - own) > _ALIKE))


@dataclass(frozen=True, slots=True)
class Tale:
    """A tell-tale: the place on the ruler that reads ``read`` mm when the page was printed at ``share``."""

    share: float
    place: float
    read: Fraction


def tell_tales(length: Fraction, fits: Sequence[float], unit: Unit) -> tuple[Tale, ...]:
    """Return where on a ruler of ``length`` mm a steel rule shows one and the same whole figure.

    >>> [(t.share, round(t.place / 25.4, 3), float(t.read / 254 * 10)) for t in tell_tales(
    ...     Fraction("203.2"), (0.94, 0.96), "in")]
    [(0.94, 7.979, 7.5), (0.96, 7.812, 7.5)]
    """
    if not fits:
        return ()
    read = longest(float(length) * min(fits), unit)
    return tuple(Tale(share, float(read) / share, read) for share in fits)


def ruler_strip(
    at: Point,
    room: float,
    unit: Unit,
    *,
    along: Axis,
    scale: tuple[float, float] = (1.0, 1.0),
    fits: Sequence[float] = (),
    beside: Sequence[str] = (),
) -> tuple[Mark, ...]:
    """Return a check ruler and its words in a strip of ``rulers.STRIP`` mm whose lower left is ``at``.

    ``fits`` are the shares whose tell-tales are marked, the likeliest first. ``beside`` are other
    words for the strip, the fullest first: the first that finds room is written.
    """
    return _strip(at, room, unit, along, scale, tuple(fits), tuple(beside))


@lru_cache(maxsize=200)
def _strip(
    at: Point,
    room: float,
    unit: Unit,
    along: Axis,
    scale: tuple[float, float],
    fits: tuple[float, ...],
    beside: tuple[str, ...],
) -> tuple[Mark, ...]:
    """The strip, kept: it is the same on most pages of one paper."""
    here = scale[0] if along == "x" else scale[1]
    length = longest(room * here, unit)
    ruler = check_ruler(at, room, unit, along=along, scale=scale)
    lane = _Lane(ruler.at, along)
    tales, end = _ticks(lane, tell_tales(length, fits, unit), here, room)
    words = f"CHECK RULER: {reading(length, unit)}"
    asked = _asked(length, fits, unit) if tales else ("",)
    combos = list(product(beside or ("",), asked))
    joins, known = next((c for c in combos if _width(words, *c, least=True) <= end), combos[-1])
    text, size = fitted(words, end - _width("", joins, known), _WORDS, least=1.8)
    marks: list[Mark] = [ruler, lane.text(0.0, text, size), *tales]
    if known:
        marks.append(lane.text(end, known, _SMALL, "end", out=_TICK + _BELOW))
        end -= text_width(known, _SMALL) + _GAP
    if joins:
        marks.append(lane.text(end, joins, _WORDS, "end", bold=True))
    return tuple(marks)


@dataclass(frozen=True, slots=True)
class _Lane:
    """The side of a ruler's line away from the drawing; ``start`` is the ruler's zero."""

    start: Point
    along: Axis

    def text(
        self,
        place: float,
        text: str,
        size: float,
        anchor: Anchor = "start",
        *,
        out: float = 0.0,
        bold: bool = False,
    ) -> Text:
        if self.along == "x":
            below = out + ASCENT * size if out else 3.4
            return Text(self.start.moved(place, -below), text, size, Layer.LABEL, anchor, bold=bold)
        # Turned text stands with its feet towards the line.
        at = self.start.moved(-out - DESCENT * size if out else -1.2, place)
        return Text(at, text, size, Layer.LABEL, anchor, 90.0, bold=bold)

    def tick(self, place: float) -> Mark:
        if self.along == "x":
            return line(self.start.moved(place, 0), self.start.moved(place, -_TICK), Layer.FINE)
        return line(self.start.moved(0, place), self.start.moved(-_TICK, place), Layer.FINE)


def _ticks(lane: _Lane, tales: Sequence[Tale], scale: float, room: float) -> tuple[list[Mark], float]:
    """Return the tell-tales that find room beside each other, and where along the lane they begin."""
    marks: list[Mark] = []
    taken: list[tuple[float, float]] = []
    for tale in tales:
        place, label = tale.place / scale, _percent(tale.share)
        wide = text_width(label, _SMALL)
        # Under its tick, or before it where another stands under its own.
        starts = (min(place - wide / 2, room - wide), place - 0.4 - wide)
        here = [(start, start + wide) for start in starts]
        spans = [
            s for s in here if not any(s[0] < high + _APART and low - _APART < s[1] for low, high in taken)
        ]
        if not spans:
            continue
        taken.append((min(spans[0][0], place), max(spans[0][1], place)))
        marks += [lane.tick(place), lane.text(spans[0][0], label, _SMALL, out=_TICK + _BELOW)]
    return marks, min((low for low, _ in taken), default=room) - 1.5


def _percent(share: float) -> str:
    """A share in percent, as whole as the usual ones where it is one of them by its look."""
    usual = next((f for f in USUAL_FITS if abs(f - share) <= _ALIKE), share)
    return decimal_text(usual * 100, 1)


def _asked(length: Fraction, fits: Sequence[float], unit: Unit) -> tuple[str, ...]:
    """What to look for at the tell-tales, the fullest words first, none at last."""
    read = f"{length_text(tell_tales(length, fits, unit)[0].read, unit)} {unit}"
    return (
        f"Does a steel rule show {read} here? Printed fit to page, percent:",
        f"{read} here? Fit to page, %:",
        "",
    )


def _width(words: str, joins: str, known: str, *, least: bool = False) -> float:
    """The room that words (at the ``least`` size or as usual), other words and the question take."""
    return (
        text_width(words, _LEAST_WORDS if least else _WORDS)
        + (text_width(known, _SMALL) + _GAP if known else 0.0)
        + (text_width(joins, _WORDS, bold=True) + _GAP if joins else 0.0)
        + (0.0 if words else 1.0)
    )
