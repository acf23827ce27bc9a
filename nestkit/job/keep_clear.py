"""Regions of a sheet on which nothing may lie: a scratch, a knot, a clamp."""

from __future__ import annotations

from fractions import Fraction

from nestkit.job.entry import Entry
from nestkit.job.values import MOST_PIECES, Pair, count, length, pair, text
from nestkit.stock.keep_clear import KeepClear
from nestkit.text import counted
from nestkit.units import with_unit

LONGEST_WHY = 40
"""Characters of the word that says why."""
MOST_REGIONS = 200
"""Regions of one kind of sheet at most."""

_ON_ROLL = "Cut off what is bad, and leave it out here"


def read_keep_clear(
    sheet: Entry, *, roll: bool, size: Pair | None, most: int | None
) -> tuple[KeepClear, ...]:
    """Return the regions of a sheet that have no mistake.

    ``size`` of the sheet is None where it is wrong; ``most`` is the number of the last sheet that there can
    be, None where more can be bought.
    """
    found = []
    entries = list(sheet.children("keep_clear", "keep clear"))
    if len(entries) > MOST_REGIONS:
        told = f"{len(entries)} regions are more than one kind of sheet may have"
        sheet.wrong("keep_clear", told, f"Write at most {MOST_REGIONS}; one may take in several")
        return ()
    for entry in entries:
        region = _region(entry)
        if roll:
            entry.fault("a roll has no sheets on which a region could lie", _ON_ROLL)
        elif region is not None and size is not None and _on_it(entry, region, size):
            found.append(region)
        if region is not None:
            check_number(entry, region.on, most)
    return tuple(found)


def check_number(entry: Entry, number: int | None, most: int | None) -> None:
    """Note the number of a sheet that is neither here nor can be bought."""
    if most is not None and number is not None and number > most:
        here = f"only {counted(most, 'sheet')} of this stock {'is' if most == 1 else 'are'} on hand"
        entry.wrong("on", f"there is no sheet {number}: {here}, and none can be bought", _least(most))


def _least(most: int) -> str:
    return f"Write a number from 1 to {most}" if most else "Give the sheet its on_hand, or take this out"


def _region(entry: Entry) -> KeepClear | None:
    which = entry.one_of(("size", "disc"), "Say how large it is: size = [2, 1], or disc = its diameter")
    at = pair(entry, "at", "place", required=True)
    # Where both stand, both are still read, so that their own mistakes show in the same run.
    size, dia = pair(entry, "size"), length(entry, "disc")
    on = count(entry, "on", 0, least=1, most=MOST_PIECES)
    why = text(entry, "why", longest=LONGEST_WHY)
    if at is None or on is None or why is None or which is None:
        return None
    if which == "size" and size is not None:
        return KeepClear(at[0], at[1], at[0] + size[0], at[1] + size[1], on=on or None, why=why)
    if which == "disc" and dia is not None:
        r = dia / 2
        return KeepClear(at[0] - r, at[1] - r, at[0] + r, at[1] + r, True, on or None, why)
    return None


def _on_it(entry: Entry, region: KeepClear, size: Pair) -> bool:
    """Say whether a region lies on its sheet, in part at least; note one that does not."""
    across = Fraction(0) < region.right and region.left < size[0]
    if across and Fraction(0) < region.top and region.bottom < size[1]:
        return True
    unit = entry.notes.unit
    whole = f"{with_unit(size[0], unit)} by {with_unit(size[1], unit)}"
    entry.wrong(
        "at",
        f"the region lies beside the sheet, which is {whole}",
        "Count x and y from the sheet's lower left; at is a box's lower left, or a disc's centre",
    )
    return False
