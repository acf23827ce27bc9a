"""Makes problems like the ten published classes of two-dimensional bin packing, for who has not the data.

Run by hand: ``python tests/benchmarks/classes.py FILE.json [--classes 1 7] [--sizes 20 40] [--instances 10]
[--seed 1]``, then ``python tests/benchmarks/run.py --data FOLDER --family FILE``.

Classes 1 to 6: J. O. Berkey and P. Y. Wang, "Two-dimensional finite bin-packing algorithms", J. Oper. Res.
Soc. 38 (1987) 423-429. Classes 7 to 10: S. Martello and D. Vigo, "Exact solution of the two-dimensional
finite bin packing problem", Management Science 44 (1998) 388-399. Both definitions from memory. The
instances are our own draws, not the published ones: their counts compare only with their own bounds.
"""

from __future__ import annotations

import argparse
import json
import random
from pathlib import Path
from typing import Any

SQUARE = {1: (10, 10), 2: (10, 30), 3: (35, 40), 4: (35, 100), 5: (100, 100), 6: (100, 300)}
"""Classes 1 to 6: both sides are whole numbers from 1 to the first, the sheet is a square of the second."""

MIXED_SHEET = 100
MIXED: dict[int, tuple[tuple[int, int], tuple[int, int]]] = {
    7: ((67, 100), (1, 50)),
    8: ((1, 50), (67, 100)),
    9: ((50, 100), (50, 100)),
    10: ((1, 50), (1, 50)),
}
"""Four shapes of parts, on a sheet of 100 by 100: wide, tall, large, small (from two thirds of the sheet, up
to or from half of it). Seven parts in ten of a class have its shape, the others one of the other three."""

SHARE = 0.7
CLASSES = range(1, 11)


def sheet_of(number: int) -> int:
    """Return the side of a class's square sheet."""
    return SQUARE[number][1] if number in SQUARE else MIXED_SHEET


def part_of(number: int, rng: random.Random) -> tuple[int, int]:
    """Draw one part of a class: width and height."""
    if number in SQUARE:
        most = SQUARE[number][0]
        return rng.randint(1, most), rng.randint(1, most)
    own = rng.random() < SHARE
    width, height = MIXED[number if own else rng.choice([n for n in MIXED if n != number])]
    return rng.randint(*width), rng.randint(*height)


def instance_of(number: int, parts: int, index: int, seed: int) -> dict[str, Any]:
    """Return one instance with its tasks, fixed and turning."""
    rng = random.Random(f"{seed}/{number}/{parts}/{index}")
    side = sheet_of(number)
    sizes = [part_of(number, rng) for _ in range(parts)]
    least = -(-sum(w * h for w, h in sizes) // side**2)
    task = {"kind": "bin2d", "goal": "min_bins", "guillotine": False, "lb_area": least}
    return {
        "name": f"made{number:02}_{parts:03}_{index:02}",
        "group": f"{number}/{parts}",
        "containers": [[side, side, None, None]],
        "items": [[w, h, 1] for w, h in sizes],
        "tasks": [{**task, "rot90": turning} for turning in (False, True)],
    }


def family(name: str, classes: list[int], sizes: list[int], instances: int, seed: int) -> dict[str, Any]:
    """Return a whole family as a ``pack-bench-1`` file has it."""
    return {
        "schema": "pack-bench-1",
        "family": name,
        "title": "Problems made like the ten classes of two-dimensional bin packing",
        "source": f"made here, seed {seed}",
        "licence": "as this project",
        "cite": {
            "BW87": "Berkey and Wang (1987), J. Oper. Res. Soc. 38, 423-429: classes 1 to 6, from memory",
            "MV98": "Martello and Vigo (1998), Management Science 44, 388-399: classes 7 to 10, from memory",
        },
        "notes": ["Our own draws: no published count holds for them."],
        "instances": [
            instance_of(number, parts, index + 1, seed)
            for number in classes
            for parts in sizes
            for index in range(instances)
        ],
    }


def main(arguments: list[str] | None = None) -> None:
    """Write the file."""
    parser = argparse.ArgumentParser(description="Make problems like the ten published classes.")
    parser.add_argument("file", type=Path)
    parser.add_argument("--classes", type=int, nargs="+", choices=CLASSES, default=list(CLASSES))
    parser.add_argument("--sizes", type=int, nargs="+", default=[20, 40, 60, 80, 100])
    parser.add_argument("--instances", type=int, default=10)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args(arguments)
    made = family(options.file.stem, options.classes, options.sizes, options.instances, options.seed)
    options.file.write_text(json.dumps(made, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
