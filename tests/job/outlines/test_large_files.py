"""Large drawings are read whole, small jobs without the readers; how long it takes is a benchmark."""

from __future__ import annotations

import math
import random
import subprocess
import sys
from itertools import pairwise

import pytest

from tests.job.outlines.drawings import panel_of, raw, square

COUNT = 10_000


def star():
    """Return a star of ten thousand lines, in any order."""
    reach = [300 + 20 * (i % 2) for i in range(COUNT)]
    places = [(r * math.cos(a), r * math.sin(a)) for i, r in enumerate(reach) for a in [math.tau * i / COUNT]]
    sides = [
        f"LINE 8 0 10 {a[0]!r} 20 {a[1]!r} 11 {b[0]!r} 21 {b[1]!r}"
        for a, b in zip(places, places[1:] + places[:1], strict=True)
    ]
    random.Random(1).shuffle(sides)
    return raw(*sides)


def holes():
    """Return a plate full of circles."""
    circles = [
        f"CIRCLE 8 0 10 {10 + 10 * (i % 100)} 20 {10 + 10 * (i // 100)} 40 2.5" for i in range(COUNT - 1)
    ]
    return raw(square(1010), *circles)


def scallops():
    """Return a plate with an edge of arcs."""
    arcs = [f"ARC 8 0 10 {i + 0.5} 20 0 40 0.5 50 0 51 180" for i in range(COUNT - 3)]
    ends = (0, 0), (0, -50), (COUNT - 3, -50), (COUNT - 3, 0)
    sides = [f"LINE 8 0 10 {a[0]} 20 {a[1]} 11 {b[0]} 21 {b[1]}" for a, b in pairwise(ends)]
    return raw(*arcs, *sides)


def comb():
    """Return a comb: long lines side by side."""
    teeth = [(500 * (i % 4 in (1, 2)), 0.5 * (i // 2)) for i in range(COUNT)]
    rest = [(-5, teeth[-1][1]), (-5, 0)]
    places = " ".join(f"10 {x} 20 {y}" for x, y in [*teeth, *rest])
    return raw(f"LWPOLYLINE 8 0 90 {len(teeth)} 70 1 {places}")


DRAWINGS = star, holes, scallops, comb


@pytest.mark.parametrize("drawing", DRAWINGS)
def test_ten_thousand_entities_are_all_read(drawing, tmp_path):
    """Ten thousand lines in any order, circles, arcs, long lines side by side: nothing is lost."""
    panel = panel_of(tmp_path, drawing())
    assert len(panel.holes) + len(panel.outline.vertices) >= COUNT


def test_a_job_without_outline_files_does_not_load_the_readers():
    """Reading jobs imports neither the readers of drawings nor a DXF library or XML."""
    code = (
        "import sys, nestkit.job.reader; "
        "readers = 'ezdxf', 'xml', 'shapely', 'nestkit.job.outlines.d'; "
        "bad = [m for m in sys.modules if m.startswith(readers)]; "
        "assert not bad, bad"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
