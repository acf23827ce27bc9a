"""One template as it will be printed, page by page."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from nestkit.drawing.model import Drawing
from nestkit.drawing.template import template_pages
from nestkit.drawing.tube_template import has_template, tube_template_pages
from nestkit.errors import UserError
from nestkit.job.reader import read_data
from nestkit.page.bench import Line
from nestkit.page.objects import Object, json_bytes
from nestkit.parts.panel import Panel
from nestkit.writers.names import file_stem
from nestkit.writers.pdf import pdf_bytes
from nestkit.writers.svg import svg_inline


def work(
    line: Line,
    tree: Object,
    folder: Path,
    name: str,
    printing: Object,
    opposite: bool,
    back: bool,
    pdf: bool,
) -> bytes | tuple[bytes, str]:
    """Return the pages of a part's template as JSON, or with ``pdf`` as PDF with the name of that file.

    Raises :class:`UserError` for a part that has none.
    """
    given = tree.get("printing")
    if printing:
        tree = {**tree, "printing": {**(given if isinstance(given, dict) else {}), **printing}}
    job = read_data(tree, folder)
    part = next((p for p in job.parts if p.name == name.strip()), None)
    if part is None:
        raise UserError(f"no part is called {name[:60]!r}; choose one of the job")
    pages: Sequence[Drawing]
    if isinstance(part, Panel):
        pages = template_pages(job, part, opposite=opposite, back=back)
    elif has_template(part):
        pages = tube_template_pages(job, part, opposite=opposite)
    else:
        raise UserError(f'"{part.name}" has no holes and no mitres; it needs no template')
    if pdf:
        said = " ".join(filter(None, (part.name, "opposite" if opposite else "", "back" if back else "")))
        return pdf_bytes(pages, title=f"{job.name}: template of {said}"), f"{file_stem(said)}.pdf"
    return json_bytes(
        {
            "pages": [
                {
                    "svg": svg_inline(page, prefix=f"page{number}"),
                    "width_mm": page.width,
                    "height_mm": page.height,
                    "title": page.title,
                }
                for number, page in enumerate(pages, 1)
            ]
        }
    )
