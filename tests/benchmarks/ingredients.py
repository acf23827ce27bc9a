"""What each ingredient of the long search is worth: every one is switched off once.

``python tests/benchmarks/ingredients.py --data DIR [--family NAME] [--sample N] [--seconds S]`` runs the long
search on a sample of a family, from the same quick layouts, with all ingredients and without each. Sums are
of sheets (or of cost), fixed and turning; ``bounds`` are those by column prices.
"""

from __future__ import annotations

import argparse
import sys
import time
from dataclasses import fields
from pathlib import Path

from bin2d import pose
from packfiles import BenchmarkError, Posed, read_family, sampled

from nestkit.layout.bounding import form as pricing
from nestkit.layout.bounding.stronger import stronger
from nestkit.layout.bounds import bounds_of
from nestkit.layout.problem import Layout
from nestkit.layout.ready import make_ready
from nestkit.layout.rects.deep import Deep
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.rects.search import Switches
from nestkit.layout.solved import reached
from nestkit.layout.stop import AnyOf, Rounds

COLUMN_PRICES = "column prices"
NO_END = 10**9


def run(posed: Posed, start: Layout, off: str, seconds: float) -> tuple[float, float, float]:
    """Return value, bound and CPU seconds of a search without one ingredient."""
    problem = posed.problem
    switches = Switches(**{f.name: f.name != off for f in fields(Switches)})
    begun = time.process_time()
    bounds = bounds_of(problem)
    if off != COLUMN_PRICES:
        bounds = stronger(problem, bounds, start, form=pricing.compiled())
    clocked = time.process_time()
    stop = AnyOf(lambda score: time.process_time() > clocked + seconds, *reached(bounds))
    found = Deep(problem, seed=1, switches=switches)(start, stop, NO_END)
    least = float(bounds.cost.value) if bounds.cost else 0.0
    return float(found.cost(problem)), least, time.process_time() - begun


def main() -> int:
    """Print a row an ingredient; 2 if the file is wrong."""
    parser = argparse.ArgumentParser(description="Switch ingredients of the search off, one at a time.")
    parser.add_argument("--data", type=Path, required=True)
    parser.add_argument("--family", default="class500")
    parser.add_argument("--sample", type=int, default=70)
    parser.add_argument("--seconds", type=float, default=1.0)
    options = parser.parse_args()
    try:
        instances = sampled(read_family(options.data, options.family)["instances"], options.sample)
    except BenchmarkError as error:
        print(error, file=sys.stderr)
        return 2
    make_ready()
    posed = [pose(i, t) for i in instances for t in i["tasks"] if t["kind"] == "bin2d"]
    starts = [Greedy()(p.problem, seed=1, stop=Rounds(72)) for p in posed]
    names = ["nothing", *(f.name for f in fields(Switches)), COLUMN_PRICES]
    print(f"{'without':<16}{'fixed':>10}{'turning':>10}{'bound':>10}{'proved':>8}{'CPU s':>9}", flush=True)
    for name in names:
        sums, bound, proved, cpu_s = {False: 0.0, True: 0.0}, 0.0, 0, 0.0
        for one, start in zip(posed, starts, strict=True):
            value, least, cpu = run(one, start, name, options.seconds)
            sums[bool(one.task.get("rot90"))] += value
            bound, proved, cpu_s = bound + least, proved + (value <= least), cpu_s + cpu
        row = f"{sums[False]:>10g}{sums[True]:>10g}{bound:>10g}{proved:>8}{cpu_s:>9.1f}"
        print(f"{name:<16}{row}", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
