"""Small jobs built by hand, so that a check is tested without the reader."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import rectangle
from nestkit.job.model import DxfOptions, Group, Job, Paper, Printing
from nestkit.parts.holes import Drill, Hole, Opening
from nestkit.parts.panel import Panel
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Margin, Way


def hole(number: int, x: float, y: float, dia: float = 5.0, *, name: str = "5 mm", **drill: object) -> Hole:
    """A hole made by a drill; ``drill`` takes screw, tap, fastener_dia."""
    return Hole(number, Point(x, y), Drill(dia, name, "test", **drill), "g")


def panel(
    name: str = "lid",
    material: str = "polycarbonate",
    width: float = 200,
    height: float = 100,
    thickness: str = "3",
    outline: Outline | None = None,
    openings: Iterable[Outline] = (),
    **more: object,
) -> Panel:
    """A panel with a plain outline; openings are given by their outlines."""
    place = f'panel "{name}"'
    made = tuple(Opening("cutout", o, f"{place}, cutouts {i + 1}") for i, o in enumerate(openings))
    return Panel(
        name=name,
        place=place,
        material=material,
        thickness=Fraction(thickness),
        width=Fraction(str(width)),
        height=Fraction(str(height)),
        shape="rectangle",
        outline=outline or rectangle(width, height),
        openings=made,
        **more,
    )


def sheet(name: str = "stock", material: str = "polycarbonate", **more: object) -> Sheet:
    """A sheet of 600 x 1200 x 3 mm."""
    usual = {"thickness": Fraction(3), "width": Fraction(600), "height": Fraction(1200)}
    return Sheet(name, f'sheet "{name}"', material, **{**usual, **more})


def job(
    *panels: Panel,
    how: str = "saw",
    kerf: str = "3.175",
    sheets: tuple[Sheet, ...] | None = None,
    margin: str = "0",
    unit: str = "mm",
) -> Job:
    """A job with one group of all its panels, cut one way from a sheet that holds them."""
    way = Way("", how, Fraction(kerf))
    first = panels[0]
    if sheets is None:
        sheets = (sheet(material=first.material, thickness=first.thickness),)
    m = Fraction(margin)
    used = tuple(s for s in sheets if s.material == first.material and s.thickness == first.thickness)
    group = Group(first.material, first.thickness, way, way.kerf, Margin(m, m, m, m), panels, used)
    printing = Printing(Paper("A4", 210, 297))
    return Job("test", unit, None, (way,), printing, DxfOptions(), Fraction(1, 2), sheets, panels, (group,))


class Build:
    """The builders in one place, for tests that take the fixture."""

    hole: Callable[..., Hole] = staticmethod(hole)
    panel: Callable[..., Panel] = staticmethod(panel)
    sheet: Callable[..., Sheet] = staticmethod(sheet)
    job: Callable[..., Job] = staticmethod(job)
    replace = staticmethod(replace)


@pytest.fixture
def build() -> type[Build]:
    """The builders of holes, panels, sheets and jobs."""
    return Build
