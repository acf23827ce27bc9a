"""Lengths and transforms of SVG, after the SVG and CSS recommendations."""

from __future__ import annotations

import math
import re

from nestkit.geometry.points import cos_sin
from nestkit.job.outlines.affine import Affine, moved, scaled, turned
from nestkit.job.outlines.fault import OutlineFault
from nestkit.job.outlines.svg_paths import NUMBER
from nestkit.job.shown import shown

MM_OF: dict[str, float] = {
    "mm": 1.0, "cm": 10.0, "q": 0.25, "in": 25.4, "pt": 25.4 / 72, "pc": 25.4 / 6, "px": 25.4 / 96,
}  # fmt: skip
"""Millimetres of the units of CSS."""

REMEDY = "Save the drawing as plain SVG once more"
_LENGTH = re.compile(rf"\s*({NUMBER})\s*(%|[A-Za-z]*)\s*")
_CALL = re.compile(r"[\s,]*([A-Za-z]+)\s*\(([^()]*)\)")
_NUMBERS = re.compile(NUMBER)


def length_of(text: str) -> tuple[float, str]:
    """Return the number and the unit, in small letters, of a length of SVG."""
    found = _LENGTH.fullmatch(text)
    if found is None or not math.isfinite(float(found[1])):
        raise OutlineFault(f"{shown(text)} is no length of an SVG", REMEDY)
    return float(found[1]), found[2].lower()


def numbers_of(text: str) -> list[float]:
    """Return a list of numbers parted by spaces or commas."""
    if not re.fullmatch(rf"(?:[\s,]*{NUMBER})*[\s,]*", text):
        raise OutlineFault(f"{shown(text)} is no list of numbers", REMEDY)
    return [float(number) for number in _NUMBERS.findall(text)]


def transform_of(text: str) -> Affine:
    """Return what a transform attribute says, its functions from right to left."""
    total, at = Affine(), 0
    text = text.strip()
    if text == "none":
        return total
    while at < len(text):
        found = _CALL.match(text, at)
        if found is None:
            raise OutlineFault(f"the transform {shown(text)} cannot be read", REMEDY)
        total = total.after(_one(found[1], numbers_of(found[2]), text))
        at = found.end()
    return total


def _one(name: str, n: list[float], text: str) -> Affine:
    if name == "matrix" and len(n) == 6:
        return Affine(*n)
    if name == "translate" and len(n) in (1, 2):
        return moved(n[0], n[1] if len(n) == 2 else 0.0)
    if name == "scale" and len(n) in (1, 2):
        return scaled(n[0], n[-1])
    if name == "rotate" and len(n) in (1, 3):
        x, y = (n[1], n[2]) if len(n) == 3 else (0.0, 0.0)
        return moved(x, y).after(turned(*cos_sin(n[0]))).after(moved(-x, -y))
    if name == "skewX" and len(n) == 1:
        return Affine(c=math.tan(math.radians(n[0])))
    if name == "skewY" and len(n) == 1:
        return Affine(b=math.tan(math.radians(n[0])))
    raise OutlineFault(f"the transform {shown(text)} cannot be read", REMEDY)
