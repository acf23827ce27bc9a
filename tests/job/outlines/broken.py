"""Outline files that no part can be cut by: their bytes, and words of the mistake and of its remedy."""

from __future__ import annotations

from tests.job.outlines.drawings import raw, square, svg

OPEN = "LINE 8 0 10 0 20 0 11 50 21 0", "LINE 8 0 10 50 20 0 11 50 21 40", "LINE 8 0 10 50 20 40 11 0 21 0.3"


def _blocks(*named: tuple[str, str, str]) -> str:
    return "".join(
        "0\n"
        + "\n".join(f"BLOCK 8 0 2 {name} 70 {flags} 10 0 20 0".split())
        + "\n"
        + "".join("0\n" + "\n".join(e.split()) + "\n" for e in inside.split(";") if e)
        + "0\nENDBLK\n"
        for name, flags, inside in named
    )


ITSELF = _blocks(("LOOP", "0", "INSERT 8 0 2 LOOP 10 0 20 0"))
ROUND = _blocks(("A", "0", "INSERT 8 0 2 B 10 0 20 0"), ("B", "0", "INSERT 8 0 2 a 10 0 20 0"))
BOMB = _blocks(
    *((f"B{i}", "0", ";".join([f"INSERT 8 0 2 B{i + 1} 10 0 20 0"] * 10)) for i in range(9)),
    ("B9", "0", "LINE 8 0 10 0 20 0 11 1 21 1"),
)
DEEP = _blocks(*((f"B{i}", "0", f"INSERT 8 0 2 B{i + 1} 10 0 20 0") for i in range(2000)), ("B2000", "0", ""))
XREF = _blocks(("BASE", "4", ""))

