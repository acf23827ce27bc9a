"""Jobs whose parts are drilled through one another, as a user would write them."""

from __future__ import annotations

from pathlib import Path

from nestkit.job.model import Job
from nestkit.job.reader import read_text

HEAD = """
job = "float"
unit = "{unit}"
date = 2026-03-02
[cutting]
how = "{how}"
kerf = "3 mm"
{tables}
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
{cut}
"""
ROW = '[["20 mm", "50 mm"], ["100 mm", "50 mm"], ["180 mm", "50 mm"]]'


def panel(name: str, at: str = ROW, made: str = 'screw = "M5"', *, of: str = "clear", more: str = "") -> str:
    """Return a panel of 200 x 100 mm with one group of holes, ``g``; ``of`` is its stock."""
    material, thickness = {
        "clear": ("polycarbonate", 3), "ply": ("plywood birch", 6), "metal": ("aluminium 6061", 3)
    }[of]  # fmt: skip
    return f"""
[[panel]]
name = "{name}"
material = "{material}"
thickness = "{thickness} mm"
size = ["200 mm", "100 mm"]
{more}
  [[panel.holes]]
  name = "g"
  {made}
  at = {at}
"""


def own(at: str = '[["30 mm", "20 mm"]]', made: str = 'drill = "4 mm"') -> str:
    """Return a further group of a panel's holes that no joint has."""
    return f"""
  [[panel.holes]]
  name = "own"
  {made}
  at = {at}
"""


def tube(
    name: str, at: str = '["20 mm", "100 mm", "180 mm"]', made: str = 'screw = "M5"', *, more: str = ""
) -> str:
    """Return a tube of 200 mm with one group of holes through faces A and C, ``g``."""
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
  through = true
  {made}
  at = {at}
"""


def own_on_b(at: str = '["60 mm"]') -> str:
    """Return a further group of a tube's holes, on face B."""
    return f"""
  [[tube.holes]]
  name = "own"
  face = "B"
  drill = "4 mm"
  at = {at}
"""


def joint(*parts: str, name: str = "j", screw: str = 'screw = "M5"', more: str = 'made = "together"') -> str:
    """Return a joint through group ``g`` of some parts."""
    quoted = ", ".join(f'"{part}"' if "/" in part else f'"{part} / g"' for part in parts)
    return f"""
[[joint]]
name = "{name}"
{screw}
through = [{quoted}]
{more}
"""


def job(*texts: str, unit: str = "mm", how: str = "saw", tables: str = "") -> Job:
    """Return the job that a head and some tables make; tubes are sawn whatever ``how`` panels are cut."""
    saw = '[cutting.hacksaw]\nhow = "saw"\nkerf = "1 mm"'
    cut = 'cut = "hacksaw"'
    return read_text(
        HEAD.format(unit=unit, how=how, tables=f"{saw}\n{tables}", cut=cut) + "".join(texts), Path()
    )
