"""Materials: one way of writing their names, their family, their density."""

from __future__ import annotations

import functools
import re
from dataclasses import dataclass
from fractions import Fraction

from nestkit.trade.tables import basis_text, number, read

PLASTICS = frozenset({"polycarbonate", "acrylic", "hdpe", "pvc"})
WOODS = frozenset({"plywood", "mdf"})
METALS = frozenset({"aluminium", "steel"})

_WORD = re.compile(r"[^\W_]+")

# Words that name a family, the telling ones first: "pvc foam board on plywood" must count as PVC
# where a laser is concerned.
_FAMILY_WORDS: tuple[tuple[str, str], ...] = (
    ("pvc", "pvc"),
    ("vinyl", "pvc"),
    ("polyvinyl chloride", "pvc"),
    ("polycarbonate", "polycarbonate"),
    ("pc", "polycarbonate"),
    ("acrylic", "acrylic"),
    ("pmma", "acrylic"),
    ("hdpe", "hdpe"),
    ("polyethylene", "hdpe"),
    ("g10", "g10_fr4"),
    ("g 10", "g10_fr4"),
    ("fr4", "g10_fr4"),
    ("fr 4", "g10_fr4"),
    ("glass epoxy", "g10_fr4"),
    ("plywood", "plywood"),
    ("ply", "plywood"),
    ("baltic birch", "plywood"),
    ("mdf", "mdf"),
    ("aluminium", "aluminium"),
    ("steel", "steel"),
)
# Which row of the table a family is weighed by: the first whose word the name has, else the last.
_DENSITY_ROWS: dict[str, tuple[tuple[str, str], ...]] = {
    "aluminium": (("5052", "aluminium_5052"), ("6061", "aluminium_6061"), ("6063", "aluminium_6063"),
                  ("", "aluminium")),
    "plywood": (("softwood", "plywood_softwood"), ("pine", "plywood_softwood"), ("fir", "plywood_softwood"),
                ("spruce", "plywood_softwood"), ("", "plywood_birch")),
    "steel": (("stainless", "steel_stainless"), ("", "steel_mild")),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """A material's density in kg/m3 and growth in millionths a degree C, with where they come from.

    ``note`` says what was assumed where the name left something open.
    """

    material: str
    description: str
    density: Fraction
    least: Fraction
    most: Fraction
    growth: Fraction | None
    source: str
    confidence: str
    note: str


def plain_name(text: str) -> str:
    """Return a material's name in one way of writing: case, space, hyphen and underscore alike.

    >>> plain_name(" Aluminum_6061 "), plain_name("Glass-Epoxy  G10")
    ('aluminium 6061', 'glass epoxy g10')
    """
    words = re.split(r"[\s_-]+", text.strip().casefold())
    return " ".join("aluminium" if word == "aluminum" else word for word in words if word)


@functools.lru_cache(maxsize=1024)
def family(material: str) -> str:
    """Return the family that rules go by, or an empty text for a material that none is known for.

    One of polycarbonate, acrylic, hdpe, pvc, plywood, mdf, aluminium, steel, g10_fr4.

    >>> family("PC"), family("birch plywood"), family("FR-4"), family("cardboard")
    ('polycarbonate', 'plywood', 'g10_fr4', '')
    """
    name = _words(material)
    return next((found for word, found in _FAMILY_WORDS if f" {word} " in name), "")


def _words(material: str) -> str:
    """Return a name's words with a space around each: punctuation parts words too ("PVC (foam)")."""
    return f" {' '.join(_WORD.findall(plain_name(material)))} "


def is_plastic(material: str) -> bool:
    """Say whether a material is one of the sheet plastics that the rules know."""
    return family(material) in PLASTICS


def is_wood(material: str) -> bool:
    """Say whether a material is plywood or MDF."""
    return family(material) in WOODS


def is_metal(material: str) -> bool:
    """Say whether a material is aluminium or steel."""
    return family(material) in METALS


@functools.cache
def _rows() -> dict[str, MaterialRow]:
    rows = {}
    for row in read("materials"):
        rows[row["material"]] = MaterialRow(
            material=row["material"],
            description=row["description"],
            density=Fraction(row["density_kg_m3"]),
            least=Fraction(row["density_min"]),
            most=Fraction(row["density_max"]),
            growth=number(row["growth_1e-6_per_C"]),
            source=basis_text(row["basis"], row["source"]),
            confidence=row["confidence"],
            note=row["note"],
        )
    return rows


def density(material: str) -> MaterialRow | None:
    """Return what a material weighs, or None when the tables do not know it.

    An aluminium without a known alloy is weighed at 2700 kg/m3; plywood without its wood as birch,
    the heavier one, so that a wrong weight is wrong on the safe side; steel as mild steel.
    """
    name = family(material)
    words = _words(material)
    for word, row in _DENSITY_ROWS.get(name, (("", name),)):
        if not word or f" {word} " in words:
            return _rows().get(row)
    return None
