"""Jobs whose parts are drilled through one another, as a user would write them."""

from __future__ import annotations

from pathlib import Path

from nestkit.job.model import Job
from nestkit.job.reader import read_text
from tests.fit import joint_jobs
from tests.fit.joint_jobs import STOCK

HEAD = (
    """
job = "float"
unit = "{unit}"
date = 2026-03-02
[cutting]
how = "{how}"
kerf = "3 mm"
{tables}
"""
    + STOCK
    + "{cut}\n"
)
ROW = '[["20 mm", "50 mm"], ["100 mm", "50 mm"], ["180 mm", "50 mm"]]'


def panel(name: str, at: str = ROW, made: str = 'screw = "M5"', *, of: str = "clear", more: str = "") -> str:
    """Return a panel of 200 x 100 mm with one group of holes, ``g``; ``of`` is its stock."""
    material = {"clear": "polycarbonate", "ply": "plywood birch", "metal": "aluminium 6061"}[of]
    return joint_jobs.panel(name, at, made, material=material, more=more)


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
    return joint_jobs.tube(name, at, made, more=more)


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
    """Return a joint through group ``g`` of some parts, or another group that is named."""
    return joint_jobs.joint(*parts, name=name, screw=screw, more=more)


def job(*texts: str, unit: str = "mm", how: str = "saw", tables: str = "") -> Job:
    """Return the job that a head and some tables make; tubes are sawn whatever ``how`` panels are cut."""
    saw = '[cutting.hacksaw]\nhow = "saw"\nkerf = "1 mm"'
    cut = 'cut = "hacksaw"'
    return read_text(
        HEAD.format(unit=unit, how=how, tables=f"{saw}\n{tables}", cut=cut) + "".join(texts), Path()
    )
