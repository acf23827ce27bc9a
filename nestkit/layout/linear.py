"""What the linear programs over sheets share: the solver, silenced, and prices as shares of the dearest."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import gcd, lcm
from typing import Any


def quiet_solver() -> Any:
    """Return a solver that says nothing, not even its name, and answers the same on every machine."""
    import highspy

    class Quiet(highspy.Highs):
        def __init__(self) -> None:
            # Its own start already speaks, so it is silenced before.
            super(highspy.Highs, self).__init__()
            self.setOptionValue("output_flag", False)
            super().__init__()  # type: ignore[no-untyped-call]

    highs = Quiet()
    for name in ("threads", "random_seed"):
        highs.setOptionValue(name, 1)
    return highs


def prices_of(costs: Sequence[Fraction]) -> tuple[tuple[float, ...], float]:
    """Return prices as shares of the dearest, and the step of which all sums of prices are multiples.

    Where all cost nothing, prices and step are 0.
    """
    dearest = max(costs, default=Fraction(0)) or Fraction(1)
    scale = lcm(*(c.denominator for c in costs))
    step = Fraction(gcd(*(int(c * scale) for c in costs)), scale)
    return tuple(float(c / dearest) for c in costs), float(step / dearest)
