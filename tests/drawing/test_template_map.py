"""The map at the head of each page of a template: the same on all, but for the page that is grey."""

from __future__ import annotations

import pytest

from nestkit.drawing.model import Fill, Inset, Text
from nestkit.drawing.template_facts import facts_of
from nestkit.drawing.template_map import placed_map
from nestkit.geometry.points import Rect
from tests.drawing import bench

WINDOWS = [Rect(0, 0, 190, 250), Rect(150, 0, 340, 250), Rect(300, 100, 490, 350)]


def drawn(here=0, first_page=2, width=26.0):
    """The map of three windows on a deck."""
    part = bench.deck()
    facts = facts_of(bench.job(part), part, opposite=False, back=False, corrected=True)
    return placed_map(facts, WINDOWS, WINDOWS, width, 15.5, first_page=first_page, here=here)


def numbers(drawing):
    """What stands on the map itself."""
    return [mark for mark in drawing.marks if isinstance(mark, Text)]


@pytest.mark.parametrize("here", [1, 2, 3])
def test_only_the_grey_page_differs_from_head_to_head(here):
    """Numbers, lines and the part stand in the same places on each page's map; one window is grey."""
    plain, shown = drawn(), drawn(here=here)
    assert numbers(plain)
    assert numbers(shown) == numbers(plain)
    assert [m for m in shown.marks if not isinstance(m, Fill)] == [
        m for m in plain.marks if not isinstance(m, Fill)
    ]
    grey = [m for m in shown.marks if isinstance(m, Fill) and 0.0 < m.grey < 1.0]
    assert len(grey) >= 1
    assert all(m.grey == 1.0 for m in plain.marks if isinstance(m, Fill))
    assert any(isinstance(m, Inset) for m in shown.marks)


def test_maps_of_other_pages_or_sizes_are_their_own():
    """Where pages begin at another number, or the map is smaller, its numbers are others."""
    assert [t.text for t in numbers(drawn(first_page=7))] != [t.text for t in numbers(drawn())]
    assert numbers(drawn(width=9.0)) != numbers(drawn())
