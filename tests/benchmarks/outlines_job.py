"""A generated workshop job of drawn outlines with arcs and plain panels, laid out by true shapes, timed.

``python tests/benchmarks/outlines_job.py [--outlines N] [--panels N] [--seed N] [--any]`` writes the outlines
as DXF files into a folder of their own, reads the job and prints CPU seconds: until the first verified layout
and until the search is over; what it lies on, and the most memory the process held.
"""

from __future__ import annotations

import argparse
import math
import random
import resource
import sys
import tempfile
from pathlib import Path
from time import process_time

import ezdxf

from nestkit.geometry.outline import Outline
from nestkit.geometry.points import Point
from nestkit.geometry.shapes import mixed_corners, slot

HEAD = """job = "Generated outlines"
unit = "mm"
date = 2026-03-02

[cutting]
how    = "router"
kerf   = 6
gap    = 8
margin = 12

[[sheet]]
name      = "5052 3 mm 1000 x 750"
material  = "aluminium 5052"
thickness = 3
size      = [1000, 750]
price     = 64

[[sheet]]
name      = "5052 3 mm 800 x 500"
material  = "aluminium 5052"
thickness = 3
size      = [800, 500]
price     = 36
"""

Corner = tuple[Point, float, float]


def corners(*given: tuple[float, float, float]) -> Outline:
    """Return a polygon from x, y and radius of each corner."""
    return mixed_corners([(Point(x, y), radius, 0.0) for x, y, radius in given])


def bracket(rng: random.Random) -> Outline:
    """Return an angle with round corners."""
    w, h, t = rng.randint(80, 260), rng.randint(80, 260), rng.randint(25, 60)
    return corners((0, 0, 8), (w, 0, 8), (w, t, t * 0.4), (t, t, 10), (t, h, t * 0.4), (0, h, 8))


def gusset(rng: random.Random) -> Outline:
    """Return a triangle with its corners off and one side notched."""
    w, h = rng.randint(90, 280), rng.randint(90, 280)
    return corners((0, 0, 5), (w, 0, 5), (w, 20, 4), (w * 0.5, h * 0.45, 40), (20, h, 4), (0, h, 5))


def horn(rng: random.Random) -> Outline:
    """Return a long tapered arm, round at both ends."""
    long, r = rng.randint(150, 320), rng.randint(20, 40)
    return corners((0, -r, r * 0.8), (long, -r * 0.4, r * 0.3), (long, r * 0.4, r * 0.3), (0, r, r * 0.8))


def fork(rng: random.Random) -> Outline:
    """Return a plate with a slot from one side."""
    w, h, t = rng.randint(90, 220), rng.randint(90, 200), rng.randint(25, 45)
    return corners(
        (0, 0, 12), (w, 0, 12), (w, t, 6), (t, t, 8), (t, h - t, 8), (w, h - t, 6), (w, h, 12), (0, h, 12)
    )


def star(rng: random.Random) -> Outline:
    """Return a round plate with arms."""
    arms, far, near = rng.randint(3, 5), rng.randint(60, 120), rng.randint(30, 50)
    given = []
    for k in range(2 * arms):
        radius, angle = (far, near)[k % 2], math.pi * k / arms
        given.append((radius * math.cos(angle), radius * math.sin(angle), 7.0))
    return corners(*given)


def oval(rng: random.Random) -> Outline:
    """Return a slot-shaped plate."""
    width = rng.randint(40, 90)
    return slot(Point(0, 0), width + rng.randint(40, 160), width, rng.choice((0.0, 30.0, 45.0)))


DRAWN = (bracket, gusset, horn, fork, star, oval)


def write_dxf(outline: Outline, file: Path) -> None:
    """Write an outline as one closed polyline with bulges, in mm."""
    made = ezdxf.new("R2010")
    made.units = 4
    points = [(v.x, v.y, v.bulge) for v in outline.vertices]
    made.modelspace().add_lwpolyline(points, format="xyb", close=True)
    made.saveas(file)


def write_job(folder: Path, *, outlines: int, panels: int, seed: int, any_turn: bool) -> Path:
    """Write a job of different outlines and panels with its files; return the job file."""
    rng = random.Random(seed)
    lines = [HEAD]
    turn = 'turn = "any"\n' if any_turn else 'turn = "quarter"\n'
    common = 'material = "aluminium 5052"\nthickness = 3\n'
    for index in range(outlines):
        file = folder / f"outline_{index + 1:02}.dxf"
        write_dxf(DRAWN[index % len(DRAWN)](rng), file)
        lines.append(
            f'[[panel]]\nname = "outline {index + 1}"\n{common}{turn}outline = "{file.name}"\nquantity = 1\n'
        )
    for index in range(panels):
        size = rng.randint(50, 320), rng.randint(40, 200)
        lines.append(
            f'[[panel]]\nname = "panel {index + 1}"\n{common}size = [{size[0]}, {size[1]}]\nquantity = 1\n'
        )
    job = folder / "job.toml"
    job.write_text("\n".join(lines), encoding="utf-8")
    return job


def main() -> None:
    """Write a job, lay it out, print what it took."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--outlines", type=int, default=40)
    parser.add_argument("--panels", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--any", action="store_true", help="outlines may lie at any angle")
    parser.add_argument("--effort", default="normal")
    given = parser.parse_args()

    from nestkit.job.reader import read_job
    from nestkit.layout.events import Progress
    from nestkit.layout.lay_out import lay_out
    from nestkit.layout.ready import make_ready

    make_ready()
    with tempfile.TemporaryDirectory() as name:
        file = write_job(
            Path(name), outlines=given.outlines, panels=given.panels, seed=given.seed, any_turn=given.any
        )
        job = read_job(file)
    begun = process_time()
    first: list[float] = []
    seen = ""

    def heard(event: Progress) -> None:
        nonlocal seen
        if not event.left_over and not first:
            first.append(process_time() - begun)
        said = event.sentence()
        if said != seen:
            print(f"{process_time() - begun:8.2f} s  {said}")
            seen = said

    found = lay_out(job, effort=given.effort, on_event=heard)
    took = process_time() - begun
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1 if sys.platform == "darwin" else 1024)
    for group in found.groups:
        names = [f"{s.stock.name} ({len(s.parts)})" for s in group.sheets]
        left = len(group.unplaced)
        print(f"{float(group.cost):.2f} {group.cost_in}: {', '.join(names)}; {left} without a place")
    print(f"first layout {first[0]:.2f} s, all {took:.2f} CPU s, {memory:.0f} MB")


if __name__ == "__main__":
    main()
