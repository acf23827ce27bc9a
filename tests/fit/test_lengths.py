from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.fit.length_of import size_unit
from nestkit.parts.joint import Fastener
from nestkit.trade.fasteners import screw_lengths, thread
from nestkit.trade.rivets import wood_screw as wood_row
from tests.fit.stacked import bought, case, inch, layer, panel, rivet, screw, tube, wood_screw

PLATE = panel("plate", ".125", "aluminium 5052")
SIZES = ("6-32", "8-32", "10-32", "10-24", "1/4-20", "M3", "M4", "M5", "M6", "M8")
thickness = st.integers(10, 600).map(lambda n: Fraction(n, 10))


def plate(mm, material="steel", name="plate"):
    """Return a panel by its thickness in mm."""
    return replace(panel(name, "1", material), thickness=Fraction(mm))


def texts(found):
    """Return the errors and the notes of a length as (error, text)."""
    return [(t.error, t.text) for t in found.troubles]


@given(st.sampled_from(SIZES), thickness, thickness, st.sampled_from(["lock nut", "nut", "tapped hole"]))
def test_a_screw_is_long_enough_and_sold(size, a, b, held):
    """The length is the shortest of the table that fills the nut with a thread to spare."""
    laid = [layer(plate(a)), layer(plate(b, name="far"), holds_thread=held == "tapped hole")]
    found = case(screw(size, held), *laid).length
    lengths = screw_lengths(thread(size).size).lengths
    if found.length is None:
        assert found.least > lengths[-1]
        assert any("longer than the longest usual" in t.text for t in found.troubles)
        return
    assert found.length in lengths
    assert found.length >= found.least
    assert not [n for n in lengths if found.least <= n < found.length]
    if held != "tapped hole":
        assert found.showing >= 1
        assert (found.showing > 3) == bool(found.notes)


@given(
    st.sampled_from(SIZES),
    thickness,
    thickness,
    thickness,
    st.sampled_from(["lock nut", "nut", "tapped hole", "rivet nut"]),
)
def test_a_thicker_stack_never_takes_a_shorter_screw(size, a, b, more, held):
    """Whichever part grows, the screw stays or grows."""

    def length(x, y):
        laid = layer(plate(x)), layer(plate(y, name="far"), holds_thread=held in ("tapped hole", "rivet nut"))
        return case(screw(size, held), *laid).length.length or Fraction(10_000)

    assert length(a + more, b) >= length(a, b)
    assert length(a, b + more) >= length(a, b)


@given(thickness, thickness, thickness)
def test_a_wood_screw_stays_inside_and_grows_with_its_parts(a, b, more):
    """It reaches the last part, stays 1 mm inside it, and is never shorter in thicker parts."""

    def found(x, y):
        return case(wood_screw(), layer(plate(x, "acrylic")), layer(plate(y, "plywood", "rib"))).length

    here = found(a, b)
    if here.length is None:
        assert any(t.error for t in here.troubles)
        return
    clear = a + inch(".049")
    assert clear < here.length <= clear + b - 1
    assert here.length in wood_row(inch(".164")).lengths.lengths
    thicker = found(a, b + more)
    assert thicker.length >= here.length
    further = found(a + more, b)
    assert further.length is None or further.length >= here.length


@given(thickness, thickness)
def test_rivets_grip_what_lies_between(a, b):
    """The rivet's greatest grip is enough, or it is said that none is."""
    found = case(rivet("3/16"), layer(plate(a / 6)), layer(plate(b / 6))).length
    errors = [t for t in found.troubles if t.error]
    assert bool(errors) == (found.size == "3/16 in")
    assert bool(errors) == (round((a + b) / 6, 6) > inch(".750"))


@pytest.mark.parametrize(
    ("own", "error", "says"),
    [
        ("3/8", True, "does not fill the nut"),
        ("1/2", True, "does not fill the nut: .505 in are needed"),
        (".505", False, "less than one thread"),
        (".53", False, "less than one thread"),
        (".53625", None, ""),
        ("5/8", None, ""),
        ("3/4", False, "longer than it need be"),
    ],
)
def test_the_jobs_own_length_is_judged(own, error, says):
    """.14 + .125 + .240 = .505: below the nut is not full, below .536 too little shows, 5/8 is right."""
    laid = layer(panel("a", ".14", "steel")), layer(PLATE)
    found = case(screw(length=inch(own)), *laid).length
    assert found.own
    assert found.length == inch(own)
    if error is None:
        assert not found.troubles
    else:
        (trouble,) = found.troubles
        assert trouble.error is error
        assert says in trouble.text
        assert trouble.remedy == "take 5/8"


def test_an_own_length_in_a_tapped_hole():
    """It must reach the thread, and should use all of it."""
    laid = layer(PLATE), layer(panel("block", ".25", "steel"), holds_thread=True)

    def said(own):
        return texts(case(screw(held_by="tapped hole", length=inch(own)), *laid).length)

    assert said("1/8") == [(True, "the screw of 1/8 does not reach the thread: 3/8 in are needed")]
    assert said("1/4") == [(False, "the screw of 1/4 does not use all of the thread: 3/8 in are needed")]
    assert said("3/8") == [(False, "the screw of 3/8 shows less than one thread")]
    assert said("7/16") == []
    assert said("1") == [(False, "the screw of 1 is longer than it need be")]


def test_a_thin_tapped_part_is_said():
    """Below one diameter of thread an advice says to ask; at one diameter nothing."""

    def said(thick):
        tapped = layer(panel("wall", thick, "aluminium 6061"), holds_thread=True)
        return texts(case(screw(held_by="tapped hole"), layer(PLATE), tapped).length)

    assert said(".190") == []
    ((error, text),) = said(".189")
    assert not error
    assert "less than one diameter" in text


