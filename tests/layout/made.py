"""Groups and jobs made for layout tests, and hypothesis strategies over them."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st

from nestkit.geometry.shapes import rectangle
from nestkit.job.model import DxfOptions, Group, Job, Paper, Printing
from nestkit.parts.panel import Panel
from nestkit.stock.sheet import Sheet
from nestkit.stock.ways import Margin, Way

MM = 40_000


def panel(name: str, width: object, height: object, **more: object) -> Panel:
    """Return a rectangular panel of 6 mm plywood."""
    w, h = Fraction(width), Fraction(height)
    shape = {"outline": rectangle(float(w), float(h)), "shape": "rectangle"} | more
    return Panel(name, f'panel "{name}"', "birch plywood", Fraction(6), w, h, **shape)


def sheet(name: str, width: object, height: object, **more: object) -> Sheet:
    """Return a sheet of 6 mm plywood."""
    return Sheet(
        name, f'sheet "{name}"', "birch plywood", Fraction(6), Fraction(width), Fraction(height), **more
    )


def group(
    panels: list[Panel],
    sheets: list[Sheet],
    how: str = "saw",
    kerf: object = 3,
    gap: object | None = None,
    margin: tuple[object, ...] = (0, 0, 0, 0),
    **way: object,
) -> Group:
    """Return a group; the gap is the kerf unless given, the margin left, right, bottom, top."""
    border = Margin(*(Fraction(m) for m in margin))
    the_way = Way("", how, Fraction(kerf), **way)
    return Group(
        "birch plywood",
        Fraction(6),
        the_way,
        Fraction(kerf if gap is None else gap),
        border,
        tuple(panels),
        tuple(sheets),
    )


def job(*groups: Group) -> Job:
    """Return a job of groups."""
    return Job(
        "Solar boat: hatches",
        "mm",
        None,
        tuple(g.way for g in groups),
        Printing(Paper("a4", 210.0, 297.0)),
        DxfOptions(),
        Fraction(1, 2),
        tuple(s for g in groups for s in g.sheets),
        tuple(p for g in groups for p in g.panels),
        groups,
    )


def lengths(low: int, high: int) -> st.SearchStrategy[Fraction]:
    """Lengths in mm, with the fractions that shops use."""
    whole = st.integers(low, high)
    part = st.sampled_from([Fraction(0), Fraction(0), Fraction(1, 2), Fraction(127, 320), Fraction(1, 1000)])
    return st.builds(lambda a, b: Fraction(a) + b, whole, part)


@st.composite
def panels(draw: st.DrawFn, most: int = 12) -> list[Panel]:
    """Panels with at most ``most`` copies in all, of any hand, grain and turn."""
    found = []
    left = draw(st.integers(1, most))
    while left > 0:
        quantity = draw(st.integers(0, min(3, left)))
        opposite = draw(st.integers(0, min(1, left - quantity)))
        spare = draw(st.integers(0, min(1, left - quantity - opposite)))
        room = draw(st.integers(0, 1))
        left -= max(1, quantity + opposite + spare + room)
        found.append(
            panel(
                f"hatch {len(found) + 1}",
                draw(lengths(40, 600)),
                draw(lengths(40, 600)),
                quantity=quantity,
                opposite_hand=opposite,
                spare=spare,
                spare_if_room=room,
                faces=draw(st.sampled_from(["differ", "alike"])),
                grain=draw(st.sampled_from(["none", "x", "y"])),
                turn=draw(st.sampled_from(["none", "half", "quarter", "any"])),
            )
        )
    return found


@st.composite
def sheets(draw: st.DrawFn) -> list[Sheet]:
    """One to three kinds of sheets, on hand and to be bought, with prices for all or for none."""
    priced = draw(st.booleans())
    found = []
    for i in range(draw(st.integers(1, 3))):
        buy = draw(st.booleans()) if i else draw(st.sampled_from([True, True, False]))
        found.append(
            sheet(
                f"sheet {i + 1}",
                draw(lengths(300, 1300)),
                draw(lengths(300, 900)),
                price=draw(st.fractions(1, 90, max_denominator=100)) if priced else None,
                on_hand=draw(st.integers(0, 2)),
                buy=buy,
                grain=draw(st.sampled_from(["none", "none", "x", "y"])),
            )
        )
    return found


@st.composite
def groups(draw: st.DrawFn) -> Group:
    """Any small group: any way of cutting, kerf, gap and margin."""
    how = draw(st.sampled_from(["saw", "saw", "router", "laser"]))
    kerf = draw(st.sampled_from([0, 1, 3, Fraction(127, 40), 6]))
    gap = kerf + draw(st.sampled_from([0, 0, 2, Fraction(25, 4)]))
    margin = tuple(draw(st.sampled_from([0, 0, 5, Fraction(127, 10)])) for _ in range(4))
    return group(
        draw(panels()),
        draw(sheets()),
        how,
        kerf,
        gap,
        margin,
        stages=draw(st.sampled_from([0, 1, 2, 3, 3])),
        first=draw(st.sampled_from(["any", "any", "x", "y"])),
        prefer=draw(st.sampled_from(["offcut", "few cuts"])),
    )