DXF: dict[str, tuple[bytes, str, str]] = {
    "empty": (b"", "the file is empty", "save it once more"),
    "blank": (b" \n\n ", "the file is empty", "save it once more"),
    "a picture": (b"\x89PNG\r\n\x1a\n" + bytes(range(256)), "not a DXF", "Save the outline as DXF"),
    "a text": (b"Dear all,\nhere is the drawing.\n", "not a DXF", "Save the outline as DXF"),
    "a DWG": (b"AC1027" + bytes(90), "a DWG", "Save it as DXF"),
    "binary": (b"AutoCAD Binary DXF\r\n\x1a\x00" + bytes(30), "binary DXF", "as text"),
    "cut off": (raw(square())[:-40], "the file ends before its end mark", "once more"),
    "cut in a section": (raw(square())[:120], "ends before its end mark", "once more"),
    "a code that is none": (
        raw(square()).replace(b"\n8\n0\n", b"\nx8\n0\n", 1),
        "where a group code is wanted",
        "once more",
    ),
    "section without end": (
        raw(square()).replace(b"0\nENDSEC\n0\nEOF", b"0\nEOF"),
        "has no end",
        "once more",
    ),
    "no entities": (raw(), "it has no lines", "Draw the outline"),
    "texts only": (raw("TEXT 8 0 10 0 20 0 40 3 1 lid"), "no line of it counts (1 TEXT)", "Draw the outline"),
    "open": (raw(*OPEN), "open: a line ends at x 0, y 0", "same point"),
    "how far open": (raw(*OPEN), "x 0, y 0.3, 0.3 away", "outline_layers"),
    "one line": (raw("LINE 8 0 10 0 20 0 11 50 21 0"), "open: a line ends", "same point"),
    "an open polyline": (raw(square().replace("70 1", "70 0")), "x 0, y 100, 100 away", "same point"),
    "ends too near one another": (
        raw(
            *OPEN[:2],
            "LINE 8 0 10 50 20 40 11 0 21 0.03",
            "LINE 8 0 10 -9 20 -9 11 0.02 21 0.02",
            "LINE 8 0 10 -9 20 -9 11 -20 21 5",
        ),
        "several open ends lie within 0.05",
        "join smaller",
    ),
    "a branch": (
        raw(square(), "LINE 8 0 10 100 20 100 11 150 21 150"),
        "3 lines meet at x 100, y 100",
        "ignore",
    ),
    "two that touch at a corner": (
        raw(square(), square(50, 100, 100)),
        "4 lines meet at x 100, y 100",
        "apart",
    ),
    "two that share a side": (raw(square(), square(100, 100, 0)), "3 lines meet", "apart"),
    "self-crossing": (
        raw("LWPOLYLINE 8 0 90 4 70 1 10 0 20 0 10 80 20 80 10 80 20 0 10 0 20 80"),
        "crosses or touches itself at x 40, y 40",
        "once",
    ),
    "folded back": (
        raw("LWPOLYLINE 8 0 90 5 70 1 10 0 20 0 10 80 20 0 10 120 20 0 10 80 20 0.00001 10 40 20 60"),
        "at x 80, y 0",
        "",
    ),
    "an arc through a side": (
        raw("LWPOLYLINE 8 0 90 4 70 1 10 0 20 0 10 80 20 0 42 -1 10 80 20 20 10 0 20 5"),
        "crosses or touches itself",
        "once",
    ),
    "two that cross": (
        raw(square(), square(60, 70, 20)),
        "two outlines cross or touch at x 100, y 20",
        "apart",
    ),
    "a hole on the edge": (raw(square(), "CIRCLE 8 0 10 100 20 50 40 5"), "cross or touch at x 100", "apart"),
    "a hole that touches": (
        raw(square(), "CIRCLE 8 0 10 95 20 50 40 5"),
        "cross or touch at x 100, y 50",
        "apart",
    ),
    "an island": (
        raw(square(), square(60, 20, 20), square(20, 40, 40)),
        "the loop around x 50, y 50 lies inside an opening",
        "beside the part",
    ),
    "two circles in one another": (
        raw(square(), "CIRCLE 8 0 10 50 20 50 40 5", "CIRCLE 8 0 10 50 20 50 40 9"),
        "lies inside an opening",
        "ignored layer",
    ),
    "two parts": (
        raw(square(), square(50, 150)),
        "2 parts: 1 at x 50, y 50, 2 at x 175, y 25",
        "outline_part = 1",
    ),
    "a line in space": (raw("LINE 8 0 10 0 20 0 30 0 11 50 21 0 31 12"), "lies at z 12", "flat"),
    "a circle above": (raw("CIRCLE 8 0 10 9 20 7 30 2.5 40 5"), "x 9, y 7 lies at z 2.5", "flat"),
    "a polyline above": (raw(square(extra="8 0 38 3")), "lies at z 3", "flat"),
    "a tilted circle": (
        raw("CIRCLE 8 0 10 9 20 7 40 5 210 0 220 0.6 230 0.8"),
        "tilted out of the plane",
        "flat",
    ),
    "a tilted ellipse": (
        raw("ELLIPSE 8 0 10 0 20 0 11 9 21 0 31 0 210 1 220 0 230 0 40 0.5 41 0 42 6.283185307"),
        "tilted out of the plane",
        "flat",
    ),
    "a face": (raw("3DFACE 8 0 10 0 20 0 30 0 11 1 21 0 31 0"), "three-dimensional", "Explode"),
    "a solid": (raw("3DSOLID 8 plate"), 'on layer "plate" is three-dimensional', "ignore"),
    "a mesh": (raw("POLYLINE 8 0 66 1 70 64", "SEQEND 8 0"), "mesh in space", "flat"),
    "an unknown kind": (raw("MLINE 8 0 10 0 20 0"), "no kind of line", "Explode"),
    "a block that holds itself": (
        raw("INSERT 8 0 2 LOOP 10 0 20 0", blocks=ITSELF),
        "holds itself",
        "Explode",
    ),
    "blocks round in a circle": (raw("INSERT 8 0 2 A 10 0 20 0", blocks=ROUND), "holds itself", "Explode"),
    "blocks without end": (
        raw("INSERT 8 0 2 B0 10 0 20 0", blocks=BOMB),
        "more than 100,000 entities",
        "one part",
    ),
    "rows without end": (
        raw("INSERT 8 0 2 B9 70 30000 71 30000 10 0 20 0", blocks=BOMB),
        "more than 100,000 entities",
        "one part",
    ),
    "blocks in blocks in blocks": (raw("INSERT 8 0 2 B0 10 0 20 0", blocks=DEEP), "too deep", "Explode"),
    "a block that is not there": (raw("INSERT 8 0 2 LID 10 0 20 0"), '"LID" is not in the file', "Explode"),
    "a block of another file": (
        raw("INSERT 8 0 2 BASE 10 0 20 0", blocks=XREF),
        "kept in another file",
        "Bind",
    ),
    "a block of scale 0": (raw("INSERT 8 0 2 B9 41 0 10 0 20 0", blocks=BOMB), "scale of 0", "once more"),
    "not a number": (raw("LINE 8 0 10 nan 20 0 11 50 21 0"), '"nan" for a number', "once more"),
    "infinite": (raw("CIRCLE 8 0 10 0 20 0 40 1e999"), '"1e999" for a number', "once more"),
    "words for a number": (raw("CIRCLE 8 0 10 0 20 0 40 five"), '"five" where a number', "once more"),
    "no radius": (raw("CIRCLE 8 0 10 0 20 0"), "no group code 40", "once more"),
    "radius 0": (raw("CIRCLE 8 0 10 0 20 0 40 0"), "radius of 0", "once more"),
    "beyond bounds": (raw("CIRCLE 8 0 10 1e12 20 0 40 5"), "beyond all bounds", "origin"),
    "unit of the sky": (raw(square(), units=19), "$INSUNITS is 19", "outline_unit"),
    "no unit at all": (raw(square()).replace(b"\n70\n4\n", b"\n70\nmm\n", 1), "$INSUNITS is", "once more"),
    "a speck": (raw(square(0.05)), "x 0.025, y 0.025 is only 0.05 wide", "outline_unit"),
    "a hole too small to be one": (
        raw(square(), "CIRCLE 8 0 10 50 20 50 40 0.01"),
        "x 50, y 50 is only 0.02",
        "0.1 mm",
    ),
    "a strip thinner than can be": (
        raw("LWPOLYLINE 8 0 90 3 70 1 10 0 20 0 10 80 20 0 10 80 20 0.09"),
        "80 x 0.09",
        "0.1 mm to 100 m",
    ),
    "lines without length": (raw("LINE 8 0 10 5 20 5 11 5 21 5"), "lines have no length", "lines and arcs"),
    "a field": (raw(square(100001)), "100001 x 100001", "outline_unit"),
    "too many lines": (
        raw("LWPOLYLINE 8 0 90 100100 70 1 " + "10 0 20 1 " * 100_100),
        "more than 100,000 entities",
        "one part",
    ),
    "a spline of points": (
        raw("SPLINE 8 0 70 8 71 3 11 0 21 0 11 5 21 5"),
        "points to pass",
        "control points",
    ),
    "a spline without knots": (
        raw("SPLINE 8 0 71 3 10 0 20 0 10 5 20 5 10 9 20 0 10 5 20 1"),
        "knots",
        "once more",
    ),
    "an ellipse without axis": (raw("ELLIPSE 8 0 10 0 20 0 11 0 21 0 40 1"), "axis of length 0", "once more"),
}

