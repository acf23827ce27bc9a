"""What a job buys ready made: brackets, hinges, motors, with the holes that screws of a joint meet."""

from __future__ import annotations

from nestkit.job.entry import Entry
from nestkit.job.holes import read_bought_holes
from nestkit.job.methods import read_method
from nestkit.job.shown import shown
from nestkit.job.stock import DEAREST
from nestkit.job.values import count, length, number, text
from nestkit.parts.bought import Bought


def read_bought(entry: Entry) -> Bought | None:
    """Return a bought part; None where anything of it is wrong."""
    before = len(entry.notes)
    name = text(entry, "name", required=True, slash=False)
    used_for, material = text(entry, "for"), text(entry, "material")
    thickness = length(entry, "thickness")
    quantity = count(entry, "quantity", 1)
    remedy = "Write what one of them costs as a plain number, without a currency"
    price = number(entry, "price", 0, least=0, most=DEAREST, remedy=remedy)
    method = read_method(entry)
    holes = read_bought_holes(entry)
    if len(entry.notes) > before or not name:
        return None
    return Bought(
        name=name,
        place=f"bought {shown(name)}",
        quantity=quantity or 0,
        price=price if "price" in entry else None,
        used_for=used_for or "",
        material=material or "",
        thickness=thickness,
        holes=holes,
        method=method,
        line=entry.line,
    )
