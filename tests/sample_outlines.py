"""Draws the outline files of the samples, as a drawing program would leave them.

``python tests/sample_outlines.py`` writes them to sample_parts/outlines. Each has something of its own:

    motor_bracket   one light-weight polyline with bulges; slots; a bore; a text that is no part of it
    pulley_plate    inches; loose lines and arcs, with one gap of 0.01 mm to be joined
    gusset          its holes are a block, inserted twice, once turned
    hatch_ring      inches; circles alone, the bore large enough for a clip and an inspection plate
    rudder_horn     splines and an ellipse
    cable_clip      small, with a channel for the cable; drawn far from the origin
"""

from __future__ import annotations

import io
import math
from collections.abc import Callable, Iterator
from pathlib import Path

import ezdxf
from ezdxf.document import Drawing

from nestkit.geometry.outline import Outline, Vertex
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import mixed_corners, slot

FOLDER = Path(__file__).resolve().parents[1] / "sample_parts" / "outlines"

CUT = {"layer": "CUT"}
DRILL = {"layer": "DRILL"}
GAP = 0.01
"""Millimetres between a line and an arc of the pulley plate that should meet."""


def document(unit: str, version: str) -> Drawing:
    """Return an empty document with its unit and the two layers."""
    made = ezdxf.new(version)
    made.units = {"in": 1, "mm": 4}[unit]
    made.header["$MEASUREMENT"] = 0 if unit == "in" else 1
    made.layers.add("CUT", color=7)
    made.layers.add("DRILL", color=1)
    return made


def corners(*given: tuple[float, float, float]) -> Outline:
    """Return a polygon from x, y and radius of each corner."""
    return mixed_corners([(Point(x, y), radius, 0.0) for x, y, radius in given])


def polyline(made: Drawing, outline: Outline, x: float = 0.0, y: float = 0.0) -> None:
    """Draw an outline as one closed light-weight polyline."""
    points = [(round(v.x + x, 9), round(v.y + y, 9), round(v.bulge, 12)) for v in outline.vertices]
    made.modelspace().add_lwpolyline(points, format="xyb", close=True, dxfattribs=CUT)


def motor_bracket() -> Drawing:
    """Return the foot and face of the motor: mm."""
    made = document("mm", "R2010")
    x, y = 35.0, 20.0
    edge = corners(
        (0, 0, 6), (160, 0, 6), (160, 30, 6), (118, 30, 12), (104, 116, 16), (24, 116, 16), (0, 60, 20)
    )
    polyline(made, edge, x, y)
    space = made.modelspace()
    space.add_circle((x + 64, y + 72), 20, dxfattribs=CUT)
    for quarter in range(4):
        angle = math.radians(45 + 90 * quarter)
        at = (round(x + 64 + 30 * math.cos(angle), 9), round(y + 72 + 30 * math.sin(angle), 9))
        space.add_circle(at, 3.3, dxfattribs=DRILL)
    for at in ((x + 18, y + 15), (x + 84, y + 15)):
        space.add_circle(at, 2.8, dxfattribs=DRILL)
    polyline(made, slot(Point(136, 15), 26, 7), x, y)
    polyline(made, slot(Point(51, 15), 26, 7), x, y)
    space.add_text("MOTOR BRACKET", height=5, dxfattribs={"layer": "WORDS", "insert": (x, y - 12)})
    return made


def pulley_plate() -> Drawing:
    """Return the plate between two pulleys: in, loose lines and arcs, not in order."""
    made = document("in", "R2000")
    large, small, away = 1.5, 0.875, 5.25
    lean = math.acos((large - small) / away)
    first, second = Point(2.0, 2.0), Point(2.0 + away, 2.0)

    def on(centre: Point, radius: float, angle: float) -> tuple[float, float]:
        return round(centre.x + radius * math.cos(angle), 9), round(centre.y + radius * math.sin(angle), 9)

    space = made.modelspace()
    top = on(first, large, lean), on(second, small, lean)
    foot = on(second, small, -lean), on(first, large, -lean)
    space.add_line(*top, dxfattribs=CUT)
    degrees = math.degrees(lean)
    space.add_arc(second, small, -degrees, degrees, dxfattribs=CUT)
    # As trimmed by hand: the line ends a hundredth of a millimetre before its arc.
    (ax, ay), (bx, by) = foot
    short = GAP / 25.4 / math.dist(*foot)
    space.add_line((bx, by), (ax + (bx - ax) * short, ay + (by - ay) * short), dxfattribs=CUT)
    space.add_arc(first, large, degrees, 360 - degrees, dxfattribs=CUT)
    space.add_circle(first, 0.5625, dxfattribs=CUT)
    space.add_circle(second, 0.3125, dxfattribs=CUT)
    for number in range(5):
        space.add_circle(on(first, 1.0, math.radians(90 + 72 * number)), 0.1105, dxfattribs=DRILL)
    return made


