"""Small parts that may come loose while they are cut out."""

from __future__ import annotations

from collections.abc import Iterator

from nestkit.checks.findings import Finding, by_rule, panels_with_group
from nestkit.job.model import Job
from nestkit.parts.loose import is_small, small_said
from nestkit.stock.tabs import tabs_on
from nestkit.stock.ways import MACHINES
from nestkit.trade.rules import rule


def small_parts_come_loose(job: Job) -> Iterator[Finding]:
    """A small part that no tab holds may come loose under the cutter, and be spoiled or thrown."""
    by = rule("R131")
    for panel, group in panels_with_group(job):
        way = group.way
        if way.how not in MACHINES or not is_small(panel.outline) or tabs_on(panel.outline, way):
            continue
        if way.tabs is None:
            text = f"{small_said(panel.outline)}: so small a part may come loose when it is cut out"
            table = f"[cutting.{way.name}]" if way.name else "[cutting]"
            width = '"1/4"' if job.unit == "in" else "6"
            remedy = (
                f"ask for holding tabs: tabs = {{ width = {width}, count = 3 }} under {table}; "
                "or tell the shop to hold it by tape or vacuum"
            )
        else:
            text = f"{small_said(panel.outline)}, and no edge with room for a holding tab: it may come loose"
            remedy = "ask for narrower tabs, or tell the shop to hold it by tape or vacuum"
        yield by_rule("advice", by, panel.place, text, remedy)
