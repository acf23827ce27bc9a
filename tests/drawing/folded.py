"""Tubes folded from their printed templates, as pdfium reads them: joined by crosses or laid by lines."""

from __future__ import annotations

import re
from dataclasses import dataclass

from nestkit.drawing.tube_template import tube_template_pages
from nestkit.geometry.points import Point
from nestkit.geometry.round_wrap import RoundWrap
from nestkit.geometry.wrap import Strip
from nestkit.units import parse_length
from nestkit.writers.pdf import pdf_bytes
from tests.drawing import bench
from tests.folding import Place, fold_round, fold_strip, fold_wrap

LAID = re.compile(
    r"Cut along the bold line\. Lay it on a line squared (.+) from END 0\.|Lay the END 0 line on end 0\."
)
TRUE = 0.01
"""Millimetres: what is printed may differ by this from what was asked for."""


@dataclass(frozen=True)
class Level:
    """A level line as measured: y, and from where to where."""

    y: float
    left: float
    right: float


@dataclass(frozen=True)
class Sheet:
    """Pages laid together, as measured once the printer has scaled them, in the first page's frame."""

    levels: list[Level]
    paths: list[tuple[Point, ...]]
    rings: list[tuple[float, Point]]
    texts: list[tuple[str, Point]]


def printed(job, tube, **more):
    """The pages of a template as pdfium reads them."""
    return bench.read(pdf_bytes(tube_template_pages(job, tube, **more), title=tube.name))


def scales(page, job):
    """The printer's scale along x and y of a page: scale_x is the paper's short side's, across a roll."""
    paper, printing = job.printing.paper, job.printing
    upright = abs(page.width - paper.short) < TRUE
    assert upright or abs(page.height - paper.short) < TRUE
    return (printing.scale_x, printing.scale_y) if upright else (printing.scale_y, printing.scale_x)


def sheets(pages, job, tube):
    """Lay pages together where the words at their sides say so, by crosses of the same letter."""
    tiles = pages if len(pages) == 1 else pages[1:]
    first = len(pages) - len(tiles) + 1
    joins = {i: joined_by(tile, first) for i, tile in enumerate(tiles)}
    found, seen = [], set()
    for start in range(len(tiles)):
        if start in seen:
            continue
        shifts, todo = {start: Point(0.0, 0.0)}, [start]
        while todo:
            here = todo.pop()
            for other in joins[here] - shifts.keys():
                move = shift(tiles[here], tiles[other], job)
                shifts[other] = shifts[here].moved(*move)
                todo.append(other)
        seen |= shifts.keys()
        found.append(laid(tiles, shifts, job, tube))
    return found


def joined_by(page, first):
    """The pages, counted from the first that is joined, that a page says join it at a side."""
    said = re.findall(r"page (\d+) joins here|page (\d+): cut|^page (\d+)$", page.words, re.MULTILINE)
    return {int(next(filter(None, one))) - first for one in said}


def shift(here, other, job):
    """Where another page's frame lies in this one's, by two crosses or more of the same letters."""
    named = [crosses(page, job) for page in (here, other)]
    shared = sorted(named[0].keys() & named[1].keys())
    assert len(shared) >= 2, "two neighbours share at least two crosses"
    moves = [Point(named[0][k].x - named[1][k].x, named[0][k].y - named[1][k].y) for k in shared]
    assert all(move.to(moves[0]) < TRUE for move in moves)
    return moves[0]


def crosses(page, job):
    """The registration crosses of a page, as measured, by their letters."""
    x, y = scales(page, job)
    letters = [(t.strip(), at) for t, at in page.texts if re.fullmatch("[a-z]{1,2}", t.strip())]
    named = {}
    for at in page.diamonds():
        letter, near = min(letters, key=lambda one, at=at: one[1].to(at))
        assert near.to(at) < 7.0
        named[letter] = Point(at.x * x, at.y * y)
    return named


def laid(tiles, shifts, job, tube):
    """Read all pages of a sheet into the frame of its first page."""
    rings, texts, paths = [], [], []
    for i, move in shifts.items():
        page, (x, y) = tiles[i], scales(tiles[i], job)
        for dia in sorted({hole.drill.dia for hole in tube.holes}):
            rings += [(dia, Point(at.x * x, at.y * y).moved(*move)) for at in page.circles(dia / x, dia / y)]
        texts += [(text.strip(), Point(at.x * x, at.y * y).moved(*move)) for text, at in page.texts]
        lines = [path.points for path in page.paths if not path.closed]
        paths += [tuple(Point(p.x * x, p.y * y).moved(*move) for p in line) for line in lines]
    levels = [
        Level(a.y, min(a.x, b.x), max(a.x, b.x))
        for a, b in (path for path in paths if len(path) == 2)
        if abs(a.y - b.y) < TRUE / 10 and abs(a.x - b.x) > 12.0
    ]
    return Sheet(sorted(levels, key=lambda level: -level.y), paths, rings, texts)


def folded(job, tube, papers, **more):
    """Print, read, join and fold a template back; return for each paper its marks: diameter and place.

    ``papers`` are what must be on the sheets, from the top of the first to the bottom of the last. Each has
    its two edge lines as far apart as it is wide, and both end lines where the tube ends.
    """
    pages = printed(job, tube, **more)
    if any(LAID.search(page.words) for page in pages):
        return laid_by_lines(pages, job, tube, papers)
    found, left = [], list(papers)
    for sheet in sheets(pages, job, tube):
        levels = sheet.levels
        while left and (edges := _edges(levels, left[0].height)):
            near, far = (left[0].end_line(end) for end in tube.ends)
            origin = _origin(near, far, *edges)
            assert all(_drawn(sheet, ends, origin) for ends in (near, far)), "both ends are drawn"
            found.append((left[0], _marks(sheet, left[0], origin)))
            levels = [level for level in levels if level.y < edges[1].y - TRUE]
            left.pop(0)
    assert not left, "every paper is printed"
    return found


