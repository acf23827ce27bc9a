"""What the chance of a joint costs, and how well trials agree with the closed form.

Run ``python tests/benchmarks/joints.py``. 100,000 trials of a joint of 12 holes on one core, from tight to
loose: two parts (target 1 CPU s), a part on a tube drilled through both walls, three parts deep. Then two
holes by trials against the closed form over 20 seeds. Exit 1 when over.
"""

from __future__ import annotations

import math
import os
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))
for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(threads, "1")

SIGMA = 0.2
TRIALS = 100_000
TARGET = 1.0


def main() -> None:
    """Print a row a joint: CPU seconds and chance at each clearance; then the agreement."""
    from nestkit.fit.closed import closed_chance
    from nestkit.fit.spread import Spread, Wall
    from nestkit.fit.trials import tried
    from nestkit.geometry.points import Point

    def spread(holes: int, clearance: float, layers: tuple[int, ...]) -> Spread:
        turns = [2 * math.pi * i / holes for i in range(holes)]
        points = tuple(Point(80 * math.cos(a), 50 * math.sin(a)) for a in turns)
        none, plays = (Point(0.0, 0.0),) * holes, (clearance / 2,) * holes
        return Spread(points, tuple(Wall(n, plays, none, (SIGMA, SIGMA)) for n in layers))

    tried(spread(12, 0.5, (0, 1)), 1_000, 1)
    clearances = (0.3, 0.45, 0.55, 0.65, 0.8)
    over = False
    print(f"{TRIALS:,} trials, 12 holes, sigma {SIGMA} mm a part; clearance in mm: CPU s, chance")
    kinds = (("two parts", (0, 1)), ("part on a tube, both walls", (0, 1, 1)), ("three parts", (0, 1, 2)))
    for title, layers in kinds:
        cells, worst = [], 0.0
        for clearance in clearances:
            start = time.process_time()
            chance = tried(spread(12, clearance, layers), TRIALS, 1)
            cost = time.process_time() - start
            worst = max(worst, cost)
            cells.append(f"{clearance}: {cost:.2f} {chance.value:.3f}")
        over |= title == "two parts" and worst > TARGET
        print(f"{title:28}{'   '.join(cells)}   most {worst:.2f}")
    exact = closed_chance(spread(2, 0.25, (0, 1))) or 0.0
    error = math.sqrt(exact * (1 - exact) / TRIALS)
    off = [(tried(spread(2, 0.25, (0, 1)), TRIALS, seed).value - exact) / error for seed in range(20)]
    largest = max(map(abs, off))
    print(f"two holes, 20 seeds: closed form {exact:.5f}; largest difference {largest:.2f} standard errors")
    sys.exit(1 if over or largest > 4 else 0)


if __name__ == "__main__":
    main()