SVG: dict[str, tuple[bytes, str, str]] = {
    "empty": (b"", "the file is empty", "save it once more"),
    "not XML": (b"hello", "not an SVG", "plain SVG"),
    "another XML": (b"<html><body/></html>", 'it holds "html"', "plain SVG"),
    "not closed": (b"<svg><rect width='5' height='5'>", "not an SVG", "plain SVG"),
    "entities": (b'<!DOCTYPE svg [<!ENTITY a "b">]><svg>&a;</svg>', "entities of its own", "plain SVG"),
    "nothing": (svg("<title>lid</title>"), "it has no lines", "Draw the outline"),
    "text only": (svg("<text>lid</text>"), "no line of it counts (1 text)", "Draw the outline"),
    "open": (svg('<path d="M0 0H50V30"/>'), "open: a line ends at x 0, y 0", "same point"),
    "where it is open": (svg('<path d="M5 7H50V30"/>'), "x 50, y 30, 50.537115 away", "same point"),
    "self-crossing": (svg('<polygon points="0,0 40,40 40,0 0,40"/>'), "itself at x 20, y 20", "once"),
    "a path of nonsense": (svg('<path d="M0 0 L five"/>'), "cannot be read near", "plain SVG"),
    "a path that stops": (svg('<path d="M0 0 L 5 5 7"/>'), "cannot be read near", "plain SVG"),
    "a path without a move": (svg('<path d="L5 5"/>'), "does not begin with a move", "plain SVG"),
    "a wrong flag": (svg('<path d="M0 0 A 5 5 0 2 0 9 9"/>'), "cannot be read near", "plain SVG"),
    "a wrong transform": (svg('<rect width="9" height="9" transform="turn(3)"/>'), "transform", "plain SVG"),
    "placed by style": (
        svg('<rect width="9" height="9" style="transform: scale(2)"/>'),
        "by its style",
        "attribute",
    ),
    "a shape in per cent": (svg('<rect width="50%" height="9"/>'), "with a unit of its own", "plain SVG"),
    "half a point": (svg('<polygon points="0,0 5,5 9"/>'), "an x without its y", "plain SVG"),
    "an empty view": (svg("<rect width='5' height='5'/>", 'viewBox="0 0 0 9"'), "is empty", "plain SVG"),
    "a view of another shape": (
        svg("<rect width='5' height='5'/>", 'width="100mm" height="100mm" viewBox="0 0 10 20"'),
        "do not fit its viewBox",
        "outline_unit",
    ),
    "a strange size": (
        svg("<rect width='5' height='5'/>", 'width="10em" viewBox="0 0 9 9"'),
        "no length",
        "plain",
    ),
    "use of nothing": (svg('<use href="#lid"/>'), '"lid", which is not in the file', "plain SVG"),
    "use of itself": (svg('<g id="a"><use href="#a"/></g>'), '"a" holds itself', "plain SVG"),
    "a symbol with a view": (
        svg('<symbol id="a" viewBox="0 0 9 9"/><use href="#a"/>'),
        "a view of its own",
        "paths",
    ),
    "an svg in an svg": (svg("<svg><rect width='5' height='5'/></svg>"), "<svg> is no shape", "paths"),
    "infinite": (svg('<circle r="1e999"/>'), "no length", "plain SVG"),
    "infinite in a path": (svg('<path d="M0 0H1e999V5z"/>'), "beyond all bounds", "origin"),
}
