"""What the packing library reaches alone: every one of its settings over a family, the best named.

Run by hand: ``python tests/benchmarks/rectpack_settings.py --data DIR --family NAME [--sample N] [--short]``.
A value counts only if every rectangle found a place.
"""

from __future__ import annotations

import argparse
import itertools
import sys
from fractions import Fraction
from pathlib import Path

import rectpack
from packfiles import Posed, pose, read_family, sampled
from rectpack import guillotine, maxrects, skyline

SORTS = [n for n in dir(rectpack) if n.startswith("SORT_")]
ORDERS = {
    "as given": lambda s: 0,
    "small first": lambda s: s.width * s.height,
    "large first": lambda s: -s.width * s.height,
    "cheap area first": lambda s: s.cost / (s.width * s.height),
}


def settings(short: bool, several: bool) -> list[tuple[str, str, str, str]]:
    """Return (pack, sort, bin, order of sheets) names."""
    modules = [maxrects, skyline] if short else [maxrects, skyline, guillotine]
    bases = {"MaxRects", "Skyline", "SkylineWMixin", "Guillotine"}
    packs = [
        n
        for m in modules
        for n in dir(m)
        if n.startswith(("MaxRects", "Skyline", "Guillotine")) and n not in bases
        if getattr(m, n).__module__ == m.__name__
    ]
    packs = [p for p in packs if not p.startswith("Guillotine") or len(p) > len("GuillotineMinas")]
    sorts = ["SORT_AREA", "SORT_SSIDE", "SORT_LSIDE", "SORT_PERI"] if short else SORTS
    bins = ["BFF", "BBF"] if short else ["BNF", "BFF", "BBF"]
    orders = list(ORDERS) if several else ["as given"]
    found = list(itertools.product(packs, sorts, bins, orders))
    return found + [(p, "SORT_NONE", "Global", o) for p in packs for o in orders]


def value(posed: Posed, setting: tuple[str, str, str, str]) -> Fraction | None:
    """Return the cost of one setting's answer, None when something is left over."""
    pack, sort, how, order = setting
    problem = posed.problem
    turning = any(len(b.turns[0]) > 1 for b in problem.boxes)
    packer = rectpack.newPacker(
        mode=rectpack.PackingMode.Offline,
        bin_algo=getattr(rectpack.PackingBin, how),
        pack_algo=next(getattr(m, pack) for m in (maxrects, skyline, guillotine) if hasattr(m, pack)),
        sort_algo=getattr(rectpack, sort),
        rotation=turning,
    )
    count = 0
    for box in problem.boxes:
        for _ in range(box.quantity):
            packer.add_rect(box.width + problem.gap, box.height + problem.gap)
            count += 1
    for index, stock in sorted(enumerate(problem.stocks), key=lambda p: ORDERS[order](p[1])):
        width, height = stock.usable
        packer.add_bin(width + problem.gap, height + problem.gap, stock.count or count, bid=index)
    packer.pack()
    if sum(len(b) for b in packer) < count:
        return None
    return sum((problem.stocks[b.bid].cost for b in packer if len(b)), Fraction(0))


def main() -> int:
    """Print the best settings over a family, one block a kind of turning."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--data", type=Path, required=True)
    parser.add_argument("--family", required=True)
    parser.add_argument("--sample", type=int)
    parser.add_argument("--short", action="store_true")
    options = parser.parse_args()
    family = read_family(options.data, options.family)
    posed = [
        pose(i, t)
        for i in sampled(family["instances"], options.sample)
        for t in i["tasks"]
        if t["kind"] == "bin2d"
    ]
    for turning in (False, True):
        tasks = [p for p in posed if bool(p.task["rot90"]) is turning]
        if not tasks:
            continue
        several = len(tasks[0].problem.stocks) > 1
        results = []
        per_task = [None] * len(tasks)
        for setting in settings(options.short, several):
            values = [value(p, setting) for p in tasks]
            per_task = [
                min((x for x in (a, b) if x is not None), default=None)
                for a, b in zip(per_task, values, strict=True)
            ]
            if None not in values:
                results.append((float(sum(values)), *setting))
        results.sort()
        print(
            f"{options.family} rot90={turning}: {len(tasks)} tasks, settings that place all: {len(results)}"
        )
        for row in results[:4]:
            print("  ", *row)
        print(
            "   best setting per task, total:",
            float(sum(v or 0 for v in per_task)),
            "unsolved",
            per_task.count(None),
        )
        sys.stdout.flush()
    return 0


if __name__ == "__main__":
    sys.exit(main())
