"""All files of a job folder, one after the other, each with its path."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from nestkit.checks.findings import Finding
from nestkit.drawing.bench_cards import bench_pages
from nestkit.drawing.cut_plan import cut_plan_pages
from nestkit.drawing.joint_picture import joint_picture
from nestkit.drawing.labels import label_pages
from nestkit.drawing.marking_out import marking_pages
from nestkit.drawing.model import Drawing
from nestkit.drawing.part import part_drawing
from nestkit.drawing.saw_plan import saw_plan_pages
from nestkit.drawing.sheet import sheet_drawing
from nestkit.drawing.sheet_page import sheet_pages
from nestkit.drawing.sheet_picture import picture_scale, sheet_picture
from nestkit.drawing.template import instead_of_pages, template, template_pages
from nestkit.drawing.together import together_pages
from nestkit.drawing.tube_card import tube_card_pages
from nestkit.drawing.tube_marking import tube_marking_pages
from nestkit.drawing.tube_template import has_template, tube_template, tube_template_pages
from nestkit.errors import UserError
from nestkit.estimate.estimate import Estimate
from nestkit.fit.result import JobFit
from nestkit.job.model import Job
from nestkit.job.pairs import to_mark
from nestkit.layout.result import JobLayout
from nestkit.parts.panel import Panel
from nestkit.parts.tube import Tube
from nestkit.writers.apart import check_apart
from nestkit.writers.as_cut import as_cut, routed
from nestkit.writers.dxf import dxf_bytes
from nestkit.writers.hand_over import hand_over
from nestkit.writers.hardware import hardware_csv
from nestkit.writers.layout_json import layout_json
from nestkit.writers.lists import buy_csv, parts_csv
from nestkit.writers.names import file_stems
from nestkit.writers.pdf import pdf_bytes
from nestkit.writers.plan import part_files, sheet_files
from nestkit.writers.read_back import compare_part, compare_sheet
from nestkit.writers.summary import summary_html
from nestkit.writers.svg import svg_bytes

File = tuple[str, bytes]


def job_files(
    job: Job, findings: tuple[Finding, ...], fit: JobFit, layout: JobLayout, estimate: Estimate
) -> Iterator[File]:
    """Yield every file of the job folder; DXF files are read back and compared before they go out."""
    names = []
    for file in _all_but_summary(job, fit, layout, estimate):
        names.append(file[0])
        yield file
    names += ["summary.html", "files.txt"]
    yield "summary.html", summary_html(job, fit, layout, estimate, findings, sorted(names)).encode()


def _all_but_summary(job: Job, fit: JobFit, layout: JobLayout, estimate: Estimate) -> Iterator[File]:
    yield "layout.json", layout_json(job, layout).encode()
    yield "buy.csv", buy_csv(job, estimate)
    yield "parts.csv", parts_csv(job, layout)
    yield from _sheets(job, layout)
    yield from _prints(
        job, ("saw plan", saw_plan_pages(job, layout)), ("cut plan", cut_plan_pages(job, layout))
    )
    if layout.groups:
        yield "sheets/hand_over.txt", hand_over(job, layout).encode()
    yield from _parts(job)
    yield from _joints(job, fit)
    for name, content in template_files(job, job.parts, instead=True):
        yield f"templates/{name}", content
    yield from _bench(job, layout, job.panels, job.tubes)


def _joints(job: Job, fit: JobFit) -> Iterator[File]:
    """Yield the hardware list, and a picture of each joint whose holes must meet."""
    if fit.hardware.items:
        yield "hardware.csv", hardware_csv(job, fit.hardware)
    pictures = [(joint.name, joint_picture(job, joint)) for joint in fit.joints]
    drawn = [(name, picture) for name, picture in pictures if picture is not None]
    for stem, (_, picture) in zip(file_stems(name for name, _ in drawn), drawn, strict=True):
        yield f"joints/{stem}.svg", svg_bytes(picture)


def pack_files(job: Job, layout: JobLayout, parts: Iterable[Panel | Tube]) -> Iterator[File]:
    """Yield what one bench needs for some parts of a job: cards, tables, labels, templates of both hands.

    Files are named as in the whole job folder. Offcuts are nobody's: their labels are left to it.
    """
    wanted = tuple(parts)
    names = {part.name for part in wanted}
    panels = tuple(p for p in job.panels if p.name in names)
    tubes = tuple(t for t in job.tubes if t.name in names)
    yield from _bench(job, _only(layout, names), panels, tubes)
    for name, content in template_files(job, wanted, instead=True):
        yield f"templates/{name}", content


def _only(layout: JobLayout, names: set[str]) -> JobLayout:
    """Return a layout with the parts of these names alone, and without offcuts and rests."""
    groups = []
    for group in layout.groups:
        sheets = (
            replace(s, parts=tuple(p for p in s.parts if p.panel.name in names), offcuts=())
            for s in group.sheets
        )
        groups.append(replace(group, sheets=tuple(sheets)))
    bars = []
    for laid in layout.bars:
        sticks = (
            replace(s, parts=tuple(p for p in s.parts if p.tube.name in names), kept=False)
            for s in laid.sticks
        )
        bars.append(replace(laid, sticks=tuple(sticks)))
    return replace(layout, groups=tuple(groups), bars=tuple(bars))


def _bench(job: Job, layout: JobLayout, panels: Sequence[Panel], tubes: Sequence[Tube]) -> Iterator[File]:
    """Yield the prints of some parts for the bench beside the templates."""
    names = frozenset([*(p.name for p in panels), *(t.name for t in tubes)])
    yield from _prints(
        job,
        ("marking out", (*marking_pages(job, panels), *tube_marking_pages(job, tubes))),
        ("bench cards", (*bench_pages(job, panels), *tube_card_pages(job, tubes))),
        (
            "drill together",
            together_pages(job, names),
        ),
        ("labels", label_pages(job, layout)),
    )


def _prints(job: Job, *prints: tuple[str, Sequence[Drawing]]) -> Iterator[File]:
    """Yield prints by their titles, each only where it has a page."""
    for name, pages in prints:
        if pages:
            yield f"{name.replace(' ', '_')}.pdf", pdf_bytes(pages, title=f"{job.name}: {name}")


def _sheets(job: Job, layout: JobLayout) -> Iterator[File]:
    """Yield each sheet for the router, for the screen and for paper."""
    for group, whole, stem in sheet_files(job, layout):
        way = group.group.way
        name, sheet = f"sheets/{stem}", as_cut(job, whole, way)
        data = dxf_bytes(
            sheet_drawing(sheet, group.group, unit=job.unit, stem=stem), unit=job.unit, options=job.dxf
        )
        check_apart(sheet, group.group, file=f"{name}.dxf")
        compare_sheet(data, sheet, unit=job.unit, options=job.dxf, file=f"{name}.dxf", cut=way)
        yield f"{name}.dxf", data
        picture = sheet_picture(sheet, group.group, unit=job.unit, stem=stem)
        yield f"{name}.svg", svg_bytes(picture, scale=picture_scale(sheet))
        yield (
            f"{name}.pdf",
            pdf_bytes(sheet_pages(job, group.group, sheet, stem=stem), title=f"{job.name}: {stem}"),
        )


def _parts(job: Job) -> Iterator[File]:
    """Yield each panel and hand at nominal size; a tube has no outline to cut."""
    panels = {p.name: p for p in job.panels}
    for (name, opposite), stem in part_files(job).items():
        panel = panels.get(name)
        if panel is None:
            continue
        file = f"parts/{stem}.dxf"
        cut = routed(to_mark(job, panel, opposite), job.way_of(panel))
        data = dxf_bytes(part_drawing(cut, opposite), unit=job.unit, options=job.dxf)
        compare_part(data, cut, opposite, unit=job.unit, options=job.dxf, file=file)
        yield file, data


def template_files(
    job: Job, parts: Iterable[Panel | Tube], *, back: bool = False, instead: bool = False
) -> Iterator[File]:
    """Yield the templates of some parts, both hands where both are made, with ``back`` both faces of panels.

    A tube with nothing to mark has none. A template that the paper cannot hold raises
    :class:`~nestkit.errors.UserError`; with ``instead`` its PDF is a page that says so, and the others are
    not lost by it.
    """
    wanted = {p.name: p for p in parts}
    for face in (False, True) if back else (False,):
        for (name, opposite), stem in part_files(job, back=face).items():
            part = wanted.get(name)
            if part is None or (isinstance(part, Tube) and (face or not has_template(part))):
                continue
            try:
                pages = _template_pages(job, part, opposite, face)
            except UserError as reason:
                if not instead:
                    raise
                pages = (instead_of_pages(job, part, str(reason)),)
            yield f"{stem}.pdf", pdf_bytes(pages, title=f"{job.name}: template of {stem}")
            yield f"{stem}.svg", svg_bytes(_template(job, part, opposite, face))


def _template_pages(job: Job, part: Panel | Tube, opposite: bool, back: bool) -> tuple[Drawing, ...]:
    if isinstance(part, Tube):
        return tube_template_pages(job, part, opposite=opposite)
    return template_pages(job, part, opposite=opposite, back=back)


def _template(job: Job, part: Panel | Tube, opposite: bool, back: bool) -> Drawing:
    if isinstance(part, Tube):
        return tube_template(job, part, opposite=opposite)
    return template(job, part, opposite=opposite, back=back)
