"""Panels to make templates of, and a reader of the printed pages that did not write them (pdfium)."""

from __future__ import annotations

import ctypes
import datetime
import math
from dataclasses import dataclass
from fractions import Fraction

import pypdfium2
import pypdfium2.raw as pdfium

from nestkit.geometry.points import Point, Rect
from nestkit.geometry.shapes import corners_cut, disc, rectangle, slot
from nestkit.job.model import DxfOptions, Group, Job, Paper, Printing
from nestkit.parts.holes import Drill, Hole, Mark, Opening
from nestkit.parts.panel import Panel
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Margin, Way

MM_PER_POINT = 25.4 / 72
BORDER = 6.35 - 0.36
"""The margin of every page, less half of the heaviest line."""

# Sizes from the tables that the standards give: ISO 216, ASME Y14.1.
PAPERS = {
    "letter": Paper("letter", 215.9, 279.4),
    "A4": Paper("A4", 210.0, 297.0),
    "A3": Paper("A3", 297.0, 420.0),
    "tabloid": Paper("tabloid", 279.4, 431.8),
    "roll 24 in": Paper("roll 24 in", 609.6, None),
}

NO_2 = Drill(5.6134, "#2", "ASME B18.2.8, normal fit; seen: a handbook", screw="10-32", fit="normal")
NO_7 = Drill(5.1054, "#7", "drill table; seen: two open tables")
M5 = Drill(5.5, "5.5 mm", "ISO 273, medium fit; seen: a web table", screw="M5", fit="medium")
QUARTER = Drill(6.35, "1/4", "drill table; definition")


def numbered_holes(*groups: tuple[str, Drill, list[tuple[float, float]]]) -> tuple[Hole, ...]:
    """Holes of groups, numbered through: name, drill and places in mm of each group."""
    holes: list[Hole] = []
    for name, drill, places in groups:
        for place in places:
            holes.append(Hole(len(holes) + 1, Point(*place), drill, name))
    return tuple(holes)


def _inch(*places: tuple[float, float]) -> list[tuple[float, float]]:
    return [(x * 25.4, y * 25.4) for x, y in places]


def panel(width: float, height: float, *, name: str = "part", **more: object) -> Panel:
    """A rectangle of polycarbonate in mm, or what ``more`` makes of it."""
    made: dict[str, object] = {
        "place": f'panel "{name}"',
        "material": "polycarbonate",
        "thickness": Fraction("2.9972"),
        "shape": "rectangle",
        "outline": rectangle(width, height),
    }
    return Panel(name=name, width=Fraction(width), height=Fraction(height), **(made | more))


def lid() -> Panel:
    """A 14 1/2 x 9 3/4 in lid with twelve holes, a slot, a cut-out and a mark."""
    return panel(
        368.3,
        247.65,
        name="console lid",
        holes=numbered_holes(
            ("hinge", NO_2, _inch((0.5, 0.5), (5, 0.5), (9.5, 0.5), (14, 0.5))),
            ("vent", NO_7, _inch((4, 4), (4.75, 4), (5.5, 4), (4, 4.75), (4.75, 4.75), (5.5, 4.75))),
            ("latch", QUARTER, _inch((1, 9.25), (13.5, 9.25))),
        ),
        openings=(
            Opening("slot", slot(Point(250, 120), 40, 8, 30), "slots[0]"),
            Opening("cutout", rectangle(60, 40, radius=5, at=Point(280, 60)), "cutouts[0]"),
        ),
        marks=(Mark(Point(150, 200), "BATTERY", 8),),
        used_for="console",
        quantity=2,
        opposite_hand=1,
        spare=1,
        revision="A",
    )


def bracket() -> Panel:
    """A 5 x 7 in plate with round corners and a row that is not symmetric."""
    return panel(
        127.0,
        177.8,
        name="motor bracket",
        material="aluminium 5052",
        thickness=Fraction("3.175"),
        outline=rectangle(127.0, 177.8, radius=6.35),
        holes=numbered_holes(
            ("corner", NO_2, _inch((0.5, 0.5), (4.5, 0.5), (4.5, 6.5), (0.5, 6.5))),
            ("row", NO_7, _inch((1, 3.5), (2, 3.5), (3, 4))),
        ),
        quantity=4,
        opposite_hand=2,
        revision="B",
    )


