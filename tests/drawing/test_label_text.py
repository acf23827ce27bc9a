"""Words fitted into a label: the most of them, the name first, none cut but the name."""

from __future__ import annotations

from nestkit.drawing.label_text import Item, Row, few_words, full_words, set_words
from nestkit.geometry.points import Rect


def test_what_does_not_fit_is_left_out_whole_in_a_fixed_order():
    """As a room gets lower, items go one after the other, the least important first, none cut."""
    items = [Item(n, f"item {n}") for n in range(5)]
    words = full_words("name", [Row((item,), 3.4) for item in items])
    before = {f"item {n}" for n in range(5)} | {"name"}
    seen = set()
    for tenths in range(300, 10, -1):
        texts = {t.text for t in set_words(words, Rect(0, 0, 60, tenths / 10))}
        assert texts <= before
        left = sorted(texts - {"name"})
        assert left == [f"item {n}" for n in range(len(left))]
        assert "name" in texts
        before = texts
        seen.add(len(texts))
    assert seen == {1, 2, 3, 4, 5, 6}


def test_an_item_too_long_for_its_label_takes_no_other_with_it():
    """A stock name that fits nowhere is left out, and what matters less is still said."""
    rows = [Row((Item(0, "W" * 60), Item(1, "for the bow")), 3.4), Row((Item(2, "2026-03-02"),), 3.4)]
    said = [t.text for t in set_words(full_words("lid", rows), Rect(0, 0, 60, 22))]
    assert said == ["lid", "for the bow", "2026-03-02"]


def test_a_name_is_cut_only_when_two_lines_of_the_smallest_type_are_full():
    """Sixty letters fit a usual label whole; in a small one the name ends with an ellipsis."""
    long = " ".join(["windscreen"] * 5)
    usual = set_words(full_words(long, []), Rect(0, 0, 60, 22))
    assert " ".join(t.text for t in usual) == long
    assert all(t.bold for t in usual)
    small = set_words(few_words("W" * 60, [Item(0, "1 of 1")]), Rect(0, 0, 22, 7))
    assert small[1].text.endswith("…")
    assert small[2].text == "1 of 1"
