"""What the packing library reaches alone: every one of its settings over a family, the best named.

Run by hand: ``python tests/benchmarks/rectpack_settings.py --data DIR --family NAME [--sample N] [--short]``.
A value counts only if every rectangle found a place. ``run.py --rectpack`` takes the short list; for tasks
cut from edge to edge these are the packers that do so, and none of them knows stages.
"""

from __future__ import annotations

import argparse
import itertools
import sys
from fractions import Fraction
from functools import cache
from pathlib import Path
from types import ModuleType

import bin2d
import rectpack
from packfiles import Posed, read_family, sampled
from rectpack import guillotine, maxrects, skyline
from rows import Row, Setting, best_of_many, best_setting, total, variant_of

SORTS = [n for n in dir(rectpack) if n.startswith("SORT_")]
ORDERS = {
    "as given": lambda s: 0,
    "small first": lambda s: s.width * s.height,
    "large first": lambda s: -s.width * s.height,
    "cheap area first": lambda s: s.cost / (s.width * s.height),
}
ON_A_ROLL = ("MaxRectsBl", "SkylineBl", "SkylineBlWm")
"""Packers that keep low, which alone makes sense on a sheet without an end."""


def packers(*modules: ModuleType) -> list[str]:
    """Return the names of the packers in some of the library's modules."""
    bases = {"MaxRects", "Skyline", "SkylineWMixin", "Guillotine"}
    packs = [
        n
        for m in modules
        for n in dir(m)
        if n.startswith(("MaxRects", "Skyline", "Guillotine")) and n not in bases
        if getattr(m, n).__module__ == m.__name__
    ]
    return [p for p in packs if not p.startswith("Guillotine") or len(p) > len("GuillotineMinas")]


@cache
def settings(short: bool, several: bool, edge_to_edge: bool) -> list[Setting]:
    """Return (pack, sort, bin, order of sheets) names."""
    if edge_to_edge:
        packs = packers(guillotine)
    else:
        packs = packers(maxrects, skyline) if short else packers(maxrects, skyline, guillotine)
    sorts = ["SORT_AREA", "SORT_SSIDE", "SORT_LSIDE", "SORT_PERI"] if short else SORTS
    bins = ["BFF", "BBF"] if short else ["BNF", "BFF", "BBF"]
    orders = list(ORDERS) if several else ["as given"]
    found: list[Setting] = list(itertools.product(packs, sorts, bins, orders))
    return found + [(p, "SORT_NONE", "Global", o) for p in packs for o in orders]


def packed(posed: Posed, setting: Setting) -> rectpack.PackerBBF:
    """Return the library's packer of a problem after its run with one setting."""
    pack, sort, how, order = setting
    problem = posed.problem
    packer = rectpack.newPacker(
        mode=rectpack.PackingMode.Offline,
        bin_algo=getattr(rectpack.PackingBin, how),
        pack_algo=next(getattr(m, pack) for m in (maxrects, skyline, guillotine) if hasattr(m, pack)),
        sort_algo=getattr(rectpack, sort),
        # The library turns all or none, and what may not turn must not.
        rotation=all(k.turning or k.width == k.height for k in posed.kinds),
    )
    for box in problem.boxes:
        for _ in range(box.quantity):
            packer.add_rect(box.width + problem.gap, box.height + problem.gap)
    many = sum(b.quantity for b in problem.boxes)
    for index, stock in sorted(enumerate(problem.stocks), key=lambda p: ORDERS[order](p[1])):
        width, height = stock.usable
        count = many if stock.count is None else stock.count
        packer.add_bin(width + problem.gap, height + problem.gap, count, bid=index)
    packer.pack()
    return packer


def value(posed: Posed, setting: Setting) -> Fraction | None:
    """Return what one setting's answer costs, or its length on a roll; None when something is left over."""
    problem = posed.problem
    packer = packed(posed, setting)
    if sum(len(b) for b in packer) < sum(b.quantity for b in problem.boxes):
        return None
    if posed.task["kind"] == "strip2d":
        roll = problem.stocks[0]
        top = max(r.y + r.height for b in packer for r in b) - problem.gap
        return Fraction(roll.bottom + top + roll.top, posed.scale)
    return sum((problem.stocks[b.bid].cost for b in packer if len(b)), Fraction(0))


def settings_for(posed: Posed, short: bool) -> list[Setting]:
    """Return the settings that can do a task: none with stages, nor for the most value on a sheet."""
    task, problem = posed.task, posed.problem
    if task["kind"] == "guillotine2d" or (problem.edge_to_edge and problem.stages):
        return []
    found = settings(short, len(problem.stocks) > 1, problem.edge_to_edge)
    if task["kind"] == "strip2d":
        found = [s for s in found if s[0] in ON_A_ROLL and s[2] == "BFF"]
    return found


def values_of(posed: Posed, *, short: bool = True) -> dict[Setting, Fraction | None]:
    """Return the value of each setting for a task."""
    return {setting: value(posed, setting) for setting in settings_for(posed, short)}


def main() -> int:
    """Print the best setting over a family, one block a way in which parts may lie and be cut."""
    parser = argparse.ArgumentParser(description="Try all settings of the packing library.")
    parser.add_argument("--data", type=Path, required=True)
    parser.add_argument("--family", required=True)
    parser.add_argument("--sample", type=int)
    parser.add_argument("--short", action="store_true")
    options = parser.parse_args()
    family = read_family(options.data, options.family)
    by_variant: dict[str, list[Row]] = {}
    for instance in sampled(family["instances"], options.sample):
        for task in instance["tasks"]:
            if task["kind"] == "bin2d":
                values = values_of(bin2d.pose(instance, task), short=options.short)
                row = Row(
                    instance["group"], variant_of(task), None, Fraction(0), None, False, 0, packed=values
                )
                by_variant.setdefault(row.variant, []).append(row)
    for variant, rows in by_variant.items():
        best = best_setting(rows)
        print(f"{options.family} {variant}: {len(rows)} tasks, {len(rows[0].packed)} settings")
        if best is not None:
            print(f"   best setting: {total([r.packed[best] for r in rows])}, {', '.join(best)}")
        print(f"   best setting per task: {total([best_of_many(r) for r in rows])}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
