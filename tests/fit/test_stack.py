from dataclasses import replace
from fractions import Fraction

import pytest

from nestkit.fit.assembly import Assembly, Loose
from nestkit.fit.stack import ends, stack_of
from tests.fit.stacked import assembly, bought, inch, layer, panel, rivet, screw, tube, wood_screw

LID, FRAME = panel("console lid"), tube("deck frame")
PLATE = panel("plate", ".125", "aluminium 5052")
RIB = panel("rib", ".5", "birch plywood")


def words(*args, **more):
    """Return kinds and words of a joint's stack."""
    return [(e.kind, e.words) for e in stack_of(assembly(*args, **more)).entries]


def test_the_stack_runs_from_the_head_to_the_nut():
    """Washer, parts and spacers in their order, then the nut."""
    spacer = Loose(tube("spacer", length="1/2", at=()), 1, 12.7)
    assert words(screw(), layer(LID), layer(FRAME), loose=(spacer,)) == [
        ("washer", "washer"),
        ("part", "console lid"),
        ("spacer", "spacer"),
        ("part", "deck frame"),
        ("lock nut", "lock nut"),
    ]


def test_spacers_lie_where_the_joint_has_them():
    """A spacer may be before all parts, between two, or behind all: there the washer is for it."""
    spacer = bought("sleeve", "1/4", "steel")
    for after, place in ((0, 0), (1, 1), (2, 2)):
        loose = (Loose(spacer, after, 6.35),)
        found = [w for kind, w in words(screw(), layer(LID), layer(FRAME), loose=loose) if "ut" not in kind]
        assert [w for w in found if w != "washer"].index("sleeve") == place
    assert ends(assembly(screw(), layer(LID), loose=(Loose(spacer, 0, 6.35),))) == ("steel", "polycarbonate")


@pytest.mark.parametrize(
    ("first", "last", "fastener", "washers"),
    [
        (LID, FRAME, screw(), (1, 0)),
        (LID, panel("hatch"), screw(), (1, 1)),
        (PLATE, FRAME, screw(), (0, 0)),
        (RIB, panel("floor", ".5", "mdf"), screw(), (1, 1)),
        (panel("cover", ".1", "ABS"), FRAME, screw(), (1, 0)),
        (LID, panel("hatch"), screw(washers="none"), (0, 0)),
        (PLATE, FRAME, screw(washers="both"), (1, 1)),
        (PLATE, FRAME, screw(washers="nut"), (0, 1)),
        (LID, panel("hatch"), screw(head="flat"), (0, 1)),
        (PLATE, FRAME, screw(head="flat", washers="both"), (0, 1)),
        (LID, PLATE, screw(held_by="tapped hole", washers="both"), (1, 0)),
        (LID, PLATE, screw(held_by="rivet nut"), (1, 0)),
        (PLATE, LID, rivet(), (0, 1)),
        (LID, PLATE, rivet(), (0, 0)),
        (RIB, RIB, wood_screw(), (0, 0)),
        (LID, RIB, wood_screw(), (1, 0)),
        (bought("hinge", "1/16"), FRAME, screw(), (0, 0)),
    ],
)
def test_washers_lie_under_what_bears_on_plastic_and_wood(first, last, fastener, washers):
    """Where the job leaves it open: under head and nut on plastic and wood; none where none can lie."""
    assert stack_of(assembly(fastener, layer(first), layer(last))).washers == washers


def test_what_is_not_known_is_missing():
    """A bought part without a thickness, and a nut that the tables lack, leave the sum open."""
    hinge = stack_of(assembly(screw(), layer(LID), layer(bought("hinge"))))
    assert hinge.missing == ("hinge",)
    assert hinge.total is None
    small = stack_of(assembly(screw("M2"), layer(PLATE), layer(PLATE)))
    assert small.missing == ("lock nut for M2",)


def test_a_tube_counts_whole_or_by_its_wall():
    """Drilled through both walls all of the tube is passed, else one wall; a tapped one holds by one wall."""
    through, one = layer(FRAME), layer(tube("rail", through=False))
    assert stack_of(assembly(screw(), layer(LID), through)).parts == inch(".049") + inch(".118") + inch("1")
    assert stack_of(assembly(screw(), layer(LID), one)).parts == inch(".049") + inch(".118") + inch("1/16")
    tapped = stack_of(assembly(screw(held_by="tapped hole"), layer(PLATE), through))
    assert tapped.far == inch("1/16")
    assert tapped.total == inch(".125") + inch("1/16")


def test_sums_are_exact():
    """Thicknesses that are floats in their planes add up to exact sums."""
    assert stack_of(assembly(screw(), layer(LID), layer(FRAME))).total == Fraction("1.407") * Fraction("25.4")


def test_a_joint_without_places_has_an_empty_stack():
    """Where parts could not be laid in place only the nut is left, and nothing fails."""
    laid = assembly(screw(), layer(LID), layer(FRAME))
    nowhere = stack_of(Assembly(laid.joint, ()))
    assert [e.kind for e in nowhere.entries] == ["lock nut"]
    held = replace(laid.joint, fastener=screw(held_by="rivet nut"))
    assert stack_of(Assembly(held, ())).entries == ()
