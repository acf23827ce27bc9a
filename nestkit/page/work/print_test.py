"""The print test for a paper."""

from __future__ import annotations

from pathlib import Path

from nestkit.drawing.print_readings import paper_to_test
from nestkit.drawing.print_test import print_test
from nestkit.page.bench import Line
from nestkit.page.objects import Object
from nestkit.page.work.calibrate import job_or_none
from nestkit.writers.names import file_stem
from nestkit.writers.pdf import pdf_bytes


def work(line: Line, tree: Object, folder: Path, paper: str) -> tuple[bytes, str]:
    """Return the print test as PDF, and its name."""
    chosen, unit = paper_to_test(job_or_none(tree, folder), paper or None)
    content = pdf_bytes([print_test(chosen, unit)], title=f"print test, {chosen.name}")
    return content, f"print-test-{file_stem(chosen.name)}.pdf"
