"""Readings of the print test: the printer's scale along each side of the paper, and what it endangers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from nestkit.drawing.print_test import ruler_lengths
from nestkit.errors import LengthError, UserError
from nestkit.estimate.printer import Pattern, Scale, endangered, scale_of
from nestkit.job.model import Job, Paper
from nestkit.job.settings import known_paper
from nestkit.text import columns
from nestkit.units import MM_PER_INCH, Unit, length_text, parse_length

READ_TO: dict[Unit, Fraction] = {"in": MM_PER_INCH / 128, "mm": Fraction(1, 4)}
"""How closely one end of a ruler is read: half of 1/64 in, or 0.25 mm (common practice)."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What readings are called where they are typed, so that a message says where to look."""

    x: str
    y: str
    read_to: str


@dataclass(frozen=True, slots=True)
class Reckoned:
    """Scales along the short and the long side, and the hole of each panel that they endanger most."""

    scales: tuple[Scale, Scale]
    patterns: tuple[Pattern, ...]

    @property
    def sound(self) -> bool:
        """Say whether the printer will do: its image is a rectangle, and every screw still passes."""
        return all(p.holds for p in self.patterns) and not any(s.out_of_square for s in self.scales)


def paper_to_test(job: Job | None, name: str | None) -> tuple[Paper, Unit]:
    """Return the paper to test, and the unit of its rulers: the job's, else the paper's own."""
    if name is not None:
        sheet = known_paper(name)
    else:
        sheet = job.printing.paper if job else known_paper("letter")
    if job is not None:
        return sheet, job.unit
    return sheet, "mm" if float(sheet.short).is_integer() else "in"


def reckoned(
    job: Job | None,
    paper: tuple[Paper, Unit],
    x: Sequence[str],
    y: Sequence[str],
    read_to: str | None,
    asked: Asked,
) -> Reckoned:
    """Return what readings of the rulers along x and y, as typed, say of a printer.

    ``read_to`` is how closely one end was read, None for what is usual. Raises
    :class:`~nestkit.errors.UserError` for what is no reading, and where a page was printed to fit.
    """
    sheet, unit = paper
    closest = _length(asked.read_to, read_to, unit) if read_to is not None else READ_TO[unit]
    across, up = ruler_lengths(sheet, unit)
    scales = (
        scale_of(across, [_length(asked.x, text, unit) for text in x], closest),
        scale_of(up, [_length(asked.y, text, unit) for text in y], closest),
    )
    for option, scale in zip((asked.x, asked.y), scales, strict=True):
        _refuse_fit_to_page(option, scale)
    patterns = endangered(job.panels, scales[0].uncertainty, scales[1].uncertainty) if job else ()
    return Reckoned(scales, patterns)


def _length(option: str, text: str, unit: Unit) -> Fraction:
    try:
        value = parse_length(text, unit)
    except LengthError as fault:
        raise UserError(f"{option}: {fault}") from fault
    if value <= 0:
        raise UserError(f"{option}: {text!r} is no reading; write what the rule shows")
    return value


def _refuse_fit_to_page(option: str, scale: Scale) -> None:
    """Raise where a page was scaled on its way to the printer: such a scale must not be corrected for."""
    if scale.fit_to_page:
        raise UserError(
            f"{option}: {scale.value * 100:.1f} % is no printer's own scale; the page was printed to fit "
            'or misread. Print it again at 100 % ("actual size") and measure again'
        )


def reckoned_lines(found: Reckoned, unit: Unit) -> list[str]:
    """Return the scales as they stand in a job file, how sure they are, and what they leave open."""
    lines = []
    for key, side, scale in zip(("scale_x", "scale_y"), ("short", "long"), found.scales, strict=True):
        sure = f"sure to {scale.uncertainty * 100:.2f} %"
        lines.append(f"{key} = {scale.value:.5f}   along the paper's {side} side, {sure}")
        if scale.out_of_square:
            lines.append(
                f"  The two rulers differ by {scale.spread * 100:.2f} %: this printer's image is no true "
                "rectangle. Use another printer for templates."
            )
    if found.patterns:
        lines += ["", "What that leaves open, at the hole of each panel where it matters most:"]
        rows: list[tuple[str, ...]] = [
            ("panel", "hole", f"from datum [{unit}]", f"spare [{unit}]", f"print [{unit}]", "")
        ]
        for p in found.patterns:
            figures = [length_text(v, unit, denominator=1) for v in (p.distance, p.spare, p.error)]
            verdict = "holds" if p.holds else "TOO FAR OUT: mark it out by rule"
            rows.append((p.panel.name, str(p.hole), *figures, verdict))
        lines += columns(rows, right=frozenset({1, 2, 3, 4}))
        lines.append("spare: how far two like holes may be apart for the screw to pass, hole less screw.")
    return lines
