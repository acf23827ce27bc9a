"""What is known of a fastener's length, and how the trade writes it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from nestkit.units import Unit, length_text

ASK = "ask someone who is competent"


@dataclass(frozen=True, slots=True)
class Trouble:
    """What is wrong with a length: ``error`` where it cannot be put together."""

    error: bool
    text: str
    remedy: str
    rule: str = ""


@dataclass(frozen=True, slots=True)
class Length:
    """The length of a joint's fastener in mm; ``size`` as it is bought, with a rivet's code.

    ``least`` is what the stack asks for and ``length`` what is taken; None where it is not known or none is
    sold. ``showing`` counts threads behind the nut or the tapped part, ``out`` is how far the point stands
    beyond the last part. ``own``: the job gives the length.
    """

    size: str
    least: Fraction | None = None
    length: Fraction | None = None
    showing: Fraction | None = None
    out: Fraction | None = None
    own: bool = False
    notes: tuple[str, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    source: str = ""


def trade_length(mm: Fraction, size: str) -> str:
    """Return a length as the trade writes it beside a size: inches as fractions, else millimetres.

    >>> trade_length(Fraction("38.1"), "10-32"), trade_length(Fraction(40), "M5")
    ('1 1/2', '40')
    """
    return length_text(mm, size_unit(size))


def trade_text(size: str, mm: Fraction | None) -> str:
    """Return size and length as the trade writes them; a unit of the size comes last.

    >>> trade_text("10-32", Fraction("38.1")), trade_text("M5", Fraction(40)), trade_text("4 mm", Fraction(8))
    ('10-32 x 1 1/2', 'M5 x 40', '4 x 8 mm')
    >>> trade_text("1/8 in code 42", None)
    '1/8 in code 42'
    """
    if mm is None:
        return size
    bare, _, unit = size.partition(" ")
    return f"{bare} x {trade_length(mm, size)}{' ' * bool(unit)}{unit}"


def size_unit(size: str) -> Unit:
    """Return the unit that a size is sold in: inches for ``10-32``, ``#8`` and ``1/8 in``, else mm.

    >>> size_unit("1/8 in"), size_unit("10-32"), size_unit("1/4"), size_unit("M5x0.8"), size_unit("4 mm")
    ('in', 'in', 'in', 'mm', 'mm')
    """
    metric = size.startswith("M") or size.endswith("mm")
    return "mm" if metric else "in"


def next_length(lengths: Iterable[Fraction], least: Fraction) -> Fraction | None:
    """Return the shortest of some lengths that is long enough, or None."""
    return min((length for length in lengths if length >= least), default=None)
