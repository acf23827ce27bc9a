"""The paper of a tube's template as flat pieces: a strip a face, over a corner, or right round.

A piece lies as in :mod:`nestkit.geometry.wrap`: x along the tube from end 0, y up from its lower edge.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from nestkit.drawing.tube_bend import Bend
from nestkit.geometry.points import Point
from nestkit.geometry.round_wrap import RoundWrap, clear_seam
from nestkit.geometry.section import FACE_DEG, FACES, Face
from nestkit.geometry.wrap import Strip, Wrap, right_round
from nestkit.parts.tube import Tube, WallMark
from nestkit.units import decimal_text

_ALIKE = 1e-6
_AT_EDGE = 0.5
"""A line nearer to an edge than this is that edge."""


@dataclass(frozen=True, slots=True)
class Punch:
    """A place to punch, and where it is on a piece."""

    mark: WallMark
    at: Point


@dataclass(frozen=True, slots=True)
class Band:
    """A face on a piece: its letter, and from where to where it goes."""

    letter: str
    bottom: float
    top: float


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of paper. ``near`` and ``far`` are its ends, each from the lower edge to the upper.

    ``below`` and ``above`` say what lies beyond its edges. ``folds`` are dashed; ``lines`` run along a
    round tube, each with its letter. ``strip`` says that the piece is laid between the edges of a face.
    ``begins`` is how far from end 0 a piece begins that is cut off there, empty for one with end 0. What is
    drilled ``later``, through another part, is not punched.
    """

    name: str
    height: float
    near: tuple[Point, ...]
    far: tuple[Point, ...]
    bands: tuple[Band, ...]
    punches: tuple[Punch, ...]
    below: str
    above: str
    folds: tuple[float, ...] = ()
    lines: tuple[tuple[str, float], ...] = ()
    strip: bool = False
    begins: str = ""
    later: tuple[Punch, ...] = ()


def cut_at(piece: Piece, x: float, begins: str) -> Piece:
    """Return a piece that begins at a line square across it, ``begins`` from end 0 as people measure it."""
    later = tuple(p for p in piece.later if p.at.x - p.mark.drill.dia / 2 > x)
    return replace(piece, near=(Point(x, 0.0), Point(x, piece.height)), begins=begins, later=later)


def pieces_of(tube: Tube, bend: Bend, later: Sequence[WallMark] = ()) -> tuple[Piece, ...]:
    """Return the paper of a tube's template, the first piece on top.

    What is drilled ``later`` is shown where there is paper for something else; for its own sake only where
    nothing at all is to be marked.
    """
    kind, paper = tube.section.kind, tube.paper
    if tube.section.is_round:
        return (_round(tube, bend, later),)
    if kind == "angle" and paper != "strips":
        return (_folded(tube, Wrap(tube.section, ("A", "B"), bend.corner, bend.fold), "toe", "toe", later),)
    if kind == "tube" and paper == "wrap":
        return (_right_round(tube, bend, later),)
    faces = _faces(tube, later)
    if kind == "tube" and paper == "corner":
        return tuple(
            _folded(tube, wrap, f"{_next(wrap.faces[-1])} side", f"{_before(wrap.faces[0])} side", later)
            for wrap in (Wrap(tube.section, pair, bend.corner, bend.fold) for pair in fewest_pairs(faces))
        )
    return tuple(strip_of(tube, face, later) for face in faces)


def fewest_pairs(faces: Sequence[Face]) -> tuple[tuple[Face, Face], ...]:
    """Return the fewest pairs of neighbouring faces that hold some faces, no face twice.

    >>> fewest_pairs(("A", "C")), fewest_pairs(("D",)), fewest_pairs(("A", "D"))
    ((('A', 'B'), ('C', 'D')), (('D', 'A'),), (('D', 'A'),))
    """
    pairs = [(face, _next(face)) for face in FACES]
    tries: list[tuple[tuple[Face, Face], ...]] = [
        (pair,) for pair in pairs if len(faces) > 1 or pair[0] == faces[0]
    ]
    tries += [two for two in combinations(pairs, 2) if not {*two[0]} & {*two[1]}]
    return next(some for some in tries if {*faces} <= {face for pair in some for face in pair})


def _next(face: Face) -> Face:
    return FACES[(FACES.index(face) + 1) % 4]


def _before(face: Face) -> Face:
    return FACES[(FACES.index(face) + 3) % 4]


