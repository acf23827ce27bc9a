"""What a cut plan says: short, exact, in the unit of the job."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest

from nestkit.estimate.cut_steps import sticks_alike, stop_settings
from nestkit.estimate.cut_words import (
    StockNames,
    become_texts,
    first_text,
    hand_steps,
    last_text,
    left_text,
    mitre_text,
    parts_texts,
    pieces_text,
    sticks_title,
    take_texts,
    tight_text,
    unplaced_texts,
    used_text,
)
from nestkit.geometry.mitre import Mitre
from nestkit.layout.bars.result import UnplacedTube
from tests.cut_sticks import (
    HACKSAW,
    bar,
    boat_angle,
    boat_frames,
    boat_trim,
    layout_of,
    metric_rails,
    stick,
    tube,
)


def test_quantities_of_one_length_are_one_row():
    """Seven spacers are said once; the total proves the stick; the rest is waste."""
    three, fourth, short = sticks_alike(boat_frames())
    assert [pieces_text(row, three, "in") for row in three.rows] == [
        "3 x 22 in deck frame",
        "1 x 14 1/2 in side rail",
        "7 x 1 1/2 in spacer",
    ]
    assert used_text(three, "in") == "Uses 91.94 of 96 in"
    assert left_text(three, "in") == "4.06 in left over: waste"
    assert left_text(short, "in") == "KEEP the rest, 22 3/8 in"
    assert first_text(three, "in") == "Square the end: at most 1/4 in off, blade included"
    assert pieces_text(fourth.rows[0], fourth, "in") == "2 x 30 in bow frame, OPPOSITE HAND, rev B"


def test_sticks_are_called_by_number_and_by_length_where_stocks_differ():
    """Of one stock the number does; of several of one length their names."""
    kinds = sticks_alike(boat_frames())
    assert [sticks_title(k, StockNames(kinds, "in")) for k in kinds] == [
        "Sticks 1 to 3 (96 in): cut 3 alike",
        "Stick 4 (96 in)",
        "Stick 1 (48 in)",
    ]
    (roll,) = sticks_alike(boat_trim())
    assert sticks_title(roll, StockNames([roll], "in")) == "Roll 1"
    part, copies = tube("spacer", "10"), Counter()
    same = [stick(bar(n), 1, [(part, 1)], HACKSAW.kerf, copies) for n in ("from the shop", "from the rack")]
    kinds = sticks_alike(layout_of(same))
    assert [StockNames(kinds, "in").which(k) for k in kinds] == [
        "stick 1 (from the shop)",
        "stick 1 (from the rack)",
    ]


def test_full_sticks_are_told_before_and_after():
    """Nothing to saw, less than a blade to file, and a warning before the first cut of a tight one."""
    whole, shaved, tight = sticks_alike(metric_rails())
    assert last_text(whole, "mm") == "The last piece is what is left: it must be 999 mm."
    assert "1.5 mm too long, less than a blade: file it to 1998.5 mm." in last_text(shaved, "mm")
    assert last_text(tight, "mm") == tight_text(whole, "mm") == ""
    assert tight_text(tight, "mm") == "TIGHT: 0.8 mm to spare over 3 cuts. Measure the kerf in scrap first."
    assert "nothing is left for truing" in first_text(whole, "mm")
    assert "comes out of the rest" in first_text(tight, "mm")


def test_a_stick_that_is_used_again_is_kept_for_its_setting():
    """The words lead a stick from its squared end through its settings to its rest."""
    kinds = sticks_alike(boat_frames())
    names = StockNames(kinds, "in")
    said = [[take_texts(t, names, "in") for t in s.takes] for s in stop_settings(kinds)]
    assert said[0] == [("stick 4 (96 in)", "square the end", "2", "Keep for setting 4.")]
    assert said[2] == [("sticks 1 to 3 (96 in)", "from setting 2", "1 each = 3", "Keep for setting 4.")]
    assert said[3][0][3] == "Done. 4.06 in left over: waste."
    rails = sticks_alike(metric_rails())
    last = {
        take.sticks.numbers: take_texts(take, StockNames(rails, "mm"), "mm")[3]
        for stop in stop_settings(rails)
        for take in stop.takes
    }
    assert last[3,].startswith("TIGHT: 0.8 mm to spare")
    assert last[1,] == "Done. Nothing left over. The last piece is what is left: it must be 999 mm."


def test_pieces_of_one_length_for_several_parts_are_counted_over_all_sticks():
    """Two sticks alike, one for spacers and one for rungs: four of each of all together."""
    spacer, rung = tube("spacer", "20"), tube("rung", "20")
    stock, copies = bar("square"), Counter()
    sticks = [stick(stock, n, [(part, 4)], HACKSAW.kerf, copies) for n, part in ((1, spacer), (2, rung))]
    (alike,) = sticks_alike(layout_of(sticks))
    assert become_texts(alike.rows[0], alike) == ("of both sticks: 4 x spacer; 4 x rung",)


def test_very_many_parts_of_one_length_are_named_in_several_texts():
    """No part is left out, and no text grows without end."""
    parts = [tube(f"spacer {n}", "2") for n in range(20)]
    made = stick(bar("square"), 1, [(part, 1) for part in parts], HACKSAW.kerf, Counter())
    (alike,) = sticks_alike(layout_of([made]))
    said = parts_texts(alike.rows[0].parts)
    assert "; ".join(said).split("; ") == [f"1 x spacer {n}" for n in range(20)]
    assert max(text.count(";") for text in said) == 5


@pytest.mark.parametrize(
    ("mitre", "section", "said"),
    [
        (None, "1 x 1 x 1/16", "square"),
        (Mitre.on("B", Fraction(45)), "1 x 1 x 1/16", "45 degrees, long side B"),
        (Mitre(Fraction(30), Fraction(0)), "round 1 x 1/16", "30 degrees, long side A"),
        (
            Mitre(Fraction("22.5"), Fraction(90)),
            "round 1 x 1/16",
            "22.5 degrees, long at 90 degrees from A towards B",
        ),
    ],
)
def test_a_mitre_says_angle_and_long_side(mitre, section, said):
    """By face where there are faces, by angle on a round tube."""
    assert mitre_text(mitre, tube("rail", "10", section)) == said


def test_parts_without_a_stick_are_named_with_why():
    """Equal ones in one line."""
    (one,) = boat_angle().unplaced
    other = UnplacedTube(one.tube, 2, one.opposite_hand, one.why)
    assert unplaced_texts((one, other)) == (
        "2 x keel angle: It is longer than any stick, 72 in less two trims.",
    )


def test_lengths_are_never_marked_ahead():
    """The steps of the hand saw: square, ONE length, X, beside the line, check; the blade's width."""
    said = hand_steps(HACKSAW.kerf, "in")
    assert "ONE length" in said[1]
    assert "X the waste side" in said[1]
    assert "beside the line, on the side of the X" in said[2]
    assert "never ahead: each cut takes .04 in." in said[4]
