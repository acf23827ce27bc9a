"""The compiled searches made ready at once, for whoever measures them or cannot wait at the first job."""

from __future__ import annotations

from fractions import Fraction
from time import process_time

from nestkit.layout.bounding import form as pricing
from nestkit.layout.bounding.sheets import SheetOf
from nestkit.layout.bounds import view_for
from nestkit.layout.efforts import EFFORTS
from nestkit.layout.problem import Box, Problem, Stock
from nestkit.layout.rects import rips
from nestkit.layout.rects.engine.twin import compiled
from nestkit.layout.rects.greedy import Greedy
from nestkit.layout.rects.lengthwise import Orders, all_boxes, orders_compiled
from nestkit.layout.rects.rips import Ripped
from nestkit.layout.rects.search import Search
from nestkit.layout.rects.space import space_of
from nestkit.layout.shapes.problem import Kind, Plate, Shape, ShapesProblem
from nestkit.layout.shapes.sheets import solve as solve_shapes
from nestkit.layout.stop import Rounds


def make_ready() -> float:
    """Compile all functions, or load those kept from before; return the CPU seconds that took."""
    begun = process_time()
    boxes = (Box(2, 3, 3, ((0, 90),)), Box(3, 3, 2, ((0,),)))
    for count in (None, 1):
        problem = Problem(boxes, (Stock(5, 5, 0, 0, 0, 0, count, Fraction(1)),), 0, 0)
        start = Greedy()(problem, seed=1, stop=Rounds(1))
        Search(problem, compiled(), seed=1)(start, Rounds(1))
        sheet = SheetOf(view_for(problem, boxes_only=True), 0, (0, 1), pricing.compiled())
        sheet.priced((6, 9), 0, 100)
        sheet.may_hold((0, 0, 1))
    Ripped(problem, rips.compiled(), seed=1)(start, Rounds(1))
    space = space_of(problem)
    Orders(space, all_boxes(space), orders_compiled(), seed=1).shorter(space.extent[0][1])
    half = Shape(((0.0, 0.0), (2.0, 0.0), (0.0, 1.0)))
    halves = ShapesProblem((Kind(half, 4, extras=1),), (Plate(3.0, 2.0, Fraction(1)),))
    solve_shapes(halves, seed=1, effort=EFFORTS["normal"])
    return process_time() - begun
