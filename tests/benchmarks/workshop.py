"""A generated workshop job: as many pieces of as many different panels as wanted, seeded."""

from __future__ import annotations

import argparse
import random
from pathlib import Path

STOCK = """
[[sheet]]
name = "PC 1/8 4x8"
material = "polycarbonate"
thickness = ".118"
sold_as = "1/8"
size = [48, 96]
price = 140.00

[[sheet]]
name = "PC 1/8 4x4"
material = "polycarbonate"
thickness = ".118"
sold_as = "1/8"
size = [48, 48]
price = 74.00

[[sheet]]
name = "birch 1/4 5x5"
material = "plywood birch"
thickness = "6 mm"
size = [60, 60]
price = 62.00
grain = "x"

[[sheet]]
name = "6061 1/8 4x4"
material = "aluminium 6061"
thickness = ".125"
size = [48, 48]
price = 180.00
cut = "sponsor"
"""

HEAD = """job = "Generated workshop job"
unit = "in"
date = 2026-03-02

[cutting]
how = "saw"
kerf = "1/8"

[cutting.sponsor]
how = "router"
kerf = "1/4"
"""

MATERIALS = (
    ("polycarbonate", "1/8", "none"),
    ("plywood birch", "6 mm", "x"),
    ("aluminium 6061", "1/8", "none"),
)


def job_text(pieces: int, panels: int, seed: int) -> str:
    """Return a job file of ``pieces`` pieces of ``panels`` different panels."""
    rng = random.Random(seed)
    lines = [HEAD, STOCK]
    for index in range(panels):
        material, thickness, grain = MATERIALS[index % len(MATERIALS)]
        width, height = rng.randint(16, 200), rng.randint(16, 120)
        quantity = pieces // panels + (index < pieces % panels)
        lines.append(
            f'[[panel]]\nname = "panel {index + 1}"\nmaterial = "{material}"\nthickness = "{thickness}"\n'
            f'size = ["{width}/8", "{height}/8"]\nquantity = {quantity}\n'
            + (f'grain = "{grain}"\n' if rng.random() < 0.5 else "")
            + '[[panel.holes]]\nname = "corner"\nscrew = "10-32"\ncorners = "5/8"\n'
        )
    return "\n".join(lines)


def main() -> None:
    """Write a generated job."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("file", type=Path)
    parser.add_argument("--pieces", type=int, default=1000)
    parser.add_argument("--panels", type=int, default=50)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    args.file.write_text(job_text(args.pieces, args.panels, args.seed), encoding="utf-8")


if __name__ == "__main__":
    main()
