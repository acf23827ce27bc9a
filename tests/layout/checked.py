"""A check of a solver's layout by pairs and by brute splitting, written apart from the package's own."""

from __future__ import annotations

from itertools import combinations

from nestkit.layout.problem import Layout, Problem


def needed_stages(parts: list[tuple[int, int, int, int]], kerf: int, axis: int) -> float:
    """Return the directions in a row that saw cuts need, the first across ``axis``; inf: no way."""
    if len(parts) == 1:
        return 0
    low, high = axis, axis + 2
    ends = sorted({p[high] for p in parts})
    for end in ends:
        one = [p for p in parts if p[high] <= end]
        two = [p for p in parts if p[low] >= end + kerf]
        if two and len(one) + len(two) == len(parts):
            here = [
                min(needed_stages(g, kerf, axis), 1 + needed_stages(g, kerf, 1 - axis)) if len(g) > 1 else 1
                for g in (one, two)
            ]
            return max(here)
    return float("inf")


def check_layout(problem: Problem, layout: Layout) -> None:
    """Assert that a layout keeps every rule of its problem and loses nothing."""
    left = [b.quantity for b in problem.boxes]
    used = [0] * len(problem.stocks)
    for sheet in layout.sheets:
        stock = problem.stocks[sheet.stock]
        used[sheet.stock] += 1
        assert sheet.placed, "an empty sheet"
        rects = []
        for p in sheet.placed:
            box = problem.boxes[p.box]
            left[p.box] -= 1
            assert p.turn in box.turns[sheet.stock], "a turn that is not allowed"
            w, h = box.size(p.turn)
            assert stock.left <= p.x, "over the left border"
            assert p.x + w <= stock.width - stock.right, "over the right border"
            assert stock.bottom <= p.y, "over the lower border"
            assert p.y + h <= stock.height - stock.top, "over the upper border"
            rects.append((p.x, p.y, p.x + w, p.y + h))
        for a, b in combinations(rects, 2):
            apart = max(b[0] - a[2], a[0] - b[2], b[1] - a[3], a[1] - b[3])
            assert apart >= problem.gap, "nearer than the gap"
        if problem.edge_to_edge and len(rects) > 1:
            axes = {"x": (1,), "y": (0,), "any": (0, 1)}[problem.first]
            stages = min(needed_stages(rects, problem.kerf, a) for a in axes)
            assert stages <= problem.depth, f"{stages} stages"
    extra = problem.extra or (0,) * len(left)
    for count, asked, more in zip(left, layout.left_over, extra, strict=True):
        assert -more <= count - asked <= 0, "a part lost or too many"
    for number, stock in zip(used, problem.stocks, strict=True):
        assert stock.count is None or number <= stock.count, "more sheets than there are"