def test_an_unknown_thickness_leaves_the_length_open():
    """Nothing is guessed: the part is named, and what to write."""
    found = case(screw(), layer(PLATE), layer(bought("hinge"))).length
    assert found.length is None
    (trouble,) = found.troubles
    assert not trouble.error
    assert "thickness of hinge is not known" in trouble.text
    assert "write its thickness" in trouble.remedy
    own = case(screw(length=inch("3/4")), layer(PLATE), layer(bought("hinge"))).length
    assert own.length == inch("3/4")
    assert "cannot be checked" in own.troubles[0].text
    tie = Fastener("cable tie", "3/16 in", 4.7625, "itself")
    assert case(tie, layer(PLATE), layer(bought("hinge"))).length.troubles == ()


def test_an_open_thread_is_said():
    """#10 is two threads: the coarser one is reckoned with, 1/24 in to show."""
    found = case(screw("#10"), layer(PLATE), layer(PLATE)).length
    assert found.least == inch(".49") + Fraction(254, 240)
    assert "more than one thread" in found.troubles[0].text


def test_sizes_that_the_tables_lack():
    """#3 has no length in the table: its least length is said; 9 mm rivets go by their box."""
    three = case(screw("#3", "nut"), layer(PLATE), layer(PLATE)).length
    assert three.length is None
    assert "no lengths of #3" in three.troubles[-1].text
    thick = case(rivet("9"), layer(PLATE), layer(PLATE)).length
    assert texts(thick) == [(False, "the tables have no blind rivet of 9 mm")]
    odd = case(wood_screw("7 mm", "7 mm"), layer(PLATE), layer(panel("rib", "1", "plywood"))).length
    assert odd.length is None
    assert "no wood screw of 7 mm" in odd.troubles[0].text


def test_rivets_that_do_not_grip():
    """Past the longest grip is an error; below the least, and in a table of low confidence, an advice."""

    def found(size, *thick):
        return case(rivet(size), *(layer(panel(f"p{i}", t, "steel")) for i, t in enumerate(thick))).length

    assert texts(found("1/8", ".5", ".125")) == []
    assert texts(found("1/8", ".5", ".126")) == [(True, "the rivet grips 5/8 in at most, here are .626 in")]
    assert texts(found("5/32", ".010", ".010")) == []
    assert [e for e, _ in texts(found("5/32", ".009", ".010"))] == [False]
    assert [e for e, _ in texts(found("4", "5 mm", "5 mm"))] == [False]
    assert found("4", "2 mm", "1 mm").length == 6
    assert found("4", "2 mm", "1.1 mm").length == 8


def test_a_rivets_own_length():
    """A metric rivet of a listed length is judged by its own grip; any other goes by its box."""
    plates = layer(panel("a", "2 mm", "steel")), layer(panel("b", "2 mm", "steel"))
    assert case(rivet("4", length=Fraction(8)), *plates).length.troubles == ()
    assert (
        "grips 3 mm at most"
        in case(rivet("4", length=Fraction(6)), *plates, unit="mm").length.troubles[0].text
    )
    assert (
        "grips 5 mm at least"
        in case(rivet("4", length=Fraction(10)), *plates, unit="mm").length.troubles[0].text
    )
    assert "go by the grip" in case(rivet("4", length=Fraction(9)), *plates).length.notes[0]


def test_own_wood_screws_are_judged():
    """Too short is an error, coming out at the back an advice; 1 mm inside is enough."""
    laid = layer(plate(5, "steel")), layer(plate(25, "plywood", "rib"))

    def said(mm):
        return texts(case(wood_screw("4 mm", "4 mm", length=Fraction(mm)), *laid, unit="mm").length)

    assert said(5)[0][0] is True
    assert said(29) == []
    assert said(30) == [(False, "the wood screw of 30 comes out at the back, or all but: at most 29 mm")]
    assert "less than three diameters" in said(16)[0][1]


def test_a_wood_screw_sits_seven_diameters_deep_in_thick_wood():
    """#8 through 3 mm of steel: 3 + 7 x 4.1656 = 32.16 mm, past 1 1/4 in, so 1 1/2 (common practice)."""
    found = case(wood_screw(), layer(plate(3)), layer(plate(60, "plywood", "rib"))).length
    assert found.length == inch("1 1/2")
    assert found.troubles == ()


def test_wood_screws_that_do_not_fit():
    """Through thin wood every usual one comes out; behind thick parts none reaches."""
    thin = case(wood_screw(), layer(plate(3)), layer(plate(6, "plywood", "rib"))).length
    assert [(t.error, "comes out" in t.text) for t in thin.troubles] == [(True, True)]
    deep = case(wood_screw(), layer(plate(80)), layer(plate(6, "plywood", "rib"))).length
    assert [(t.error, "reaches" in t.text) for t in deep.troubles] == [(True, True)]


@pytest.mark.parametrize(
    ("size", "unit"),
    [("10-32", "in"), ("#8", "in"), ("1/4-20", "in"), ("3/16 in", "in"), ("1 in", "in"), ("M5", "mm"),
     ("M5x0.8", "mm"), ("4 mm", "mm"), ("4.8 mm", "mm"), ("1/4", "in")],
)  # fmt: skip
def test_sizes_are_sold_in_inches_or_millimetres(size, unit):
    """The trade's way of writing a size says in which unit its lengths are."""
    assert size_unit(size) == unit


def test_a_screw_through_a_tube_of_one_wall():
    """Into one wall only the wall counts; how far the point stands out behind it is known."""
    found = case(screw(), layer(PLATE), layer(tube("rail", through=False, at=("1", "2")))).length
    assert found.least == inch(".125") + inch("1/16") + inch(".240") + inch("1/32")
    assert found.out == found.length - inch(".1875")
