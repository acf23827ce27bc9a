"""The panels of a job: outline, holes, openings, how many, and how they may lie."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Literal, get_args

from nestkit.geometry.notches import notched
from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import corners_cut, disc, rectangle
from nestkit.job.entry import Entry
from nestkit.job.features import read_marks, read_notches, read_openings, read_radius
from nestkit.job.holes import read_holes
from nestkit.job.methods import read_method
from nestkit.job.outlines.options import WITH_OUTLINE
from nestkit.job.outlines.read import DRAWN, FromFile, read_outline
from nestkit.job.polygon import read_polygon
from nestkit.job.shown import shown
from nestkit.job.values import choice, count, length, pair, text
from nestkit.parts.panel import Grain, Panel, Shape, Turn

OUTLINES = ("size", "points", "disc", "outline")
Faces = Literal["differ", "alike"]


@dataclass(frozen=True, slots=True)
class Shaped:
    """An outline with its exact box and what it was given as; ``file`` where a file gives more than that."""

    shape: Shape
    width: Fraction
    height: Fraction
    outline: Outline
    file: FromFile | None = None


def read_panel(entry: Entry, folder: Path) -> Panel | None:
    """Return a panel; None where anything of it is wrong. Its thickness is as named, not yet matched.

    Outline files are looked for in ``folder``.
    """
    before = len(entry.notes)
    name = text(entry, "name", required=True, slash=False)
    used_for = text(entry, "for")
    material = text(entry, "material", required=True)
    thickness = length(entry, "thickness", required=True)
    shaped = _shaped(entry, folder)
    file = shaped.file if shaped is not None else None
    revision = text(entry, "revision")
    method = read_method(entry)
    quantity = count(entry, "quantity", 1)
    others = [count(entry, key, 0) for key in ("opposite_hand", "spare", "spare_if_room")]
    faces: Faces | None = choice(entry, "faces", get_args(Faces), "differ")
    grain: Grain | None = choice(entry, "grain", get_args(Grain), "none")
    usual: Turn = "quarter" if shaped is None or shaped.shape == "rectangle" else "any"
    turn: Turn | None = choice(entry, "turn", get_args(Turn), usual)
    # Features are read even where the outline is wrong, so that their mistakes show in the same run.
    width, height = (shaped.width, shaped.height) if shaped else (Fraction(1000), Fraction(1000))
    drilled = file.holes if file is not None else ()
    taken = frozenset({DRAWN}) if "outline" in entry else frozenset[str]()
    holes = read_holes(entry, width, height, before=drilled, taken=taken)
    openings, marks = read_openings(entry), read_marks(entry)
    if len(entry.notes) > before or shaped is None or thickness is None or not (name and material):
        return None
    if quantity is None or None in others or not (faces and grain and turn):
        return None
    return Panel(
        name=name,
        place=f"panel {shown(name)}",
        material=material,
        thickness=thickness,
        width=shaped.width,
        height=shaped.height,
        shape=shaped.shape,
        outline=shaped.outline,
        holes=holes,
        openings=(*file.openings, *openings) if file is not None else openings,
        marks=marks,
        used_for=used_for or "",
        quantity=quantity,
        opposite_hand=others[0] or 0,
        spare=others[1] or 0,
        spare_if_room=others[2] or 0,
        faces=faces,
        grain=grain,
        turn=turn,
        revision=revision or "",
        line=entry.line,
        method=method,
        drawn=file.drawn if file is not None else None,
    )


def _shaped(entry: Entry, folder: Path) -> Shaped | None:
    if entry.level == "row of a spreadsheet":
        return _row_outline(entry)
    which = entry.one_of(OUTLINES, "Say what shape it has: size, points or disc, or outline")
    for key in ("corner_radius", "chamfer", "notches"):
        if key in entry and which in ("points", "disc", "outline"):
            entry.wrong(
                key, f"{key} goes with size, not with {which}", f"Leave it out, or draw it in {which}"
            )
    for key in WITH_OUTLINE:
        if key in entry and "outline" not in entry:
            entry.wrong(key, f"{key} goes with outline only", "Leave it out, or name the outline file")
    # Where two shapes stand, or none, each is still read, so that its own mistakes show in the same run.
    read: dict[str, Shaped | None] = {}
    if "outline" in entry:
        read["outline"] = _from_file(entry, folder)
    if "disc" in entry:
        dia = length(entry, "disc")
        read["disc"] = None if dia is None else Shaped("disc", dia, dia, disc(float(dia)))
    if "points" in entry:
        read["points"] = _by_points(entry)
    if "size" in entry or which is None:
        read["size"] = _rectangle(entry, pair(entry, "size"))
    return read.get(which) if which is not None else None


def _from_file(entry: Entry, folder: Path) -> Shaped | None:
    file = read_outline(entry, folder)
    return None if file is None else Shaped("outline", file.width, file.height, file.outline, file)


def _row_outline(entry: Entry) -> Shaped | None:
    if "length" in entry:
        text = "a row with a length is cut from bar or tube, and has a section"
        entry.wrong("length", text, "Give it its section, or empty the cell: a panel has width and height")
    if "disc" in entry:
        for key in ("width", "height", "corner_radius", "chamfer"):
            if key in entry:
                entry.wrong(key, "a row has a disc, or width and height", "Empty one of the cells")
        dia = length(entry, "disc")
        return None if dia is None else Shaped("disc", dia, dia, disc(float(dia)))
    width = length(entry, "width", required=True)
    height = length(entry, "height", required=True)
    return None if width is None or height is None else _rectangle(entry, (width, height))


def _by_points(entry: Entry) -> Shaped | None:
    found = read_polygon(entry, "points")
    if found is None:
        return None
    xs, ys = [x for x, _ in found], [y for _, y in found]
    if min(xs) != 0 or min(ys) != 0:
        entry.wrong(
            "points",
            "the lowest x and the lowest y must be 0",
            "Count the points from the lower left of the box around them",
        )
        return None
    outline = corners_cut([Point(float(x), float(y)) for x, y in found])
    return Shaped("points", max(xs), max(ys), outline)


def _rectangle(entry: Entry, size: tuple[Fraction, Fraction] | None) -> Shaped | None:
    radius = read_radius(entry, size)
    chamfer = read_radius(entry, size, "chamfer")
    notches = read_notches(entry)
    if radius and chamfer:
        entry.wrong("chamfer", "corner_radius and chamfer cannot stand together", "Keep one of them")
        chamfer = Fraction(0)
    if size is None or radius is None or chamfer is None:
        return None
    width, height = float(size[0]), float(size[1])
    try:
        if notches:
            outline = notched(width, height, notches, radius=float(radius), chamfer=float(chamfer))
        else:
            outline = rectangle(width, height, radius=float(radius), chamfer=float(chamfer))
    except ValueError as fault:
        key = "notches" if notches else "corner_radius"
        entry.wrong(key, str(fault), "Change the notch's place or size, or the corner radius")
        return None
    return Shaped("rectangle", size[0], size[1], outline)
