"""Makes the pictures of real output that the README shows: ``python tests/gallery.py``.

It lays out the boat of ``sample_parts`` and keeps a few of its files in ``output/gallery``.
"""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
GALLERY = ROOT / "output" / "gallery"
SAMPLE = ROOT / "sample_parts" / "solar_boat.toml"

SVGS = {
    "pc-sheet.svg": "sheets/pc-1-8-4x4-01.svg",
    "plate-sheet.svg": "sheets/6061-1-8-2x2-01.svg",
    "routed-sheet.svg": "sheets/6061-3-16-2x2-01.svg",
    "joint.svg": "joints/outrigger-plates-to-beam.svg",
}
PNGS = {
    "template-page.png": ("templates/side-deck.pdf", 1),
    "sheet-page.png": ("sheets/birch-6-mm-5x5-01.pdf", 0),
    "routed-page.png": ("sheets/6061-3-16-2x2-01.pdf", 0),
    "saw-plan-page.png": ("saw_plan.pdf", 8),
    "bench-card.png": ("bench_cards.pdf", 8),
    "cut-plan-page.png": ("cut_plan.pdf", 0),
    "tube-template-page.png": ("templates/deck-frame.pdf", 1),
    "together-page.png": ("drill_together.pdf", 0),
}
DOTS_PER_INCH = 72


def made_files() -> dict[str, bytes]:
    """Return every file of the sample's job folder."""
    from nestkit.job.reader import read_job
    from nestkit.make import make
    from nestkit.writers.job_files import job_files

    made = make(read_job(SAMPLE))
    return dict(job_files(made.job, made.findings, made.fit, made.layout, made.estimate))


def page_as_png(pdf: bytes, page: int) -> bytes:
    """Return a page of a PDF as a picture."""
    import io

    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    picture = document[page].render(scale=DOTS_PER_INCH / 72, grayscale=True).to_pil()
    stream = io.BytesIO()
    picture.save(stream, "PNG", optimize=True)
    document.close()
    return stream.getvalue()


def gallery() -> dict[str, bytes]:
    """Return the gallery's files, made afresh."""
    files = made_files()
    pictures = {name: files[source] for name, source in SVGS.items()}
    return pictures | {name: page_as_png(files[source], page) for name, (source, page) in PNGS.items()}


if __name__ == "__main__":
    GALLERY.mkdir(parents=True, exist_ok=True)
    for name, content in gallery().items():
        (GALLERY / name).write_bytes(content)
        print(f"output/gallery/{name}  {len(content)} bytes")