def deck() -> Panel:
    """A 24 x 36 in panel with holes round its edge, a grid, and a round opening."""
    edge = [(x, 1 + i * 34 / 6) for i in range(7) for x in (1, 23)]
    grid = [(4 + (i % 5) * 4, 6 + (i // 5) * 8) for i in range(20)]
    return panel(
        609.6,
        914.4,
        name="deck panel port",
        material="plywood",
        thickness=Fraction(6),
        holes=numbered_holes(("edge", NO_2, _inch(*edge)), ("grid", NO_7, _inch(*grid))),
        openings=(Opening("cutout", disc(200, centre=Point(305, 460)), "cutouts[0]"),),
        revision="C",
    )


def hatch() -> Panel:
    """A disc of 150 mm with eight holes on a circle."""
    rim = [(75 + 60 * math.cos(i * math.pi / 4), 75 + 60 * math.sin(i * math.pi / 4)) for i in range(8)]
    return panel(
        150,
        150,
        name="hatch cover",
        thickness=Fraction(3),
        shape="disc",
        outline=disc(150),
        holes=numbered_holes(("rim", M5, rim)),
        quantity=3,
    )


def gusset() -> Panel:
    """An L of 120 x 90 mm, which no mirror leaves as it is."""
    corners = [Point(0, 0), Point(120, 0), Point(120, 30), Point(40, 30), Point(40, 90), Point(0, 90)]
    return panel(
        120,
        90,
        name="gusset",
        shape="points",
        outline=corners_cut(corners),
        holes=numbered_holes(("ends", M5, [(20, 75), (105, 15)])),
        opposite_hand=1,
    )


def dense() -> Panel:
    """A plate with 120 holes so close that most find no room for a label."""
    places = [(20 + (i % 12) * 9.0, 20 + (i // 12) * 9.0) for i in range(120)]
    return panel(
        140, 130, name="vent plate", holes=numbered_holes(("vent", Drill(3.0, "3 mm", "drills"), places))
    )


def job(
    part: Panel,
    *,
    unit: str = "in",
    paper: str = "letter",
    scale_x: float = 1.0,
    scale_y: float = 1.0,
    how: str = "saw",
    all_pages: bool = False,
) -> Job:
    """A job of one panel."""
    way = Way("", how, Fraction(3))
    sheet = Sheet(
        "PC 1/8 2x4",
        "sheet",
        part.material,
        part.thickness,
        Fraction("609.6"),
        Fraction("1219.2"),
        Fraction("3.175"),
    )
    group = Group(part.material, part.thickness, way, Fraction(3), Margin(), (part,), (sheet,))
    return Job(
        name="Solar boat: console and hatches",
        unit=unit,
        date=datetime.date(2026, 3, 1),
        ways=(way,),
        printing=Printing(PAPERS[paper], scale_x, scale_y, all_pages),
        dxf=DxfOptions(),
        marking_to=Fraction("0.79375"),
        sheets=(sheet,),
        panels=(part,),
        groups=(group,),
    )


@dataclass(frozen=True)
class PrintedPath:
    """A path of a printed page in mm: the points on it, whether any edge is curved, whether closed.

    ``clip`` is the box outside which nothing of it is printed, ``stroke`` how wide the line is in mm;
    ``far`` are the points between the ends of its curves where these turn back in x or in y.
    """

    points: tuple[Point, ...]
    curved: bool
    closed: bool
    clip: Rect | None = None
    stroke: float = 0.0
    far: tuple[Point, ...] = ()

    @property
    def box(self) -> Rect:
        points = self.points + self.far
        xs, ys = [p.x for p in points], [p.y for p in points]
        return Rect(min(xs), min(ys), max(xs), max(ys))

    @property
    def whole(self) -> bool:
        """Say whether all of it is printed, nothing cut off by its clip."""
        box, clip = self.box, self.clip
        return clip is None or (
            clip.left <= box.left and clip.bottom <= box.bottom
            and box.right <= clip.right and box.top <= clip.top
        )  # fmt: skip

    @property
    def circle(self) -> tuple[Point, float, float] | None:
        """Centre and the two half axes, where all points lie on one ellipse: points at equal angles."""
        if not (self.closed and self.curved and len(self.points) >= 4):
            return None
        around = self.points[:-1] if self.points[0].to(self.points[-1]) < 1e-6 else self.points
        centre = Point(sum(p.x for p in around) / len(around), sum(p.y for p in around) / len(around))
        return centre, self.box.width / 2, self.box.height / 2


@dataclass(frozen=True)
class PrintedPage:
    """What pdfium reads from one page, in mm, y up."""

    width: float
    height: float
    paths: tuple[PrintedPath, ...]
    texts: tuple[tuple[str, Point], ...]

    def circles(self, dia_x: float, dia_y: float) -> list[Point]:
        """The centres of circles printed whole with these two diameters, to 0.01 mm."""
        found = [path.circle for path in self.paths if path.circle and path.whole]
        return [
            centre
            for centre, across, up in found
            if abs(2 * across - dia_x) < 0.01 and abs(2 * up - dia_y) < 0.01
        ]

    def diamonds(self) -> list[Point]:
        """The centres of registration crosses printed whole: small closed paths of four straight edges."""
        return [
            p.box.centre
            for p in self.paths
            if p.whole and p.closed and not p.curved and len(set(p.points)) == 4 and 3.9 < p.box.width < 4.1
            # A box of a map may be as wide, but has its corners where a diamond has none.
            if 3.9 < p.box.height < 4.1
            and min(abs(p.points[0].x - p.box.centre.x), abs(p.points[0].y - p.box.centre.y)) < 0.1
        ]

    def longest(self, axis: str) -> float:
        """The length of the longest single straight line along an axis that is a path of two points."""
        lines = [p.box for p in self.paths if len(p.points) == 2 and not p.curved and not p.closed]
        along = [
            b.width if axis == "x" else b.height
            for b in lines
            if (b.height if axis == "x" else b.width) < 1e-6
        ]
        return max(along)

    @property
    def words(self) -> str:
        return "\n".join(text for text, _ in self.texts)


def read(data: bytes) -> list[PrintedPage]:
    """Return every page of a PDF as pdfium reads it."""
    document = pypdfium2.PdfDocument(data)
    pages = []
    for page in document:
        text_page = page.get_textpage()
        paths, texts = [], []
        for thing in page.get_objects(max_depth=4):
            if thing.type == pdfium.FPDF_PAGEOBJ_PATH:
                paths.append(_path(thing))
            elif thing.type == pdfium.FPDF_PAGEOBJ_TEXT:
                a = thing.get_matrix()
                texts.append((_text(thing, text_page), Point(a.e * MM_PER_POINT, a.f * MM_PER_POINT)))
        size = [side * MM_PER_POINT for side in page.get_size()]
        pages.append(PrintedPage(size[0], size[1], tuple(paths), tuple(texts)))
        text_page.close()
        page.close()
    document.close()
    return pages


def _path(thing: pypdfium2.PdfObject) -> PrintedPath:
    matrix = thing.get_matrix()
    points: list[Point] = []
    curves: list[Point] = []
    far: list[Point] = []
    curved = closed = False
    for i in range(pdfium.FPDFPath_CountSegments(thing)):
        segment = pdfium.FPDFPath_GetPathSegment(thing, i)
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        at = Point(*(v * MM_PER_POINT for v in matrix.on_point(x.value, y.value)))
        closed = closed or bool(pdfium.FPDFPathSegment_GetClose(segment))
        if pdfium.FPDFPathSegment_GetType(segment) == pdfium.FPDF_SEGMENT_BEZIERTO:
            # Every third point of a curve lies on it; the two before it are handles.
            curved = True
            curves.append(at)
            if len(curves) == 3:
                far += _turning(points[-1], *curves)
                points.append(at)
                curves.clear()
        else:
            points.append(at)
    stroke = ctypes.c_float()
    pdfium.FPDFPageObj_GetStrokeWidth(thing, stroke)
    return PrintedPath(tuple(points), curved, closed, _clip(thing), stroke.value * MM_PER_POINT, tuple(far))


def _turning(*ends: Point) -> list[Point]:
    """The points inside a cubic Bezier curve where x or y neither rises nor falls."""
    found = []
    for p0, p1, p2, p3 in zip(*ends, strict=True):
        # The derivative, a quadratic in t: a t^2 + b t + c.
        a, b, c = p3 - 3 * p2 + 3 * p1 - p0, 2 * (p2 - 2 * p1 + p0), p1 - p0
        square = b * b - 4 * a * c
        if square < 0:
            continue
        # The form that loses no digits where a is almost 0.
        q = -(b + math.copysign(math.sqrt(square), b)) / 2
        times = [top / foot for top, foot in ((q, a), (c, q)) if foot]
        found += [_on_curve(t, *ends) for t in times if 0 < t < 1]
    return found


def _on_curve(t: float, p0: Point, p1: Point, p2: Point, p3: Point) -> Point:
    shares = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    x, y = (
        sum(s * v for s, v in zip(shares, along, strict=True)) for along in zip(p0, p1, p2, p3, strict=True)
    )
    return Point(x, y)


def _clip(thing: pypdfium2.PdfObject) -> Rect | None:
    """The box of a clip path, which pdfium gives in the page's frame; all clips of ours are boxes."""
    clip = pdfium.FPDFPageObj_GetClipPath(thing)
    boxes = []
    for i in range(max(0, pdfium.FPDFClipPath_CountPaths(clip))):
        xs, ys = [], []
        for j in range(pdfium.FPDFClipPath_CountPathSegments(clip, i)):
            x, y = ctypes.c_float(), ctypes.c_float()
            pdfium.FPDFPathSegment_GetPoint(pdfium.FPDFClipPath_GetPathSegment(clip, i, j), x, y)
            xs.append(x.value * MM_PER_POINT)
            ys.append(y.value * MM_PER_POINT)
        boxes.append(Rect(min(xs), min(ys), max(xs), max(ys)))
    if not boxes:
        return None
    lefts, bottoms, rights, tops = zip(*boxes, strict=True)
    return Rect(max(lefts), max(bottoms), min(rights), min(tops))


def _text(thing: pypdfium2.PdfObject, text_page: pypdfium2.PdfTextPage) -> str:
    size = pdfium.FPDFTextObj_GetText(thing, text_page, None, 0)
    buffer = (ctypes.c_ushort * (size // 2))()
    pdfium.FPDFTextObj_GetText(thing, text_page, buffer, size)
    return bytes(buffer).decode("utf-16-le").rstrip("\0")