def gusset() -> Drawing:
    """Return a corner plate with a hollow edge: mm; its holes are a block."""
    made = document("mm", "R2010")
    edge = Outline(
        (Vertex(0, 0), Vertex(95, 0), Vertex(95, 24, -0.35), Vertex(24, 125), Vertex(0, 125)),
    )
    polyline(made, edge)
    row = made.blocks.new("HOLE_ROW")
    for x in (0, 30, 60):
        row.add_circle((x, 0), 2.8, dxfattribs=DRILL)
    space = made.modelspace()
    space.add_blockref("HOLE_ROW", (20, 12), dxfattribs=DRILL)
    space.add_blockref("HOLE_ROW", (12, 48), dxfattribs={**DRILL, "rotation": 90})
    return made


def hatch_ring() -> Drawing:
    """Return the ring round a hatch: in, circles alone."""
    made = document("in", "R2010")
    space = made.modelspace()
    for radius in (4.75, 3.75):
        space.add_circle((5, 5), radius, dxfattribs=CUT)
    for number in range(12):
        angle = math.radians(30 * number)
        at = (round(5 + 4.25 * math.cos(angle), 9), round(5 + 4.25 * math.sin(angle), 9))
        space.add_circle(at, 0.1005, dxfattribs=DRILL)
    return made


def rudder_horn() -> Drawing:
    """Return the lever on the rudder: mm, R2000, two splines, an ellipse, a line."""
    made = document("mm", "R2000")
    space = made.modelspace()
    space.add_line((0, 0), (84, 0), dxfattribs=CUT)
    right = [(84, 0), (82, 34), (50, 52), (50, 96), (46, 150)]
    left = [(22, 150), (16, 100), (24, 60), (2, 34), (0, 0)]
    for points in (right, left):
        space.add_open_spline(points, degree=3, dxfattribs=CUT)
    space.add_ellipse((34, 150), (0, 18), 12 / 18, -math.pi / 2, math.pi / 2, dxfattribs=CUT)
    for at in ((14, 14), (42, 14), (70, 14)):
        space.add_circle(at, 3.2, dxfattribs=DRILL)
    for y in (92, 112, 132, 152):
        space.add_circle((34, y), 2.5, dxfattribs=DRILL)
    return made


def cable_clip() -> Drawing:
    """Return a clip for a cable: mm, far from the origin, small enough for the bore of the hatch ring."""
    made = document("mm", "R2000")
    x, y = 1200.0, -340.0
    edge = corners(
        (0, 0, 5), (52, 0, 5), (52, 36, 5), (33, 36, 4), (33, 12, 7), (19, 12, 7), (19, 36, 4), (0, 36, 5)
    )
    polyline(made, edge, x, y)
    for at in ((x + 9.5, y + 18), (x + 42.5, y + 18)):
        made.modelspace().add_circle(at, 2.15, dxfattribs=DRILL)
    return made


DRAWN: tuple[Callable[[], Drawing], ...] = (
    motor_bracket,
    pulley_plate,
    gusset,
    hatch_ring,
    rudder_horn,
    cable_clip,
)


def files() -> Iterator[tuple[str, bytes]]:
    """Yield the name and the content of each outline file, without dates and identifiers."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        for draw in DRAWN:
            made, stream = draw(), io.StringIO()
            made.classes.add_required_classes(made.dxfversion)
            made.classes.classes = dict(sorted(made.classes.classes.items()))
            made.write(stream)
            yield f"{draw.__name__}.dxf", made.encode(stream.getvalue())
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def main() -> None:
    """Write all files."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name, data in files():
        (FOLDER / name).write_bytes(data)


if __name__ == "__main__":
    main()
