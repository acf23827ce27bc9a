"""``nestkit calibrate``: the print test, and the printer's scale from what was read on it."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

from nestkit.cli.run import DONE, WITH_ERRORS
from nestkit.cli.show import json_text
from nestkit.drawing.print_test import print_test, ruler_lengths
from nestkit.errors import LengthError, UserError
from nestkit.estimate.printer import Pattern, Scale, endangered, scale_of
from nestkit.job.editing import set_printer_scale
from nestkit.job.model import Job, Paper
from nestkit.job.reader import read_job
from nestkit.job.settings import known_paper
from nestkit.text import columns
from nestkit.units import MM_PER_INCH, Unit, length_text, parse_length, with_unit
from nestkit.writers.pdf import pdf_bytes

READ_TO: dict[Unit, Fraction] = {"in": MM_PER_INCH / 128, "mm": Fraction(1, 4)}
"""How closely one end of a ruler is read: half of 1/64 in, or 0.25 mm (common practice)."""


def act(
    job_file: Path | None,
    *,
    paper: str | None,
    x: Sequence[str],
    y: Sequence[str],
    read_to: str | None,
    write: bool,
    out: Path | None,
    as_json: bool,
    quiet: bool,
) -> int:
    """Write the print test, or turn readings of it into the printer's scale."""
    job = read_job(job_file) if job_file is not None else None
    sheet, unit = _paper(job, paper)
    if not x and not y:
        if write:
            raise UserError("--write needs readings; give --x and --y, each once or twice")
        return _write_test(sheet, unit, out, as_json=as_json, quiet=quiet)
    if not x or not y:
        raise UserError("readings of both sides are needed; give --x and --y, each once or twice")
    if write and job_file is None:
        raise UserError("--write needs the job file to write into; name it")
    closest = _length("--read-to", read_to, unit) if read_to is not None else READ_TO[unit]
    scales = [
        scale_of(nominal, [_length(option, text, unit) for text in texts], closest)
        for option, nominal, texts in zip(("--x", "--y"), ruler_lengths(sheet, unit), (x, y), strict=True)
    ]
    _refuse_fit_to_page(scales)
    if write and job_file is not None:
        set_printer_scale(job_file, *(f"{s.value:.5f}" for s in scales))
    patterns = endangered(job.panels, scales[0].uncertainty, scales[1].uncertainty) if job else ()
    sound = all(p.holds for p in patterns) and not any(s.out_of_square for s in scales)
    if as_json:
        sys.stdout.write(json_text(_object(scales, patterns, unit)))
    else:
        sys.stdout.write(_text(scales, patterns, unit))
        sys.stdout.write(_next_step(job_file if write else None, quiet=quiet))
    return DONE if sound else WITH_ERRORS


def _paper(job: Job | None, name: str | None) -> tuple[Paper, Unit]:
    """Return the paper to test, and the unit of its rulers: the job's, else the paper's own."""
    if name is not None:
        sheet = known_paper(name)
    else:
        sheet = job.printing.paper if job else known_paper("letter")
    if job is not None:
        return sheet, job.unit
    return sheet, "mm" if float(sheet.short).is_integer() else "in"


def _write_test(paper: Paper, unit: Unit, out: Path | None, *, as_json: bool, quiet: bool) -> int:
    from nestkit.writers.names import file_stem

    target = out if out is not None else Path(f"print-test-{file_stem(paper.name)}.pdf")
    content = pdf_bytes([print_test(paper, unit)], title=f"print test, {paper.name}")
    try:
        if target.exists() and target.read_bytes() != content:
            raise UserError(f"{target} exists and is left as it is; choose another name with --out")
        target.write_bytes(content)
    except OSError as fault:
        raise UserError(f"{target}: cannot be written ({fault.strerror}); choose another --out") from fault
    across, up = (with_unit(length, unit) for length in ruler_lengths(paper, unit))
    if as_json:
        sys.stdout.write(json_text({"file": target.as_posix(), "x": across, "y": up}))
        return DONE
    hint = " When measured:\n  nestkit calibrate --x READING --x READING --y READING --y READING"
    sys.stdout.write(
        f"Rulers x1 and x2 are {across}, y1 and y2 are {up}.{'' if quiet else hint}\n"
        f"Written: {target}. Print it at 100 %, do not fit to page.\n"
    )
    return DONE


def _length(option: str, text: str, unit: Unit) -> Fraction:
    try:
        value = parse_length(text, unit)
    except LengthError as fault:
        raise UserError(f"{option}: {fault}") from fault
    if value <= 0:
        raise UserError(f"{option}: {text!r} is no reading; write what the rule shows")
    return value


def _refuse_fit_to_page(scales: Sequence[Scale]) -> None:
    """Raise where a page was scaled on its way to the printer: such a scale must not be corrected for."""
    for option, scale in zip(("--x", "--y"), scales, strict=True):
        if scale.fit_to_page:
            raise UserError(
                f"{option}: {scale.value * 100:.1f} % is no printer's own scale; the page was printed to fit "
                'or misread. Print it again at 100 % ("actual size") and measure again'
            )


def _text(scales: Sequence[Scale], patterns: Sequence[Pattern], unit: Unit) -> str:
    lines = []
    for key, side, scale in zip(("scale_x", "scale_y"), ("short", "long"), scales, strict=True):
        sure = f"sure to {scale.uncertainty * 100:.2f} %"
        lines.append(f"{key} = {scale.value:.5f}   along the paper's {side} side, {sure}")
        if scale.out_of_square:
            lines.append(
                f"  The two rulers differ by {scale.spread * 100:.2f} %: this printer's image is no true "
                "rectangle. Use another printer for templates."
            )
    if patterns:
        lines += ["", "What that leaves open, at the hole of each panel where it matters most:"]
        rows: list[tuple[str, ...]] = [
            ("panel", "hole", f"from datum [{unit}]", f"spare [{unit}]", f"print [{unit}]", "")
        ]
        for p in patterns:
            figures = [length_text(v, unit, denominator=1) for v in (p.distance, p.spare, p.error)]
            verdict = "holds" if p.holds else "TOO FAR OUT: mark it out by rule"
            rows.append((p.panel.name, str(p.hole), *figures, verdict))
        lines += columns(rows, right=frozenset({1, 2, 3, 4}))
        lines.append("spare: how far two like holes may be apart for the screw to pass, hole less screw.")
    return "\n".join(lines) + "\n"


def _next_step(written: Path | None, *, quiet: bool) -> str:
    if written is not None:
        then = "" if quiet else " Print a template and measure its rulers once more."
        return f"\nWritten into {written}.{then}\n"
    return (
        "" if quiet else "\nPut both lines under [printing] of the job, or give the job file and --write.\n"
    )


def _object(scales: Sequence[Scale], patterns: Sequence[Pattern], unit: Unit) -> dict[str, object]:
    factor = float(MM_PER_INCH) if unit == "in" else 1.0
    return {
        "scale_x": round(scales[0].value, 5),
        "scale_y": round(scales[1].value, 5),
        "uncertainty_x": round(scales[0].uncertainty, 6),
        "uncertainty_y": round(scales[1].uncertainty, 6),
        "out_of_square": any(s.out_of_square for s in scales),
        "panels": [
            {
                "part": p.panel.name,
                "hole": p.hole,
                "distance": round(p.distance / factor, 4),
                "spare": round(p.spare / factor, 4),
                "error": round(p.error / factor, 4),
                "holds": p.holds,
            }
            for p in patterns
        ],
    }
