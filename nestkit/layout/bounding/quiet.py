"""The linear solver, silenced."""

from __future__ import annotations

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
