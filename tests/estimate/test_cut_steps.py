"""Sticks that are cut alike: every piece once in both ways, every length of a stick accounted for."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.estimate.cut_steps import mitred, sticks_alike, stop_settings
from nestkit.geometry.mitre import Mitre
from tests.cut_sticks import (
    HACKSAW,
    bar,
    boat_frames,
    boat_trim,
    from_list,
    inch,
    layout_of,
    metric_rails,
    problems,
    stick,
    tube,
)

layouts = st.builds(from_list, problems(), st.integers(1, 3))


def laid_pieces(laid) -> Counter:
    """Count what the layout has: stock, number, length."""
    return Counter((s.stock.name, s.number, p.length) for s in laid.sticks for p in s.parts)


@settings(max_examples=60, deadline=None)
@given(layouts)
def test_stick_by_stick_every_piece_comes_once(laid):
    """Each stick is in one kind, and its rows give its pieces and no other, by length and part."""
    kinds = sticks_alike(laid)
    found = Counter()
    for alike in kinds:
        for number in alike.numbers:
            for row in alike.rows:
                found[alike.stock.name, number, row.length] += row.each
    assert found == laid_pieces(laid)
    parts = Counter()
    for alike in kinds:
        for row in alike.rows:
            assert sum(made.count for made in row.parts) == row.each * alike.count
            for made in row.parts:
                assert made.tube.length == row.length
                parts[made.tube.name, made.opposite_hand] += made.count
    assert parts == Counter((p.tube.name, p.opposite_hand) for s in laid.sticks for p in s.parts)


@settings(max_examples=60, deadline=None)
@given(layouts)
def test_at_the_stop_every_piece_comes_once(laid):
    """The settings give each stick's pieces and no other; none comes twice; sticks are cut long first."""
    stops = stop_settings(sticks_alike(laid))
    lengths = [s.length for s in stops]
    assert lengths == sorted({p.length for s in laid.sticks for p in s.parts}, reverse=True)
    assert [s.number for s in stops] == list(range(1, len(stops) + 1))
    found = Counter()
    on_bench: dict[tuple[str, int], int | None] = {}
    for stop in stops:
        assert stop.pieces == sum(made.count for made in stop.parts)
        for take in stop.takes:
            for number in take.sticks.numbers:
                where = take.sticks.stock.name, number
                # A stick comes from the setting that it was kept for, or is new.
                assert (where in on_bench) == (take.before is not None)
                assert take.before is None or on_bench[where] == stop.number
                on_bench[where] = take.after
                found[(*where, stop.length)] += take.each
    assert found == laid_pieces(laid)
    assert set(on_bench.values()) <= {None}
    assert len(on_bench) == len(laid.sticks)


@settings(max_examples=60, deadline=None)
@given(layouts)
def test_lengths_cuts_trims_and_rest_are_the_stick(laid):
    """Cut one after the other off a stick in hand, nothing is left but the rest and the far trim."""
    kerf = laid.group.kerf
    for alike in sticks_alike(laid):
        in_hand = alike.stock.length - alike.stock.trim
        for row, total in zip(alike.rows, alike.totals, strict=True):
            for _ in range(row.each):
                assert in_hand >= row.length
                in_hand -= row.length + kerf
            assert total == alike.stock.length - in_hand
        assert alike.left == max(Fraction(0), in_hand - alike.stock.trim)
        assert alike.used + alike.left == alike.stock.length
        # What lies beyond the last piece decides how it gets its length.
        beyond = in_hand + kerf
        assert alike.last == ("none" if beyond == 0 else "shave" if beyond < kerf else "cut")
        assert list(alike.rows) == sorted(alike.rows, key=lambda r: -r.length)
        assert len({row.length for row in alike.rows}) == len(alike.rows)


