from nestkit.fit.assemble import assemble
from nestkit.fit.assembly import Assembly, Loose
from nestkit.fit.case import case_of as real_case
from nestkit.fit.conflicts import conflicts
from nestkit.fit.copies import too_few_copies
from nestkit.fit.fit_job import fit_job
from nestkit.parts.joint import Fastener, Joint, Mate
from tests.fit import joint_jobs
from tests.fit.stacked import bought, case, case_of, inch, job, layer, panel, screw, tube

FRAME = tube("deck frame", quantity=9)


def copies(parts, *cases):
    """Return joint and text of what is said of copies."""
    said = conflicts(job(*parts), cases)
    return [(c.joint, c.text) for c in said if c.text.startswith("the joints use")]


def test_a_joint_takes_as_many_parts_as_it_is_made():
    """Three joints want three lids: two are too few, three are enough."""

    def said(quantity):
        lid = panel(quantity=quantity)
        return copies((lid, FRAME), case(screw(), layer(lid), layer(FRAME), quantity=3))

    assert said(2) == [("lid to frame", 'the joints use 3 of "console lid", there are 2 copies')]
    assert said(1) == [("lid to frame", 'the joints use 3 of "console lid", there is 1 copy')]
    assert said(3) == []


def test_joints_of_other_holes_share_the_copies():
    """One lid takes screws of two joints in holes of their own; of one hole it takes one screw."""
    lid = panel(holes=4, quantity=1)
    left = case(screw(), layer(lid, 1, 2), layer(FRAME), name="left")
    right = case(screw(), layer(lid, 3, 4), layer(FRAME), name="right")
    again = case(screw(), layer(lid, 2, 3), layer(FRAME), name="again")
    assert copies((lid, FRAME), left, right) == []
    assert copies((lid, FRAME), left, right, again) == [
        ("again", 'the joints use 2 of "console lid", there is 1 copy')
    ]


def test_two_copies_in_one_joint():
    """A part that is there twice in one joint is counted twice."""
    lid = panel(quantity=3)
    assert copies((lid,), case(screw(), layer(lid), layer(lid), quantity=2))[0][1].startswith(
        "the joints use 4"
    )


def test_hands_are_counted_apart():
    """The opposite hand does not serve for the drawn one, unless faces are alike; spares do not count."""
    lid = panel(quantity=1, opposite_hand=1, spare=5)
    two = case(screw(), layer(lid), layer(FRAME), quantity=2)
    assert len(copies((lid, FRAME), two)) == 1
    alike = panel(quantity=1, opposite_hand=1, faces="alike")
    assert copies((alike, FRAME), case(screw(), layer(alike), layer(FRAME), quantity=2)) == []
    opposite = case(screw(), layer(lid, opposite=True), layer(FRAME), quantity=2)
    assert copies((lid, FRAME), opposite)[0][1].endswith("there is 1 copy of the opposite hand")
    one = case(screw(), layer(lid, opposite=True), layer(FRAME))
    assert copies((lid, FRAME), one) == []


def test_bought_parts_are_counted_too():
    """Two hinges for three joints are too few."""
    hinge = bought("hinge", "1/16", quantity=2)
    assert copies((hinge, FRAME), case(screw(), layer(hinge), layer(FRAME), quantity=2)) == []
    assert len(copies((hinge, FRAME), case(screw(), layer(hinge), layer(FRAME), quantity=3))) == 1


def test_a_spacer_goes_over_each_screw():
    """Two screws in three joints, and one joint more, want eight spacers."""

    def said(quantity):
        spacer = tube("spacer", length="1/2", at=(), quantity=quantity)
        loose = (Loose(spacer, 1, 12.7),)
        lid = panel(quantity=9)
        first = case(screw(), layer(lid), layer(FRAME), loose=loose, quantity=3, name="first")
        second = case(screw(), layer(lid), layer(FRAME), loose=loose, name="second")
        return copies((lid, FRAME, spacer), first, second)

    assert said(8) == []
    assert said(7) == [
        ("second", 'the joints use 8 of the spacer "spacer", one over each screw; there are 7')
    ]


def test_taped_parts_are_counted():
    """Parts alone under hook-and-loop are parts, not spacers."""
    box, lid = bought("battery box", "1/16", quantity=1), panel(quantity=2)
    tape = Fastener("hook-and-loop", "1", 25.4, "itself", length=inch("6"))
    taped = Joint("box", 'joint "box"', tape, (Mate("battery box", ()), Mate("console lid", ())), quantity=2)
    assert copies((box, lid), case_of(Assembly(taped, ()), "in")) == [
        ("box", 'the joints use 2 of "battery box", there is 1 copy')
    ]


def test_a_hand_that_is_in_no_joint_is_told():
    """A part made in both hands and joined in one: the other hand's screws would be missing."""
    places = "[[10, 10], [150, 10], [150, 80]]"
    texts = [joint_jobs.panel("a", places, more="opposite_hand = 1"), joint_jobs.panel("b", places)]
    one = joint_jobs.joint("a", "b", name="one")
    other = joint_jobs.joint("a", "b", name="other", more='opposite_hand = ["a"]\nturned_over = ["b"]')

    def told(*joints):
        made = joint_jobs.job(*texts, *joints)
        cases = [real_case(assemble(made, j), made.unit) for j in made.joints]
        return [c.joint for c in too_few_copies(made, cases) if "in no joint" in c.text]

    assert told(one) == ["one"]
    assert told(one, other) == []


def test_copies_of_one_hand_do_not_serve_for_the_other():
    """Three as drawn and one opposite hand: a joint of two opposite hands is one short."""
    places = "[[10, 10], [90, 20], [150, 80]]"
    both = joint_jobs.panel("side", places, more="quantity = 3\nopposite_hand = 1")
    made = joint_jobs.job(
        both,
        joint_jobs.panel("frame", places, more="quantity = 3\nopposite_hand = 2"),
        joint_jobs.joint("side", "frame", more='opposite_hand = ["side", "frame"]\nquantity = 2'),
        joint_jobs.joint("side", "frame", name="k", more="quantity = 3"),
    )
    said = [c.text for c in fit_job(made, trials=100).hardware.conflicts if "the joints use" in c.text]
    assert said == ['the joints use 2 of "side", there is 1 copy of the opposite hand']
