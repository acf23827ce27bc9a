"""Gang marking: who lies beside whom, which way up, and which line belongs to which."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.parts import gangs
from nestkit.parts.gangs import LEAST_SHARED, MOST_MEMBERS, gangs_of
from nestkit.parts.tube import Twin
from tests import laid_tubes
from tests.laid_tubes import DECK_FRAME, INCH, MAST, SIDE_RAIL, SPACER, group, tube


def rail(name, *at, face="A", section="1 x 1 x 1/16", length="48", **more):
    """Return a tube with one row."""
    return tube(name, section, length, group("row", face, *at), **more)


def said(tubes):
    """Return members (name, opposite, copies, what is up) and lines (at in inches, members) of every gang."""
    return [
        (
            [(m.tube.name, m.opposite, m.copies, m.ups) for m in gang.members],
            [(one.at / INCH, one.members) for one in gang.lines],
        )
        for gang in gangs_of(tubes)
    ]


def test_copies_of_one_tube_are_marked_together():
    """Four frames are a gang: A up, then C for the other walls; B, which has other places, is a gang too."""
    first, second = said([DECK_FRAME])
    assert first[0] == [("deck frame", False, 4, ("A", "C"))]
    assert [at for at, _ in first[1]] == [Fraction(1, 2), 4, 8, 12, 16, Fraction(43, 2)]
    assert second[0] == [("deck frame", False, 4, ("B",))]
    assert len(second[1]) == 3


def test_faces_with_the_same_places_are_one_set_up():
    """A and B alike: the tubes are rolled over once, and a line has the holes of both faces."""
    made = tube("t", "1 x 1 x 1/16", "10", group("a", "A", "1", "2"), group("b", "B", "2", "1"), quantity=2)
    (gang,) = gangs_of([made])
    assert gang.members[0].ups == ("A", "B")
    assert [[m.number for m in gang.members[0].at(one.at)] for one in gang.lines] == [[1, 4], [2, 3]]


def test_both_hands_are_marked_together():
    """Drawn and opposite hand have the same places on A; B with one hole of one tube is no gang."""
    ((members, lines),) = said([SIDE_RAIL])
    assert members == [("side rail", False, 1, ("A",)), ("side rail", True, 1, ("A",))]
    assert all(have == (0, 1) for _, have in lines)


def test_faces_that_share_two_places_go_together():
    """Two places in common are worth a clamp, one is not; each line says whose it is."""
    made = [rail("a", "1", "4", "8"), rail("b", "4", "8", "20", face="D"), rail("c", "8", "30")]
    ((members, lines),) = said(made)
    assert members == [("a", False, 1, ("A",)), ("b", False, 1, ("D",))]
    assert lines == [(1, (0,)), (4, (0, 1)), (8, (0, 1)), (20, (1,))]


def test_places_that_are_nearly_the_same_are_not_the_same():
    """Only exactly equal places share a line, however near the others are."""
    assert not gangs_of([rail("a", 100, 200), rail("b", 100, Fraction("200.01"))])


def test_a_tube_goes_on_with_what_goes_with_its_like():
    """a shares with b and b with c: one gang of three, though a and c share nothing."""
    made = [rail("a", "1", "2"), rail("b", "1", "2", "3", "4"), rail("c", "3", "4")]
    ((members, lines),) = said(made)
    assert [name for name, *_ in members] == ["a", "b", "c"]
    assert [have for _, have in lines] == [(0, 1), (0, 1), (1, 2), (1, 2)]


def test_only_what_is_equally_high_is_squared_across():
    """A tube 2 in high does not lie beside one 1 in high, but does with its narrow side up."""
    low = rail("low", "1", "2")
    assert not gangs_of([low, rail("high", "1", "2", section="1 x 2 x 1/8")])
    assert len(gangs_of([low, rail("high", "1", "2", section="1 x 2 x 1/8", face="B")])) == 1


def test_declared_twins_always_lie_together():
    """Declared, they go together with one place in common, and where one must be packed up."""
    low = rail("low", "1", "2")
    high = rail("high", "1", section="1 x 2 x 1/8", twins=(Twin("row", "low", "row"),))
    (gang,) = gangs_of([low, high])
    assert not gang.level
    assert gang.heights == (INCH, 2 * INCH)
    other = rail("other", "1", "40", twins=(Twin("row", "low", "row"),))
    assert len(gangs_of([low, other])) == 1
    assert not gangs_of([low, replace(other, twins=())])


def test_of_two_faces_the_one_that_shares_more_is_up():
    """A tube lies one way in a gang; its other face, where it shares too, is a gang of its own."""
    a = rail("a", "1", "2", "3")
    b = tube("b", "1 x 1 x 1/16", "48", group("two", "A", "1", "2"), group("three", "B", "1", "2", "3"))
    ((members, _),) = said([a, b])
    assert members == [("a", False, 1, ("A",)), ("b", False, 1, ("B",))]
    twice = said([replace(a, quantity=2), b, replace(b, name="c")])
    assert [[(name, ups) for name, _, _, ups in members] for members, _ in twice] == [
        [("a", ("A",)), ("b", ("B",)), ("c", ("B",))],
        [("b", ("A",)), ("c", ("A",))],
    ]


def test_a_row_on_a_round_tube_lies_with_its_angle_up():
    """Round tubes are marked along the line that is up; spares count, those only if there is room do not."""
    first, *_ = said([replace(MAST, quantity=1, spare=2, spare_if_room=5)])
    assert first[0] == [("mast", False, 3, ("0°", "180°"))]


def test_nothing_to_share_is_no_gang():
    """One tube, a tube without holes, one hole a face, and what is not made are no gangs."""
    assert not gangs_of([SPACER, rail("one", "1", "2"), rail("many", "7", quantity=9)])
    assert not gangs_of([replace(DECK_FRAME, quantity=0)])
    assert not gangs_of([])


def test_not_more_than_a_bench_holds_apart():
    """Of many different tubes six lie together; nobody is left out who has a fellow."""
    made = [rail(f"r{i}", "1", "2") for i in range(2 * MOST_MEMBERS)]
    assert [len(gang.members) for gang in gangs_of(made)] == [MOST_MEMBERS, MOST_MEMBERS]


@settings(max_examples=60)
@given(
    st.lists(
        st.tuples(
            st.lists(
                st.tuples(st.sampled_from("ABCD"), st.integers(1, 6)), min_size=1, max_size=6, unique=True
            ),
            st.integers(0, 3),
            st.integers(0, 2),
        ),
        max_size=8,
    )
)
def test_any_tubes_are_parted_into_gangs(rows):
    """Whatever the rows: a face is in one gang at most, each line is of its members, the same every time."""
    tubes = [
        tube(
            f"t{i}",
            "1 x 1 x 1/16",
            300,
            *(group(f"{f}{at}", f, at) for f, at in holes),
            quantity=q,
            opposite_hand=o,
        )
        for i, (holes, q, o) in enumerate(rows)
    ]
    gangs = gangs_of(tubes)
    assert gangs == gangs_of(tubes)
    seen = [(m.tube.name, m.opposite, up) for gang in gangs for m in gang.members for up in m.ups]
    assert len(seen) == len(set(seen))
    for gang in gangs:
        assert gang.level
        assert gang.copies > 1
        assert len({(m.tube.name, m.opposite) for m in gang.members}) == len(gang.members) <= MOST_MEMBERS
        for i, member in enumerate(gang.members):
            shown = member.tube.mirrored() if member.opposite else member.tube
            own = {one.at for one in gang.lines if i in one.members}
            for up in member.ups:
                assert own == {m.spot.at for m in shown.marks_on(up)}
            assert {m.spot.at for m in member.marks} == own
            assert member.copies > 1 or any(len(one.members) > 1 for one in gang.lines if i in one.members)
        if len(gang.members) == 1:
            assert len(gang.lines) >= LEAST_SHARED


def test_the_boats_gangs_are_in_the_order_of_the_job():
    """Frames, rails, angles: five gangs, deterministic."""
    names = [[m.tube.name for m in gang.members] for gang in gangs_of(laid_tubes.boat().tubes)]
    assert names == [
        ["deck frame"], ["deck frame"], ["side rail", "side rail"], ["mast foot angle"], ["mast foot angle"],
    ]  # fmt: skip


def test_a_thousand_tubes_are_not_compared_each_with_each(monkeypatch):
    """Different tubes that share one place, as all do that are drilled at both ends, are never compared."""
    compared = []
    shared = gangs._shared
    monkeypatch.setattr(gangs, "_shared", lambda *pair: compared.append(pair) or shared(*pair))
    made = [rail(f"r{i}", "1/2", Fraction(100 + i, 16)) for i in range(300)]
    assert gangs_of(made) == ()
    assert len(compared) == len(made)
    assert len(gangs_of([*made, rail("last", "1/2", Fraction(100, 16))])) == 1
