"""The packing library as one more solver: its answer is checked for parts it dropped and for the saw."""

from __future__ import annotations

import math

from nestkit.layout.problem import Layout, Problem
from nestkit.layout.rects.greedy import stock_order
from nestkit.layout.rects.space import Laid, Sheets, Space, rectangles, score_of, space_of
from nestkit.layout.stop import Stop


class Packed:
    """The best of a few settings of the packing library."""

    name = "packed"

    def supports(self, problem: Problem) -> bool:
        """Say whether the solver can lay this problem: no limit of stages, all parts turn alike anywhere."""
        turning = {frozenset(t % 180 for t in turns) for b in problem.boxes for turns in b.turns}
        staged = problem.edge_to_edge and problem.depth < math.inf
        return not staged and len(turning) == 1 and frozenset() not in turning

    def __call__(self, problem: Problem, *, seed: int, stop: Stop, start: Layout | None = None) -> Layout:
        """Return the best layout found before ``stop`` ends the search, or ``start`` if that is better."""
        import rectpack

        space = space_of(problem)
        best = start or space.layout([])
        packs = (rectpack.MaxRectsBaf, rectpack.MaxRectsBssf, rectpack.MaxRectsBl)
        if problem.edge_to_edge:
            packs = (rectpack.GuillotineBafMinas, rectpack.GuillotineBafSas, rectpack.GuillotineBssfLas)
        for pack in packs:
            for sort in (rectpack.SORT_AREA, rectpack.SORT_SSIDE, rectpack.SORT_LSIDE):
                if stop(score_of(problem, best)):
                    return best
                layout = self._lay(space, pack, sort)
                if score_of(problem, layout) < score_of(problem, best):
                    best = layout
        return best

    def _lay(self, space: Space, pack: type, sort: object) -> Layout:
        import rectpack

        problem = space.problem
        turns = problem.boxes[0].turns[0] if problem.boxes else (0,)
        turning = len({t % 180 for t in turns}) == 2
        packer = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline,
            bin_algo=rectpack.PackingBin.BBF,
            pack_algo=pack,
            sort_algo=sort,
            rotation=turning,
        )
        total = 0
        for b, box in enumerate(problem.boxes):
            turn = box.turns[0][0]
            w, h = ((n + problem.gap) // space.step for n in box.size(0 if turning else turn))
            total += box.quantity
            for _ in range(box.quantity):
                packer.add_rect(w, h, rid=b)
        for s in stock_order(space):
            count = problem.stocks[s].count
            packer.add_bin(*space.extent[s], total if count is None else min(count, total), bid=s)
        packer.pack()
        sheets: Sheets = []
        for sheet in packer:
            laid: Laid = []
            for r in sheet:
                size = next(z for z in space.sizes[sheet.bid][r.rid] if z[:2] == (r.width, r.height))
                laid.append((r.rid, (r.x, r.y, *size)))
            # The library may join rooms across a cut.
            if laid and (space.sawable is None or space.sawable(rectangles(laid))):
                sheets.append((sheet.bid, laid))
        # What the library dropped without a word is what the layout counts as left over.
        return space.layout(sheets)
