"""Cautions to print where work can hurt someone."""

from __future__ import annotations

from collections.abc import Iterable

from nestkit.errors import ToolFault
from nestkit.trade import materials as trade_materials
from nestkit.trade.tables import read

_BY_HOW = {"saw": ("saw",), "jigsaw": (), "router": ("router",), "laser": (), "waterjet": ()}


def cautions(*topics: str) -> tuple[str, ...]:
    """Return the cautions of some topics, in their order, each once.

    Topics: defer, footer, cover, template, plastics, aluminium, tube, wood, router, saw, estimate.

    >>> cautions("defer")[0].startswith("The shop's rules")
    True

    Raises :class:`~nestkit.errors.ToolFault` for a topic that the table does not have.
    """
    found: dict[str, None] = {}
    for topic in topics:
        texts = [row["text"] for row in read("cautions") if row["topic"] == topic]
        if not texts:
            raise ToolFault(f"there are no cautions on {topic!r}")
        found.update(dict.fromkeys(texts))
    return tuple(found)


def for_materials(materials: Iterable[str], hows: Iterable[str], *, tube: bool = False) -> tuple[str, ...]:
    """Return the cautions for a job's materials and ways of cutting, plastics first; ``tube`` for bars too.

    The sentence that the shop's own rules come first closes the list.
    """
    families = {trade_materials.family(material) for material in materials}
    used = set(hows)
    topics = []
    if families & trade_materials.PLASTICS:
        topics.append("plastics")
    if families & trade_materials.METALS:
        topics.append("aluminium")
    if families & (trade_materials.WOODS | {"g10_fr4"}):
        topics.append("wood")
    if tube:
        topics.append("tube")
    topics += [topic for how, own in _BY_HOW.items() if how in used for topic in own]
    return cautions(*topics, "defer")
