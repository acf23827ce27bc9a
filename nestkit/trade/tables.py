"""The trade tables: reading them, listing them, and putting their sources into words."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from fractions import Fraction

from nestkit.errors import ToolFault


@dataclass(frozen=True, slots=True)
class Table:
    """A table as ``nestkit tables`` shows it: its columns in order and what a reader must know."""

    name: str
    title: str
    columns: tuple[str, ...]
    note: str


def _table(name: str, title: str, columns: str, note: str) -> Table:
    return Table(name, title, tuple(columns.split()), note)


_PROOF = " basis source confidence"
_LISTED = (
    _table(
        "drills",
        "Drills: number, letter, fraction, metric",
        "series name diameter_in diameter_mm" + _PROOF,
        "Inches are the definition for number, letter and fraction drills, millimetres for metric ones. "
        "The standard, ASME B94.11M, was not seen.",
    ),
    _table(
        "clearance_holes",
        "Clearance holes for screws",
        "system standard screw fit drill hole_in hole_mm hole_max_in hole_max_mm basis basis_of_max source"
        " confidence note",
        "A job's fits are close, normal, loose (ASME B18.2.8) and fine, medium, coarse (ISO 273). The rows "
        "handbook_close and handbook_free are an older, tighter chart and only for reading.",
    ),
    _table(
        "tap_drills",
        "Tap drills",
        "system series thread tap_drill tap_drill_in tap_drill_mm percent_thread" + _PROOF + " note",
        "Percent of thread = (major - drill) / (1.299 x pitch) x 100.",
    ),
    _table(
        "nuts",
        "Nuts: height and width across flats",
        "system kind standard screw height_max across_flats unit" + _PROOF + " note",
        "The greatest height: with it a screw is never too short. Lock nuts are those with a nylon insert.",
    ),
    _table(
        "washers",
        "Washers",
        "system kind standard screw thickness thickness_max outside_dia hole unit" + _PROOF + " note",
        "Screw lengths are reckoned with the nominal thickness of flat washers; the standards allow the "
        "greatest one beside it.",
    ),
    _table(
        "heads",
        "Screw heads",
        "system head standard screw dia_max height_max unit" + _PROOF + " note",
        "The height of a flat head is counted in the screw's length, that of a pan head is not.",
    ),
    _table(
        "screw_lengths",
        "Lengths that screws are sold in",
        "system standard screw lengths unit" + _PROOF + " note",
        "The longest is the longest usual one. Ask before you plan with the last ones of a row.",
    ),
    _table(
        "rivets",
        "Blind rivets",
        "system standard dia code length grip_least grip_most drill hole_least hole_most unit"
        + _PROOF
        + " note",
        "Grip is the thickness of all that is riveted together. The code of an inch rivet is its diameter in "
        "32nds and its longest grip in 16ths.",
    ),
    _table(
        "rivet_nuts",
        "Rivet nuts",
        "system thread hole grip_least grip_most body unit" + _PROOF + " note",
        "The body is measured over all before the nut is set. No standard makes them alike: measure yours.",
    ),
    _table(
        "wood_screws",
        "Wood screws",
        "system size major pilot_soft pilot_hard lengths unit" + _PROOF + " note",
        "Drill a pilot in an offcut first: woods differ.",
    ),
    _table(
        "gauges",
        "Sheet gauges",
        "gauge aluminium_bs_awg_in aluminium_bs_awg_mm steel_msg_in steel_msg_mm galvanised_in stainless_in"
        + _PROOF,
        "Aluminium and other non-ferrous: .005 in x 92^((36 - n) / 39). A gauge number means another "
        "thickness in each metal.",
    ),
    _table(
        "materials",
        "Density and growth with heat",
        "material description density_kg_m3 density_min density_max growth_1e-6_per_C" + _PROOF + " note",
        "For weights. Wood varies with species and moisture: weigh a piece.",
    ),
    _table(
        "papers",
        "Papers and rolls",
        "name alias standard short_mm long_mm short_in long_in" + _PROOF + " note",
        "A job names a paper by name or alias, or a roll by its width: roll 24 in.",
    ),
    _table(
        "stock_sheets",
        "Sheets as the trade sells them",
        "material nominal actual_in actual_mm sheet width_in length_in width_mm length_mm weight_kg"
        + _PROOF
        + " note",
        "What a caliper usually reads beside the trade name. Suppliers differ: measure the sheet.",
    ),
    _table(
        "stock_tubes",
        "Square and rectangular tubes",
        "material size width_in height_in wall_in width_mm height_mm wall_mm section_in2 kg_per_m lb_per_ft"
        " usual_lengths_ft basis basis_of_lengths source confidence note",
        "Sections and weights with sharp corners, by width x height - inside width x inside height. "
        "Suppliers differ in their lengths: ask.",
    ),
    _table(
        "rules",
        "Rules of thumb",
        "id topic material process quantity least typical most unit" + _PROOF + " note",
        "The quantity says whether a distance is from the hole's EDGE or its CENTRE.",
    ),
    _table(
        "cautions",
        "Cautions",
        "topic order text" + _PROOF,
        "Ordinary rules of school and machine shops in our own words; drill-press rule sheets of schools and "
        "universities were read for them.",
    ),
    _table(
        "decisions",
        "Where sources contradict each other, and what was decided",
        "number question decided why" + _PROOF,
        "Each is decided once, here.",
    ),
    _table(
        "sources",
        "Sources",
        "code kind short title",
        "The codes in the other tables' source columns.",
    ),
)
TABLES: dict[str, Table] = {table.name: table for table in _LISTED}
"""Every table by name, in the order in which they are listed."""


@functools.cache
def read(name: str) -> tuple[dict[str, str], ...]:
    """Return the rows of a table as text, by column; empty where the table has nothing.

    Raises :class:`~nestkit.errors.ToolFault` for a table that is not in :data:`TABLES`.
    """
    if name not in TABLES:
        raise ToolFault(f"there is no trade table {name!r}; there are {', '.join(TABLES)}")
    # pkgutil reads package data wherever the package lies, and starts ten times quicker than
    # importlib.resources, whose helpers for temporary files are not needed here.
    import csv
    import pkgutil

    data = pkgutil.get_data("nestkit.trade", f"{name}.csv")
    if data is None:
        raise ToolFault(f"the trade table {name}.csv is missing from the installed package")
    return tuple(csv.DictReader(data.decode("utf-8").splitlines()))


@functools.cache
def source_text(codes: str) -> str:
    """Return the sources behind codes such as ``C1;C4`` in words, each once; empty for no code.

    >>> source_text("C7")
    "Machinery's Handbook 31st ed. p. 2173"
    """
    by_code = _sources()
    words: dict[str, None] = {}
    for code in filter(None, codes.split(";")):
        if code not in by_code:
            raise ToolFault(f"the trade tables name a source {code!r} that sources.csv does not have")
        words[by_code[code]] = None
    return "; ".join(words)


@functools.cache
def _sources() -> dict[str, str]:
    return {row["code"]: row["short"] for row in read("sources")}


def basis_text(basis: str, codes: str) -> str:
    """Return where a value comes from: ``seen: ...``, or its basis and ``no source``.

    >>> basis_text("common practice", "")
    'common practice, no source'
    """
    if codes:
        return f"{basis}: {source_text(codes)}"
    return basis if basis in {"definition", "computed"} else f"{basis}, no source"


def number(text: str) -> Fraction | None:
    """Return a table's number exactly as printed, or None for an empty cell."""
    return Fraction(text) if text else None
