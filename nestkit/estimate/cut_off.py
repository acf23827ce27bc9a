"""How a piece is cut off a roll before it is sawn: how long, measured from where, by whom."""

from __future__ import annotations

from nestkit.estimate.saw_steps import as_set
from nestkit.estimate.saw_words import StepWords
from nestkit.stock.sheet import Sheet
from nestkit.units import Unit, run_text


def cut_off_words(piece: Sheet, unit: Unit) -> StepWords:
    """Return what a plan says of the cut that is made before all others."""
    size, out = as_set(piece.height, unit)
    how = (
        "Lay it flat, its end down; if the end is not square, square it first. Mark the length at both edges "
        "and saw above the line, along a straight edge. Somebody holds the roll."
    )
    shop = (
        f"If the seller cuts it: ask for {run_text(piece.height, unit)} or a little more, trim it to length."
    )
    return StepWords(
        "First: cut the piece off the roll.",
        f"Length {size}",
        f"{how} That is {out}." if out else how,
        (shop,),
    )
