"""Jobs with labels, and a reader of label sheets that holds every text against its label."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path

from nestkit.drawing.labels import label_pages
from nestkit.drawing.model import Drawing, Text
from nestkit.drawing.model import Path as Line
from nestkit.geometry.points import Rect
from nestkit.job.model import Job
from nestkit.job.reader import read_job, read_text
from nestkit.layout.lay_out import lay_out
from nestkit.layout.result import JobLayout, PlacedPart

SAMPLES = Path(__file__).resolve().parent.parent.parent / "sample_parts"

MANY = """
job = "many"
unit = "mm"
[cutting]
how = "router"
kerf = 3
gap = 3
margin = 0
[[sheet]]
name = "MDF"
material = "MDF"
thickness = 6
size = [1000, 1000]
[[panel]]
name = "tile"
material = "MDF"
thickness = 6
size = [90, 90]
quantity = {count}
"""

GRIDS = {
    "plain": "",
    "3 x 10": """
[labels]
paper = "letter"
columns = 3
rows = 10
size = ["2 5/8 in", "1 in"]
pitch = ["2 3/4 in", "1 in"]
""",
    "2 x 4": '[labels]\ncolumns = 2\nrows = 4\nsize = ["99 mm", "67 mm"]\n',
    "small": '[labels]\ncolumns = 7\nrows = 25\nsize = ["25 mm", "10 mm"]\npitch = ["26 mm", "10.5 mm"]\n',
    "to the edge": '[labels]\npaper = "A4"\ncolumns = 3\nrows = 10\nsize = ["70 mm", "29.7 mm"]\n',
    "lying": '[labels]\npaper = ["210 mm", "148 mm"]\ncolumns = 3\nrows = 4\nsize = ["66 mm", "35 mm"]\n',
}


@cache
def samples() -> dict[str, tuple[Job, JobLayout]]:
    """Both samples, read and laid out."""
    jobs = {name: read_job(SAMPLES / f"{name}.toml") for name in ("solar_boat", "rescue_float")}
    return {name: (job, lay_out(job)) for name, job in jobs.items()}


def with_labels(job: Job, table: str, *, scale: tuple[float, float] = (1.0, 1.0)) -> Job:
    """Return a job with the [labels] table of a text, on the job's paper."""
    printing = f"[printing]\nscale_x = {scale[0]}\nscale_y = {scale[1]}\n"
    read = read_text(f"{MANY.format(count=1)}{printing}{table}", Path())
    paper = replace(job.printing, scale_x=scale[0], scale_y=scale[1])
    return replace(job, labels=read.labels, printing=paper)


def sheet_size(job: Job) -> tuple[float, float]:
    """Width and height of the sheet of labels."""
    paper = job.labels.paper or job.printing.paper
    assert paper.long is not None
    return (paper.long, paper.short) if job.labels.lying else (paper.short, paper.long)


def boxes(job: Job, page: Drawing) -> list[Rect]:
    """The labels of a page, row by row, as they lie on the paper once printed."""
    grid = job.labels.grid
    if grid is None:
        xs = sorted({m.bounds.left for m in page.marks if isinstance(m, Line) and m.bounds.width == 0})
        ys = sorted({m.bounds.top for m in page.marks if isinstance(m, Line) and m.bounds.height == 0})
        return [
            Rect(xs[i], ys[j], xs[i + 1], ys[j + 1])
            for j in range(len(ys) - 2, -1, -1)
            for i in range(len(xs) - 1)
        ]
    top = sheet_size(job)[1] - grid.top
    found = []
    for row in range(grid.rows):
        for column in range(grid.columns):
            left, upper = grid.left + column * grid.pitch_x, top - row * grid.pitch_y
            found.append(Rect(left, upper - grid.height, left + grid.width, upper))
    return found


def printed(job: Job, page: Drawing, box: Rect) -> Rect:
    """Where a box of a page comes out: the printer scales it from the upper left corner of the paper."""
    if job.labels.grid is None:
        return box
    x, y = job.printing.scale_x, job.printing.scale_y
    x, y = (y, x) if job.labels.lying else (x, y)
    height = page.height
    return Rect(
        box.left * x, height - (height - box.bottom) * y, box.right * x, height - (height - box.top) * y
    )


def by_label(job: Job, page: Drawing) -> list[list[Text]]:
    """The texts of a page by label, each wholly within 1.5 mm of its label's edge and 4 mm of the paper's."""
    width, height = sheet_size(job)
    whole = Rect(0, 0, width, height)
    places = boxes(job, page)
    found: list[list[Text]] = [[] for _ in places]
    for mark in page.marks:
        if not isinstance(mark, Text):
            continue
        box = printed(job, page, mark.bounds)
        homes = [
            i
            for i, place in enumerate(places)
            if within(box, place.grown(-1.5)) and within(box, whole.grown(-4))
        ]
        assert len(homes) == 1, (mark.text, box)
        assert within(mark.bounds, whole.grown(-4))
        found[homes[0]].append(mark)
    for texts in found:
        for i, text in enumerate(texts):
            assert not any(text.bounds.grown(-1e-6).meets(other.bounds) for other in texts[:i])
    return found


def within(box: Rect, room: Rect) -> bool:
    """Say whether a box lies in a room, to a tenth of a micrometre."""
    return (
        box.left >= room.left - 1e-4
        and box.bottom >= room.bottom - 1e-4
        and box.right <= room.right + 1e-4
        and box.top <= room.top + 1e-4
    )


def all_labels(job: Job, layout: JobLayout) -> list[list[str]]:
    """The lines of every label in the order in which they are printed."""
    pages = label_pages(job, layout)
    return [[t.text for t in texts] for page in pages for texts in by_label(job, page) if texts]


def laid_parts(layout: JobLayout) -> list[PlacedPart]:
    """Every piece that has a place."""
    return [part for group in layout.groups for sheet in group.sheets for part in sheet.parts]


def sticks_said(layout: JobLayout) -> list[list[tuple[str, str]]]:
    """Name and second line of each tube's label, stick by stick; short plain pieces of a stick share one."""
    sticks = [stick for laid in layout.bars for stick in laid.sticks]
    counts = Counter((p.tube.name, p.opposite_hand) for stick in sticks for p in stick.parts)
    found = []
    for stick in sticks:
        said = []
        for (tube, opposite), count in Counter((p.tube, p.opposite_hand) for p in stick.parts).items():
            copies = sorted(p.copy for p in stick.parts if (p.tube, p.opposite_hand) == (tube, opposite))
            hand = "OPPOSITE HAND · " if opposite else ""
            many = counts[tube.name, opposite]
            if tube.holes or tube.length >= 152.4:
                said += [(tube.name, f"{hand}{copy} of {many}") for copy in copies]
            else:
                run = f"{copies[0]} to {copies[-1]}" if count > 2 else ", ".join(map(str, copies))
                said.append((tube.name, f"{hand}{run} of {many}"))
        found.append(said)
    return found


def hand_and_copy(part: PlacedPart, counts: Counter[tuple[str, bool]]) -> str:
    """The second line of a label as it must be; for parts whose faces are not alike."""
    panel = part.panel
    spare = ", spare" if part.copy > panel.quantity and not part.opposite_hand else ""
    hand = "OPPOSITE HAND · " if part.opposite_hand else ""
    return f"{hand}{part.copy} of {counts[panel.name, part.opposite_hand]}{spare}"