def laid_by_lines(pages, job, tube, papers):
    """The marks of each paper off pages that are not joined, each where the line that it is laid by is."""
    found = [[] for _ in papers]
    ended = set()
    for page in pages:
        if not (said := LAID.search(page.words)):
            continue
        sheet = laid([page], {0: Point(0.0, 0.0)}, job, tube)
        for i, paper in enumerate(papers):
            if not (edges := _named_edges(sheet, paper)):
                continue
            near, far = (paper.end_line(end) for end in tube.ends)
            if said[1]:
                line = float(parse_length(said[1], job.unit))
                near = (Point(line, 0.0), Point(line, paper.height))
                bold(page, job, edges)
            origin = _origin(near, far, *edges)
            assert _drawn(sheet, near, origin), "end 0 or the line is drawn"
            if _drawn(sheet, far, origin):
                ended.add(i)
            found[i] += _marks(sheet, paper, origin)
    assert len(ended) == len(papers), "each paper shows where the tube ends"
    return list(zip(papers, found, strict=True))


def bold(page, job, edges):
    """A piece that does not begin at end 0 begins at a bold line from edge to edge, all of it printed."""
    x, y = scales(page, job)
    upper, lower = edges
    assert any(
        path.stroke > 0.6
        and path.whole
        and abs(path.box.left * x - lower.left) < TRUE
        and path.box.width < TRUE
        and abs(path.box.bottom * y - lower.y) < TRUE
        and abs(path.box.top * y - upper.y) < TRUE
        for path in page.paths
    )


def _named_edges(sheet, paper):
    """The two level lines of a paper on a page: a height apart, with the letters of its faces before them."""
    names = {getattr(paper, "face", "")} | {
        *getattr(paper, "faces", "ABCD" if isinstance(paper, RoundWrap) else "")
    }
    letters = [(text, at) for text, at in sheet.texts if text in {"A", "B", "C", "D"}]
    for upper in sheet.levels:
        for lower in sheet.levels:
            if abs(upper.y - lower.y - paper.height) < TRUE and upper.right - upper.left > 20:
                left = min(upper.left, lower.left)
                here = {t for t, at in letters if at.x < left and lower.y - 1 < at.y < upper.y}
                if here and here <= names:
                    return upper, lower
    return None


def _edges(levels, height):
    """The uppermost two level lines that are a height apart."""
    for upper in levels:
        for lower in levels:
            if abs(upper.y - lower.y - height) < TRUE:
                return upper, lower
    return None


def _origin(near, far, upper, lower):
    """Where end 0 and the lower edge of a paper meet on a sheet; both its edges go from end to end."""
    origin = Point(lower.left - near[0].x, lower.y)
    assert abs(upper.left - near[-1].x - origin.x) < TRUE
    assert abs(lower.right - far[0].x - origin.x) < TRUE
    assert abs(upper.right - far[-1].x - origin.x) < TRUE
    return origin


def _drawn(sheet, ends, origin):
    """Say whether an end is drawn, point for point."""
    return any(
        len(path) == len(ends) and all(p.to(q.moved(*origin)) < TRUE for p, q in zip(path, ends, strict=True))
        for path in sheet.paths
    )


def _marks(sheet, paper, origin):
    """The marks of a paper, folded: diameter and place."""
    fold = (
        fold_strip if isinstance(paper, Strip) else fold_round if isinstance(paper, RoundWrap) else fold_wrap
    )
    return [
        (dia, fold(paper, at.moved(-origin.x, -origin.y)))
        for dia, at in sheet.rings
        if origin.y <= at.y <= origin.y + paper.height
    ]


def model(tube, mark):
    """Where the part has a mark, in space."""
    spot = mark.spot
    if spot.face is None:
        return Place(float(spot.at), *tube.section.at_angle(float(spot.at_deg)))
    return Place(float(spot.at), *(float(v) for v in tube.section.on_face(spot.face, spot.across)))


def away(one, other):
    """How far two places in space are apart."""
    return sum((a - b) ** 2 for a, b in zip(one, other, strict=True)) ** 0.5


def check(job, tube, papers, **more):
    """Every mark of the tube is printed and lies, folded, where the part has it; there are no others."""
    found = [mark for _, marks in folded(job, tube, papers, **more) for mark in marks]
    part = tube.mirrored() if more.get("opposite") else tube
    for mark in part.marks:
        place = model(part, mark)
        assert any(abs(d - mark.drill.dia) < TRUE and away(p, place) < TRUE for d, p in found), mark
    for dia, place in found:
        assert any(
            abs(dia - m.drill.dia) < TRUE and away(place, model(part, m)) < TRUE for m in part.marks
        ), (dia, place)
    return found


def walls_meet(tube, found):
    """Both walls of each through hole lie on one axis, which is that of the part, to 0.01 mm."""
    for into, out in zip(tube.marks, tube.marks[1:], strict=False):
        if not out.comes_out:
            continue
        one, other = model(tube, into), model(tube, out)
        here = min((p for d, p in found if d == into.drill.dia), key=lambda p: away(p, one))
        there = min((p for d, p in found if d == out.drill.dia), key=lambda p: away(p, other))
        long = away(one, other)
        along = [(b - a) / long for a, b in zip(one, other, strict=True)]
        gone = [b - a for a, b in zip(here, there, strict=True)]
        straight = sum(g * a for g, a in zip(gone, along, strict=True))
        assert away(gone, [straight * a for a in along]) < TRUE, into
