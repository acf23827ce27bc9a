"""Why a cut length found no place, in words that say what to change."""

from __future__ import annotations

from nestkit.job.model import BarGroup
from nestkit.parts.tube import Tube
from nestkit.text import counted


def why_no_stick(group: BarGroup, tube: Tube) -> str:
    """Return the reason why a copy of a tube has no place in its group's cut list."""
    what, one = ("roll", "the roll") if group.off_a_roll else ("bar", "a bar")
    if not group.bars:
        return "there is no stock of this material and section"
    had = [bar for bar in group.bars if bar.to_be_had]
    if not had:
        return f"no {what} is on hand and none can be bought"
    if not any(bar.holds(tube.length) for bar in had):
        trims = " between its trims" if any(bar.trim for bar in had) else ""
        return f"it is longer than {one} leaves{trims}"
    on_hand = sum(bar.on_hand for bar in had)
    verb = "is" if on_hand == 1 else "are"
    return f"only {counted(on_hand, what)} {verb} on hand and none long enough can be bought"
