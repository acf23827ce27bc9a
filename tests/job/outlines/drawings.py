"""Outline files for the tests, made as text or by a library that did not read them; jobs around them."""

from __future__ import annotations

import io
import math
from pathlib import Path

import ezdxf

from nestkit.job.reader import read_text
from nestkit.parts.panel import Panel

TOP = """\
job = "Solar boat"
unit = "{unit}"
[cutting]
how = "{how}"
kerf = "1/8 in"
[[sheet]]
name = "alu 1/8"
material = "aluminium 6061"
thickness = "1/8 in"
size = ["48 in", "96 in"]
price = 90
"""
PANEL = """\
[[panel]]
name = "{name}"
material = "aluminium 6061"
thickness = "1/8 in"
outline = "{file}"
"""


def dxf(draw, *, units=4, version="R2010") -> bytes:
    """Return a DXF file; ``draw`` gets its model space."""
    document = ezdxf.new(version)
    if version != "R12":
        document.header["$INSUNITS"] = units
    draw(document.modelspace())
    stream = io.StringIO()
    document.write(stream)
    return document.encode(stream.getvalue())


def raw(*entities: str, units: int | None = 4, blocks: str = "", tables: str = "") -> bytes:
    """Return a DXF file from its entities as written, each "KIND code value code value ..."."""
    head = "" if units is None else f"0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n{units}\n0\nENDSEC\n"
    rows = "".join(f"0\n{lines(e)}" for e in entities)
    sections = "".join(
        f"0\nSECTION\n2\n{name}\n{text}0\nENDSEC\n"
        for name, text in (("TABLES", tables), ("BLOCKS", blocks))
        if text
    )
    return f"{head}{sections}0\nSECTION\n2\nENTITIES\n{rows}0\nENDSEC\n0\nEOF\n".encode()


def lines(entity: str) -> str:
    """Return an entity's words as lines."""
    return "\n".join(entity.split()) + "\n"


def square(side: float = 100.0, x: float = 0.0, y: float = 0.0, extra: str = "8 0") -> str:
    """Return a closed light-weight polyline."""
    corners = [(x, y), (x + side, y), (x + side, y + side), (x, y + side)]
    return f"LWPOLYLINE {extra} 90 4 70 1 " + " ".join(f"10 {px} 20 {py}" for px, py in corners)


def svg(body: str, head: str = 'width="100mm" height="80mm" viewBox="0 0 100 80"') -> bytes:
    """Return an SVG file."""
    return f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{body}</svg>'.encode()


def job_text(
    file: str = "part.dxf", more: str = "", *, unit: str = "mm", how: str = "router", name: str = "part"
):
    """Return a job with one panel from an outline file."""
    return TOP.format(unit=unit, how=how) + PANEL.format(file=file, name=name) + more


def panel_of(folder: Path, data: bytes, more: str = "", *, file: str = "part.dxf", unit: str = "mm") -> Panel:
    """Return the panel that a file gives."""
    (folder / file).write_bytes(data)
    return read_text(job_text(file, more, unit=unit), folder).panels[0]


def rounded(x: float, y: float, w: float, h: float, r: float):
    """Return the vertices of a rounded rectangle with the bulges of its corners."""
    q = math.tan(math.pi / 8)
    return [
        (x + r, y, 0), (x + w - r, y, q), (x + w, y + r, 0), (x + w, y + h - r, q),
        (x + w - r, y + h, 0), (x + r, y + h, q), (x, y + h - r, 0), (x, y + r, q),
    ]  # fmt: skip
