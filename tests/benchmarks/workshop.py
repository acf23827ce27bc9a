"""Generated workshop jobs, seeded: panels of several materials, parts of one plywood, tubes with holes.

Run by hand: ``python tests/benchmarks/workshop.py FILE.toml [--pieces N] [--panels N] [--seed N]``, with
``--three-sizes`` for the plywood in three sizes of sheet, ``--frames`` for as many different tubes as pieces.
"""

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


PLYWOOD = """job = "Generated plywood job"
unit = "in"
date = 2026-03-02

[cutting]
how = "saw"
kerf = "1/8"
"""

SIZES = ((48, 96, "96.00"), (60, 60, "78.00"), (48, 48, "52.00"))
"""Width, height and price of the plywood's sheets."""


def three_sizes_text(pieces: int, seed: int) -> str:
    """Return a job of ``pieces`` parts of plywood: kerf 1/8 in, grain on a third, three sheet sizes.

    Every panel is made one to six times; sides are 4 to 36 in, by eighths.
    """
    rng = random.Random(seed)
    lines = [PLYWOOD]
    for width, height, price in SIZES:
        lines.append(
            f'[[sheet]]\nname = "birch {width}x{height}"\nmaterial = "plywood birch"\nthickness = "12 mm"\n'
            f'size = [{width}, {height}]\nprice = {price}\ngrain = "y"\n'
        )
    left, index = pieces, 0
    while left:
        index += 1
        quantity = min(left, rng.randint(1, 6))
        left -= quantity
        grain = 'grain = "y"\n' if index % 3 == 0 else ""
        lines.append(
            f'[[panel]]\nname = "panel {index}"\nmaterial = "plywood birch"\nthickness = "12 mm"\n'
            f'size = ["{rng.randint(32, 288)}/8", "{rng.randint(32, 288)}/8"]\nquantity = {quantity}\n{grain}'
        )
    return "\n".join(lines)


FRAMES = """job = "Generated frames"
unit = "mm"
date = 2026-03-02

[cutting]
how = "saw"
kerf = 1.2
"""

SECTIONS = ("25 x 25 x 2", "40 x 20 x 2")


def frames_text(tubes: int, seed: int) -> str:
    """Return a job of so many different tubes, 300 to 2000 mm long, each with ten holes in three faces."""
    rng = random.Random(seed)
    lines = [FRAMES]
    for section in SECTIONS:
        lines.append(
            f'[[bar]]\nname = "tube {section}"\nmaterial = "aluminium 6061"\nsection = "{section}"\n'
            "length = 6000\nprice = 30.00\ntrim = 5\n"
        )
    for index in range(tubes):
        length = rng.randint(300, 2000)
        lines.append(
            f'[[tube]]\nname = "rail {index + 1}"\nmaterial = "aluminium 6061"\n'
            f'section = "{SECTIONS[index % len(SECTIONS)]}"\nlength = {length}\n'
        )
        for face, count in zip(rng.sample("ABCD", 3), (4, 3, 3), strict=True):
            at = sorted(rng.sample(range(15, length - 15, 25), count))
            lines.append(f'[[tube.holes]]\nface = "{face}"\ndrill = "5 mm"\nat = {at}\n')
    return "\n".join(lines)


def main() -> None:
    """Write a generated job."""
    parser = argparse.ArgumentParser(description="Write a generated workshop job.")
    parser.add_argument("file", type=Path)
    parser.add_argument("--pieces", type=int, default=1000)
    parser.add_argument("--panels", type=int, default=50)
    parser.add_argument("--seed", type=int, default=1)
    kind = parser.add_mutually_exclusive_group()
    kind.add_argument("--three-sizes", action="store_true", help="plywood in three sizes, any panels")
    kind.add_argument("--frames", action="store_true", help="tubes with holes, each piece another")
    args = parser.parse_args()
    if args.three_sizes:
        text = three_sizes_text(args.pieces, args.seed)
    elif args.frames:
        text = frames_text(args.pieces, args.seed)
    else:
        text = job_text(args.pieces, args.panels, args.seed)
    args.file.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
