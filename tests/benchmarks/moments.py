"""What must take a moment: CPU seconds of single steps, each against its bound, the least of three runs.

Run ``python tests/benchmarks/moments.py``. Exit 1 when over.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))

Step = tuple[str, float, Callable[[], object]]


def outline_files(folder: Path) -> Iterator[Step]:
    """Drawings of ten thousand entities, read to a panel."""
    from nestkit.job.outlines.drawn import drawn_of
    from tests.job.outlines.drawings import panel_of
    from tests.job.outlines.test_large_files import DRAWINGS

    def read(data: bytes) -> object:
        # Panels of one file share its reading: here each is read anew.
        drawn_of.cache_clear()
        return panel_of(folder, data)

    for drawing in DRAWINGS:
        data = drawing()
        yield f"outline file, 10,000 entities: {drawing.__name__}", 2.0, lambda data=data: read(data)


def joints() -> Iterator[Step]:
    """Patterns of holes laid on one another, and whole joints."""
    from nestkit.fit.assemble import assemble
    from nestkit.fit.placing import best_placement
    from tests.fit.test_assemble import many_holes
    from tests.fit.test_placing import grid, large_patterns

    for name, pair in zip(("alike", "unlike", "stretched", "off"), large_patterns(), strict=True):
        yield f"placing, 40 holes, {name}", 0.3, lambda pair=pair: best_placement(*pair)
    wide = grid(20, 10, 20), grid(20, 10, 30)
    yield "placing, 200 holes, unlike", 2.0, lambda: best_placement(*wide)
    for count, most in ((12, 0.01), (40, 0.3)):
        asked = many_holes(count)
        yield f"joint of {count} holes", most, lambda asked=asked: assemble(*asked)


def layouts() -> Iterator[Step]:
    """True outlines judged, and the cut plan of a long list."""
    from nestkit.drawing.cut_plan import cut_plan_pages
    from nestkit.layout.shapes.verify import verify_shapes
    from tests.drawing.test_cut_plan import large_list, whole
    from tests.layout.shapes.test_verify_shapes import crowded

    for name, layout in zip(("100 corners", "30 arcs"), crowded(), strict=True):
        yield f"judging 400 parts with {name}", 2.0, lambda layout=layout: verify_shapes(layout)
    laid = whole(large_list())
    yield "cut plan of 5,000 tubes", 2.0, lambda: cut_plan_pages(*laid)


def least(step: Callable[[], object]) -> float:
    """Return the least CPU seconds of three runs."""
    found = []
    for _ in range(3):
        start = time.process_time()
        step()
        found.append(time.process_time() - start)
    return min(found)


def main() -> None:
    """Print a row a step: CPU seconds and the most that it may take."""
    over = 0
    with tempfile.TemporaryDirectory() as name:
        print(f"{'step':44}{'CPU s':>9}{'most':>7}")
        for title, most, step in (*outline_files(Path(name)), *joints(), *layouts()):
            cost = least(step)
            print(f"{title:44}{cost:9.4f}{most:7.2f}{'  OVER' if cost > most else ''}")
            over += cost > most
    sys.exit(1 if over else 0)


if __name__ == "__main__":
    main()
