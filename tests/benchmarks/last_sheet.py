"""How large a rest comes in one piece: the largest free strip of a sheet before and after it is gathered.

``python tests/benchmarks/last_sheet.py --data DIR [--family NAME] [--number N] [--effort NAME]`` lays out N
tasks, spread evenly over a family, and prints the largest strip over a whole side of a sheet as a share of
the sheet: as the search for fewest sheets leaves it, and as the finish makes it.
"""

from __future__ import annotations

import argparse
import sys
import time
from dataclasses import replace
from pathlib import Path

from bin2d import pose
from packfiles import BenchmarkError, read_family, sampled

from nestkit.layout.efforts import EFFORTS
from nestkit.layout.problem import Layout, Problem
from nestkit.layout.ready import make_ready
from nestkit.layout.rects.engine.twin import compiled
from nestkit.layout.rects.finish import finished
from nestkit.layout.rects.last_sheet import strip_area
from nestkit.layout.rects.space import space_of
from nestkit.layout.solve import solve


def share(problem: Problem, layout: Layout) -> float:
    """Return the largest strip over a whole side of one sheet, as a share of the sheet."""
    space = space_of(problem)
    sheets = [(s.stock, space.laid(s)) for s in layout.sheets]
    return max(strip_area(space, stock, laid) / space.sheet_area[stock] for stock, laid in sheets)


def main() -> int:
    """Print a row a task and the means; 2 if the file is wrong."""
    parser = argparse.ArgumentParser(description="Measure the rest that comes in one piece.")
    parser.add_argument("--data", type=Path, required=True)
    parser.add_argument("--family", default="class500")
    parser.add_argument("--number", type=int, default=12)
    parser.add_argument("--effort", choices=sorted(EFFORTS), default="normal")
    options = parser.parse_args()
    try:
        instances = sampled(read_family(options.data, options.family)["instances"], options.number)
    except BenchmarkError as error:
        print(error, file=sys.stderr)
        return 2
    make_ready()
    effort = EFFORTS[options.effort]
    print(f"{'instance':<24}{'sheets':>8}{'before %':>10}{'after %':>10}{'CPU s':>8}")
    rows = []
    for instance in instances:
        task = next(t for t in instance["tasks"] if t["kind"] == "bin2d" and not t.get("rot90"))
        problem = pose(instance, task).problem
        laid = solve(problem, seed=1, effort=replace(effort, tidy=0)).layout
        begun = time.process_time()
        done = finished(problem, laid, seed=1, tries=effort.tidy, form=compiled())
        cpu_s = time.process_time() - begun
        rows.append((share(problem, laid), share(problem, done), cpu_s))
        shares = "".join(f"{100 * part:>10.1f}" for part in rows[-1][:2])
        print(f"{instance['name']:<24}{len(done.sheets):>8}{shares}{cpu_s:>8.2f}")
    means = [sum(column) / len(rows) for column in zip(*rows, strict=True)]
    print(f"{'mean':<32}{100 * means[0]:>10.1f}{100 * means[1]:>10.1f}{means[2]:>8.2f}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
