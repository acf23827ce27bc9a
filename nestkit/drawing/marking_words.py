"""How a place is marked on a material, with a rule and through a template, in a line for the bench."""

from __future__ import annotations

from nestkit.trade.materials import family

_SOFT = ("polycarbonate", "hdpe", "pvc")
_WOOD = ("plywood", "mdf")
_METAL = ("aluminium", "steel")


def how_to_mark(material: str) -> str:
    """Return how a place is marked on a material: what marks it, and what must not (R098 to R101)."""
    kind = family(material)
    if kind == "acrylic":
        return "Mark on the film with a fine pen. No blow: press an awl, or start with a small drill."
    if kind in _SOFT:
        return "Mark on the film with a fine pen, then prick lightly through it. No scriber in the sheet."
    if kind in _WOOD:
        return "Mark with a sharp pencil, then press an awl on the cross."
    if kind in _METAL:
        return "Scribe fine lines, then centre punch on a solid support."
    return "Mark a fine cross, then prick it lightly; ask before you strike a material that may crack."


def how_to_punch(material: str) -> str:
    """Return how the crosses of a template are carried over to a material (R098 to R101).

    >>> how_to_punch("birch plywood")
    'Press an awl through each cross.'
    """
    kind = family(material)
    if kind == "acrylic":
        return "No blow: it cracks. Press an awl through each cross, paper and film."
    if kind in _SOFT:
        return "Prick lightly through each cross, paper and film. No hard blow."
    if kind in _WOOD:
        return "Press an awl through each cross."
    if kind in _METAL:
        return "Centre punch each cross, on a solid support."
    return "Prick lightly through each cross; ask before you strike a material that may crack."