def test_the_boats_sticks_are_told_once():
    """Three sticks alike, one apart, one on hand: checked by hand, kerf .04 in, trim 1/4 in."""
    three, fourth, short = sticks_alike(boat_frames())
    assert three.numbers == (1, 2, 3)
    assert [(row.each, row.length) for row in three.rows] == [
        (3, inch("22")),
        (1, inch("14 1/2")),
        (7, inch("1 1/2")),
    ]
    # 1/4 + 3 x 22.04 + 14.54 + 7 x 1.54 + 1/4
    assert three.used == inch("91.94")
    assert three.left == inch("4.06")
    assert three.totals == (inch("66.37"), inch("80.91"), inch("91.69"))
    assert (three.cuts, three.last, three.tight, three.kept) == (12, "cut", False, False)
    assert (fourth.numbers, fourth.kept) == ((4,), True)
    assert (short.on_hand, short.stock.name) == (True, "square short")


def test_the_settings_of_the_boat():
    """30, 22, 14 1/2 and 1 1/2 in: four settings for 50 pieces, sticks kept for the right ones."""
    stops = stop_settings(sticks_alike(boat_frames()))
    assert [(s.length, s.pieces) for s in stops] == [
        (inch("30"), 2),
        (inch("22"), 10),
        (inch("14 1/2"), 3),
        (inch("1 1/2"), 35),
    ]
    moves = [[(t.each, t.before, t.after) for t in s.takes] for s in stops]
    assert moves == [
        [(2, None, 4)],
        [(3, None, 3), (1, None, 4)],
        [(1, 2, 4)],
        [(7, 3, None), (12, 1, None), (2, 2, None)],
    ]
    assert [(m.tube.name, m.opposite_hand, m.count) for m in stops[3].parts] == [
        ("spacer", False, 23),
        ("spacer", True, 12),
    ]


def test_the_order_of_parts_on_a_stick_makes_no_difference():
    """Sticks that give the same lengths in another order are alike; on hand and bought are not."""
    a, b = tube("side rail", "20"), tube("spacer", "10")
    stock, copies = bar("square"), Counter()
    sticks = [
        stick(stock, 1, [(a, 1), (b, 2)], HACKSAW.kerf, copies),
        stick(stock, 2, [(b, 1), (a, 1), (b, 1)], HACKSAW.kerf, copies),
        stick(stock, 3, [(b, 2), (a, 1)], HACKSAW.kerf, copies, on_hand=True),
    ]
    assert [alike.numbers for alike in sticks_alike(layout_of(sticks))] == [(1, 2), (3,)]


def test_full_sticks_say_how_the_last_piece_comes_off():
    """2 x 999 + 2 is the stick; 1998.5 leaves less than a blade; three thirds leave .8 mm."""
    whole, shaved, tight = sticks_alike(metric_rails())
    assert {a.numbers: a.last for a in (whole, shaved, tight)} == {(1,): "none", (2,): "shave", (3,): "cut"}
    assert (whole.cuts, shaved.cuts, tight.cuts) == (1, 1, 3)
    assert shaved.beyond == Fraction("1.5")
    # .8 mm for three cuts of 2 mm: a quarter of a blade each would be 1.5 mm.
    assert tight.tight
    assert not replace(tight, kerf=Fraction("0.5")).tight


def test_off_a_roll_nothing_is_lost():
    """Scissors take nothing: 3 x 22 and 20 x 14 1/2 in of 600 leave 244."""
    (roll,) = sticks_alike(boat_trim())
    assert (roll.used, roll.left, roll.cuts, roll.tight) == (inch("356"), inch("244"), 23, False)


def test_mitres_are_listed_by_part_and_hand():
    """The opposite hand has its long side on D where the drawn one has it on B."""
    (row,) = mitred(boat_frames())
    assert (row.part.tube.name, row.part.opposite_hand, row.part.count) == ("bow frame", True, 2)
    assert row.ends == (Mitre.on("A", Fraction(45)), Mitre.on("D", Fraction("22.5")))
