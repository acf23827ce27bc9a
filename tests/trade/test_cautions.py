import pytest

from nestkit.errors import ToolFault
from nestkit.trade.cautions import cautions, for_materials
from nestkit.trade.tables import read

TOPICS = (
    "defer",
    "footer",
    "cover",
    "template",
    "plastics",
    "aluminium",
    "tube",
    "wood",
    "router",
    "saw",
    "estimate",
)


def test_every_topic_is_there_in_order():
    """All topics have cautions, numbered from 1, and there is no other topic."""
    rows = read("cautions")
    assert list(dict.fromkeys(row["topic"] for row in rows)) == list(TOPICS)
    for topic in TOPICS:
        numbers = [int(row["order"]) for row in rows if row["topic"] == topic]
        assert numbers == list(range(1, len(numbers) + 1))


def test_footers_are_short_enough_for_a_page():
    """A footer fits one line of a page."""
    assert all(len(text) <= 120 for text in cautions("footer"))


def test_the_shops_own_rules_come_first():
    """Whatever the job, the list ends with the sentence that defers to the shop and to licensed people."""
    for texts in (for_materials([], []), for_materials(["PC", "birch plywood"], ["saw", "router"])):
        assert texts[-1] == cautions("defer")[0]
        assert "licensed" in texts[-1]


def test_cautions_follow_materials_and_ways():
    """Plastic, metal and wood bring their own cautions, and so do saw and router; each is said once."""
    texts = for_materials(["polycarbonate", "acrylic", "aluminum", "G10"], ["router", "saw", "laser"])
    assert len(texts) == len(set(texts))
    for topic in ("plastics", "aluminium", "wood", "router", "saw"):
        assert set(cautions(topic)) <= set(texts)
    assert not set(cautions("saw")) & set(for_materials(["mdf"], ["router"]))


def test_no_load_is_promised():
    """No caution gives a load that anything carries; it sends to a competent person instead."""
    assert any("Load-bearing" in text and "competent or licensed" in text for text in cautions("estimate"))


def test_an_unknown_topic_is_a_fault_of_the_tool():
    """A topic that is not there is never an empty list."""
    with pytest.raises(ToolFault, match="lifting"):
        cautions("footer", "lifting")
