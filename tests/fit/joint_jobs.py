"""Small jobs with joints, written as a user would."""

from __future__ import annotations

from pathlib import Path

from nestkit.job.model import Job
from nestkit.job.reader import read_text

STOCK = """
[[sheet]]
name = "ply"
material = "plywood birch"
thickness = "6 mm"
size = ["1220 mm", "1220 mm"]
[[sheet]]
name = "clear"
material = "polycarbonate"
thickness = "3 mm"
size = ["1220 mm", "1220 mm"]
[[sheet]]
name = "metal"
material = "aluminium 6061"
thickness = "3 mm"
size = ["1220 mm", "1220 mm"]
[[bar]]
name = "tube"
material = "aluminium 6061"
section = "25 mm x 25 mm x 2 mm"
length = "2400 mm"
"""
"""Plywood, polycarbonate and aluminium sheet; the bar comes last."""

HEAD = (
    """
job = "float"
unit = "{unit}"
[cutting]
how = "saw"
kerf = "3 mm"
"""
    + STOCK
)


def panel(
    name: str, at: str, made: str = 'screw = "M5"', *, material: str = "polycarbonate", more: str = ""
) -> str:
    """Return a panel of 200 x 100 mm with one group of holes, ``g``."""
    thickness = {"plywood birch": "6 mm"}.get(material, "3 mm")
    return f"""
[[panel]]
name = "{name}"
material = "{material}"
thickness = "{thickness}"
size = ["200 mm", "100 mm"]
{more}
  [[panel.holes]]
  name = "g"
  {made}
  at = {at}
"""


def tube(name: str, at: str, made: str = 'screw = "M5"', *, through: bool = True, more: str = "") -> str:
    """Return a tube of 200 mm with one group of holes on face A, ``g``."""
    return f"""
[[tube]]
name = "{name}"
material = "aluminium 6061"
section = "25 mm x 25 mm x 2 mm"
length = "200 mm"
{more}
  [[tube.holes]]
  name = "g"
  face = "A"
  through = {str(through).lower()}
  {made}
  at = {at}
"""


def joint(*parts: str, name: str = "j", screw: str = 'screw = "M5"', more: str = "") -> str:
    """Return a joint through group ``g`` of some parts, or another group that is named."""
    through = ", ".join(f'"{part}"' if "/" in part else f'"{part} / g"' for part in parts)
    return f"""
[[joint]]
name = "{name}"
{screw}
through = [{through}]
{more}
"""


def job(*texts: str, unit: str = "mm") -> Job:
    """Return the job that a head and some tables make."""
    return read_text(HEAD.format(unit=unit) + "".join(texts), Path("."))