def _faces(tube: Tube, later: Sequence[WallMark]) -> tuple[Face, ...]:
    """The faces with something to mark: holes, else an end that slopes over them, else what waits, or all."""
    waiting = {mark.spot.face for mark in later}
    with_later = tuple(face for face in tube.section.faces if face in waiting)
    return tube.drilled_faces or sloping_faces(tube) or with_later or tube.section.faces


def sloping_faces(tube: Tube) -> tuple[Face, ...]:
    """Return the faces that a mitre cuts at a slant."""
    return tuple(face for face in tube.section.faces if any(_slopes(Strip(tube.section, face), tube)))


def _slopes(strip: Strip, tube: Tube) -> list[bool]:
    lines = [strip.end_line(end) for end in tube.ends]
    return [abs(line[0].x - line[-1].x) > _ALIKE for line in lines]


def strip_of(tube: Tube, face: Face, later: Sequence[WallMark] = ()) -> Piece:
    """Return the strip of one face."""
    strip, near, far = Strip(tube.section, face), *tube.ends
    below, above = f"{_next(face)} side", f"{_before(face)} side"
    if tube.section.kind == "angle":
        below, above = ("heel, B side", "toe") if face == "A" else ("toe", "heel, A side")

    def places(marks: Iterable[WallMark]) -> tuple[Punch, ...]:
        return tuple(Punch(m, strip.point(float(m.spot.at), float(m.spot.across))) for m in marks)

    return Piece(
        name=face,
        height=strip.height,
        near=strip.end_line(near),
        far=strip.end_line(far),
        bands=(Band(face, 0.0, strip.height),),
        punches=places(tube.marks_on(face)),
        below=below,
        above=above,
        strip=True,
        later=places(mark for mark in later if mark.spot.face == face),
    )


def _folded(tube: Tube, wrap: Wrap, below: str, above: str, later: Sequence[WallMark]) -> Piece:
    near, far = tube.ends
    cuts = (wrap.height, *wrap.folds, 0.0)

    def places(marks: Iterable[WallMark]) -> Iterator[Punch]:
        for mark in marks:
            if mark.spot.face in wrap.faces:
                at = wrap.point(mark.spot.face, float(mark.spot.at), float(mark.spot.across))
                yield Punch(mark, at)

    return Piece(
        name=" ".join(wrap.faces),
        height=wrap.height,
        near=wrap.end_line(near),
        far=wrap.end_line(far),
        bands=tuple(Band(face, cuts[i + 1], cuts[i]) for i, face in enumerate(wrap.faces)),
        punches=tuple(places(tube.marks)),
        below=below,
        above=above,
        folds=wrap.folds,
        later=tuple(places(later)),
    )


def _right_round(tube: Tube, bend: Bend, later: Sequence[WallMark]) -> Piece:
    """All four faces, the seam at the corner that is furthest from any mark, the first of equals."""
    section = tube.section

    def clear(first: Face) -> float:
        last = _before(first)
        away = [float(section.width(m.spot.face) - m.spot.across) for m in tube.marks if m.spot.face == first]
        away += [float(m.spot.across) for m in tube.marks if m.spot.face == last]
        return round(min(away, default=1e9), 6)

    first = max(FACES, key=lambda face: (clear(face), -FACES.index(face)))
    seam = f"seam, corner {_before(first)}-{first}"
    return _folded(tube, right_round(section, bend.corner, bend.fold, first), seam, seam, later)


def _round(tube: Tube, bend: Bend, later: Sequence[WallMark]) -> Piece:
    marks = tube.marks
    seam = clear_seam(float(m.spot.at_deg) for m in marks)
    wrap = RoundWrap(tube.section, bend.girth, seam)
    near, far = tube.ends
    lines = [(face, wrap.point(0.0, float(deg)).y) for face, deg in FACE_DEG.items()]
    on = next((face for face, deg in FACE_DEG.items() if deg == seam), "")

    def places(some: Iterable[WallMark]) -> tuple[Punch, ...]:
        return tuple(Punch(m, wrap.point(float(m.spot.at), float(m.spot.at_deg))) for m in some)

    said = f"seam on the {on} line" if on else f"seam, {decimal_text(seam, 2)} deg"
    return Piece(
        name="right round",
        height=wrap.height,
        near=wrap.end_line(near),
        far=wrap.end_line(far),
        bands=(),
        punches=places(marks),
        below=said,
        above=said,
        later=places(later),
        lines=tuple((face, y) for face, y in lines if _AT_EDGE < y < wrap.height - _AT_EDGE),
    )
