"""What the prints cost: CPU seconds of templates, cards, labels, marking-out tables, saw plan and cut plan.

Run ``python tests/benchmarks/prints.py``. Reading and laying out are left out. Exit 1 when over.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

from workshop import frames_text, job_text

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))


def measure(text: str, folder: Path) -> dict[str, float]:
    """Return the CPU seconds of each kind of print of a job."""
    from nestkit.drawing.bench_cards import bench_pages
    from nestkit.drawing.cut_plan import cut_plan_pages
    from nestkit.drawing.labels import label_pages
    from nestkit.drawing.marking_out import marking_pages
    from nestkit.drawing.saw_plan import saw_plan_pages
    from nestkit.drawing.tube_card import tube_card_pages
    from nestkit.drawing.tube_marking import tube_marking_pages
    from nestkit.job.reader import read_text
    from nestkit.layout.lay_out import lay_out
    from nestkit.writers.job_files import template_files
    from nestkit.writers.pdf import pdf_bytes

    job = read_text(text, folder)
    layout = lay_out(job, effort="quick")
    pages = {
        "saw plan": lambda: saw_plan_pages(job, layout),
        "cut plan": lambda: cut_plan_pages(job, layout),
        "marking out": lambda: (*marking_pages(job), *tube_marking_pages(job)),
        "bench cards": lambda: (*bench_pages(job), *tube_card_pages(job)),
        "labels": lambda: label_pages(job, layout),
    }
    start = time.process_time()
    made = len(list(template_files(job, job.parts)))
    costs = {f"{made // 2} templates": time.process_time() - start}
    for name, draw in pages.items():
        start = time.process_time()
        drawn = draw()
        if drawn:
            pdf_bytes(drawn, title=name)
            costs[name] = time.process_time() - start
    return costs


def main() -> None:
    """Print a row a job: its prints, their sum, the target."""
    boat = ROOT / "sample_parts" / "solar_boat.toml"
    over = 0
    for title, text, folder, most in (
        ("sample", boat.read_text(encoding="utf-8"), boat.parent, 3.0),
        ("200 panels", job_text(400, 200, 1), Path(), 10.0),
        ("200 tubes", frames_text(200, 1), Path(), 15.0),
    ):
        costs = measure(text, folder)
        total = sum(costs.values())
        parts = ", ".join(f"{name} {cpu:.2f}" for name, cpu in costs.items())
        print(f"{title:12}{total:7.2f} CPU s of {most:5.1f}: {parts}")
        over += total > most
    sys.exit(1 if over else 0)


if __name__ == "__main__":
    main()
