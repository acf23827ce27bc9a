"""``nestkit calibrate``: the print test, and the printer's scale from what was read on it."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from nestkit.cli.run import DONE, WITH_ERRORS
from nestkit.cli.show import json_text
from nestkit.drawing.print_readings import Asked, Reckoned, paper_to_test, reckoned, reckoned_lines
from nestkit.drawing.print_test import print_test, ruler_lengths
from nestkit.errors import UserError
from nestkit.job.editing import set_printer_scale
from nestkit.job.model import Paper
from nestkit.job.reader import read_job
from nestkit.units import MM_PER_INCH, Unit, with_unit
from nestkit.writers.pdf import pdf_bytes

_ASKED = Asked("--x", "--y", "--read-to")


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
    sheet, unit = paper_to_test(job, paper)
    if not x and not y:
        if write:
            raise UserError("--write needs readings; give --x and --y, each once or twice")
        return _write_test(sheet, unit, out, as_json=as_json, quiet=quiet)
    if not x or not y:
        raise UserError("readings of both sides are needed; give --x and --y, each once or twice")
    if write and job_file is None:
        raise UserError("--write needs the job file to write into; name it")
    found = reckoned(job, (sheet, unit), x, y, read_to, _ASKED)
    if write and job_file is not None:
        set_printer_scale(job_file, *(f"{s.value:.5f}" for s in found.scales))
    if as_json:
        sys.stdout.write(json_text(_object(found, unit)))
    else:
        sys.stdout.write("\n".join(reckoned_lines(found, unit)) + "\n")
        sys.stdout.write(_next_step(job_file if write else None, quiet=quiet))
    return DONE if found.sound else WITH_ERRORS


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


def _next_step(written: Path | None, *, quiet: bool) -> str:
    if written is not None:
        then = "" if quiet else " Print a template and measure its rulers once more."
        return f"\nWritten into {written}.{then}\n"
    return (
        "" if quiet else "\nPut both lines under [printing] of the job, or give the job file and --write.\n"
    )


def _object(found: Reckoned, unit: Unit) -> dict[str, object]:
    scales, patterns = found.scales, found.patterns
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
