"""Joints: what each key means, what holds where it says nothing, and that no mistake hides another."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.geometry.points import Point
from nestkit.parts.joint import Fastener, Joint, Mate, Position
from tests.job.joint_texts import FRAME, HINGE, JOINT, LID, PARTS, SOUND_JOINT, fastened, joint, through
from tests.job.texts import mistakes, only, read

LID_MATE = Mate("console lid", (2, 3))
LEAF = Mate("hinge", (1, 2))


def only_joint(text, folder):
    """Return the one joint of a sound job."""
    (found,) = read(text, folder).joints
    return found


def held(text, folder):
    """Return what holds the one joint of a sound job."""
    return only_joint(text, folder).fastener


def test_the_contract_s_joint_is_read(tmp_path):
    """Name, screw, and parts with some or all of their holes are enough: pan heads, a lock nut."""
    found = only_joint(SOUND_JOINT, tmp_path)
    assert found == Joint(
        name="lid to hinge",
        place='joint "lid to hinge"',
        fastener=Fastener("screw", "10-32", 4.826, "lock nut"),
        mates=(LID_MATE, LEAF),
        quantity=2,
        line=PARTS.count("\n") + 1,
    )


def test_everything_that_a_joint_may_say(tmp_path):
    """Each key comes out where it belongs, lengths in millimetres."""
    text = through(
        '["console lid / hinge : 2,3", "spacer", "hinge / leaf"]',
        'head_on = "console lid"\nheld_by = "rivet nut"\nhead = "flat"\nwashers = "head"\nlength = "1 1/2"\n'
        'thread_locker = true\nquantity = 5\nmade = "together"\nheld = true\nchance = 0.9\n'
        'turned_over = ["hinge"]\nposition = { part = "hinge", at = [1, "-2"], turn_deg = 90 }\n',
    )
    assert only_joint(text, tmp_path) == Joint(
        name="lid to hinge",
        place='joint "lid to hinge"',
        fastener=Fastener("screw", "10-32", 4.826, "rivet nut", "flat", "head", Fraction("38.1"), True),
        mates=(
            LID_MATE,
            Mate("spacer", ()),
            Mate("hinge", (1, 2), turned_over=True, position=Position(Point(25.4, -50.8), 90.0)),
        ),
        quantity=5,
        together=True,
        held=True,
        chance=Fraction(9, 10),
        line=PARTS.count("\n") + 1,
    )


def test_a_job_in_mm_reads_its_joints_in_mm(tmp_path):
    """A bare number is millimetres there."""
    lines = 'screw = "M5x0.80"\nlength = 30\nposition = { part = "hinge", at = [10, 20] }'
    text = joint(lines, "screw").replace('unit = "in"', 'unit = "mm"')
    found = only_joint(text.replace("1 x 1 x 1/16", "25 x 25 x 1.5"), tmp_path)
    assert (found.fastener.size, found.fastener.dia, found.fastener.length) == ("M5x0.8", 5.0, 30)
    assert found.mates[1].position == Position(Point(10.0, 20.0))


@pytest.mark.parametrize(
    ("written", "size", "dia"),
    [
        ("10-32", "10-32", 4.826), ("No. 10 - 32", "10-32", 4.826), ("#10", "#10", 4.826),
        ("1/4-20", "1/4-20", 6.35), ("m5", "M5", 5.0),
    ],
)  # fmt: skip
def test_a_screw_has_the_diameter_of_the_clearance_table(tmp_path, written, size, dia):
    """Major diameters as in the table of ASME B18.2.8 and ISO 273; the name in one way of writing."""
    found = held(joint(f'screw = "{written}"', "screw"), tmp_path)
    assert (found.size, found.dia, found.kind) == (size, pytest.approx(dia), "screw")


@pytest.mark.parametrize(
    ("key", "value", "kind", "size", "dia"),
    [
        ("rivet", '"1/8"', "rivet", "1/8 in", 3.175),
        ("rivet", '"3.2 mm"', "rivet", "3.2 mm", 3.2),
        ("wood_screw", '"#8"', "wood screw", "#8", 4.1656),
        ("wood_screw", '"No. 10"', "wood screw", "#10", 4.826),
        ("wood_screw", '"4.0 mm"', "wood screw", "4 mm", 4.0),
        ("cable_tie", '"3/16"', "cable tie", "3/16 in", 4.7625),
    ],
)
def test_other_fasteners_have_their_own_sizes(tmp_path, key, value, kind, size, dia):
    """Rivets by diameter, wood screws by number (.060 + .013 n in, from memory) or in mm, ties by width."""
    found = held(joint(f"{key} = {value}", "screw"), tmp_path)
    assert (found.kind, found.size) == (kind, size)
    assert found.dia == pytest.approx(dia, abs=1e-9)
    assert found.held_by == ("wood" if kind == "wood screw" else "itself")


def test_a_number_without_a_unit_is_the_jobs_own(tmp_path):
    """A rivet of an inch job given as a number is called by its inches."""
    assert held(joint("rivet = 0.125", "screw"), tmp_path).size == "1/8 in"


def test_tape_holds_parts_that_are_named_alone(tmp_path):
    """Hook-and-loop has a width and, where given, a length; its parts have no holes."""
    found = only_joint(
        fastened("hook_and_loop = 1\nlength = 4", '["console lid", "deck frame", "hinge"]'), tmp_path
    )
    assert (found.fastener.kind, found.fastener.size) == ("hook-and-loop", "1 in")
    assert found.fastener.length == Fraction("101.6")
    assert found.mates == (Mate("console lid", ()), Mate("deck frame", ()), Mate("hinge", ()))
    assert found.quantity == 1


def test_a_tie_needs_holes_in_one_part_only(tmp_path):
    """What is tied is named alone, whether it has holes of its own or not."""
    found = only_joint(fastened('cable_tie = "3/16"', '["console lid / hinge : 2,3", "hinge"]'), tmp_path)
    assert found.mates == (LID_MATE, Mate("hinge", ()))


def test_the_order_runs_from_the_heads(tmp_path):
    """With the heads on the last part the stack is turned round; positions then count from that part."""
    lines = 'head_on = "hinge"\nposition = { part = "console lid", at = [0, 0] }\n'
    found = only_joint(joint(lines), tmp_path)
    assert [m.part for m in found.mates] == ["hinge", "console lid"]
    assert found.mates[1].position == Position(Point(0.0, 0.0))
    assert only_joint(joint('head_on = "console lid"'), tmp_path).mates[0].part == "console lid"
    wrong = only(joint('head_on = "hinge"\nposition = { part = "hinge", at = [0, 0] }'), tmp_path)
    assert '"hinge" is nearest to the heads' in wrong.text


def test_positions_count_from_the_first_part_with_holes(tmp_path):
    """A spacer under the heads has no frame of its own."""
    entries = '["spacer", "console lid / hinge : 2,3", "hinge / leaf"]'
    wrong = only(through(entries, 'position = { part = "console lid", at = [0, 0] }\n'), tmp_path)
    assert '"console lid" is nearest to the heads' in wrong.text
    found = only_joint(through(entries, 'position = { part = "hinge", at = [0, 0] }\n'), tmp_path)
    assert found.mates[2].position is not None


def test_entries_of_one_part_are_one_layer_until_they_share_a_hole(tmp_path):
    """Groups side by side are one copy; the same hole again, or another part between, is a second copy."""
    entries = '["console lid / hinge", "console lid / vent", "hinge / leaf"]'
    assert only_joint(through(entries), tmp_path).mates == (Mate("console lid", (2, 3, 4, 1)), LEAF)
    entries = '["console lid / hinge : 2,3", "console lid / hinge : 3,4", "hinge / leaf"]'
    found = only_joint(through(entries), tmp_path)
    assert found.mates == (LID_MATE, Mate("console lid", (3, 4)), LEAF)
    assert found.quantity == 1
    entries = '["hinge / leaf", "console lid / hinge : 2,3", "hinge / leaf"]'
    assert only_joint(through(entries), tmp_path).mates == (LEAF, LID_MATE, LEAF)


def test_two_spacers_are_two(tmp_path):
    """A loose part named twice in a row lies there twice."""
    found = only_joint(through('["console lid / hinge : 2,3", "spacer", "spacer", "hinge / leaf"]'), tmp_path)
    assert [m.part for m in found.mates] == ["console lid", "spacer", "spacer", "hinge"]
    assert found.quantity == 2


def test_positions_of_copies_go_in_their_order(tmp_path):
    """One position is for all copies of a part, as many as there are copies go one to each."""
    entries = '["console lid / hinge : 2,3", "hinge / leaf", "deck frame / side", "hinge / leaf"]'
    one = 'position = { part = "hinge", at = [0, 0] }\n'
    found = only_joint(through(entries, one), tmp_path)
    assert [m.position for m in found.mates] == [None, Position(Point(0, 0)), None, Position(Point(0, 0))]
    two = "[[joint.position]]\npart = 'hinge'\nat = [0, 0]\n[[joint.position]]\npart = 'hinge'\nat = [1, 0]\n"
    found = only_joint(through(entries, two), tmp_path)
    assert [m.position for m in found.mates] == [None, Position(Point(0, 0)), None, Position(Point(25.4, 0))]


def test_a_joint_is_made_as_often_as_its_parts_allow(tmp_path):
    """The least number of copies over how often each occurs, without spares; a spacer is once a screw."""
    assert only_joint(SOUND_JOINT, tmp_path).quantity == 2
    assert only_joint(SOUND_JOINT.replace("quantity = 2", "quantity = 9"), tmp_path).quantity == 3
    assert only_joint(SOUND_JOINT.replace("quantity = 2", "quantity = 1\nspare = 5"), tmp_path).quantity == 1
    assert only_joint(SOUND_JOINT.replace("quantity = 2", "quantity = 0\nspare = 1"), tmp_path).quantity == 0
    entries = '["console lid / hinge : 2,3", "spacer", "hinge / leaf"]'
    spaced = through(entries).replace("quantity = 2", "quantity = 9").replace("quantity = 8", "quantity = 5")
    assert only_joint(spaced, tmp_path).quantity == 2
    assert only_joint(joint("quantity = 7"), tmp_path).quantity == 7


def test_the_opposite_hand_has_its_own_count(tmp_path):
    """Joints of the opposite hand are made as often as that hand is; faces alike count both hands."""
    text = through('["deck frame / side", "hinge / leaf"]', 'opposite_hand = ["deck frame"]\n')
    found = only_joint(text, tmp_path)
    assert (found.quantity, found.mates[0].opposite, found.mates[1].opposite) == (1, True, False)
    frames = text.replace("length = 22\n", "length = 22\nquantity = 5\n")
    assert only_joint(frames, tmp_path).quantity == 1
    alike = joint('opposite_hand = ["console lid"]').replace(
        "quantity = 2\n", 'quantity = 1\nopposite_hand = 2\nfaces = "alike"\n'
    )
    assert only_joint(alike, tmp_path).quantity == 3


def test_a_tapped_hole_at_the_far_side_holds_the_screw(tmp_path):
    """It is the default where all far holes are tapped; a nut may be asked for all the same."""
    entries = '["console lid / hinge : 2,3", "deck frame / tapped"]'
    assert held(through(entries), tmp_path).held_by == "tapped hole"
    assert held(through(entries, 'held_by = "tapped hole"\n'), tmp_path).held_by == "tapped hole"
    assert held(through(entries, 'held_by = "lock nut"\n'), tmp_path).held_by == "lock nut"
    assert held(through(entries, 'head_on = "deck frame"\n'), tmp_path).held_by == "lock nut"
    bare = through(entries).replace('screw = "10-32"\nthrough', 'screw = "#10"\nthrough')
    assert held(bare, tmp_path).held_by == "tapped hole"


def test_joints_keep_the_order_of_the_file(tmp_path):
    """Several joints come as they stand, one may use what another uses."""
    text = SOUND_JOINT + JOINT.replace("lid to hinge", "again")
    assert [j.name for j in read(text, tmp_path).joints] == ["lid to hinge", "again"]


def test_a_group_may_have_a_colon_in_its_name(tmp_path):
    """What is a group's whole name is that group; numbers stand behind the last colon."""
    text = SOUND_JOINT.replace('name = "leaf"', 'name = "leaf: upper"')
    whole = text.replace("hinge / leaf", "hinge / leaf: upper")
    assert only_joint(whole, tmp_path).mates[1] == LEAF
    some = text.replace("hinge / leaf", "hinge / leaf: upper : 2")
    assert only_joint(some, tmp_path).mates[1] == Mate("hinge", (2,))


def test_numbers_of_holes_may_differ_between_parts(tmp_path):
    """Whether they meet is for fitting to say, not a mistake of the file."""
    found = only_joint(through('["console lid / hinge", "hinge / leaf"]'), tmp_path)
    assert [len(m.holes) for m in found.mates] == [3, 2]


def test_a_part_of_a_spreadsheet_is_found(tmp_path):
    """Parts that are imported may be taped in a joint."""
    (tmp_path / "p.csv").write_text(
        "name,material,thickness,width,height\nfoam,pc,1/8,4,4\n", encoding="utf-8"
    )
    text = fastened("hook_and_loop = 1", '["console lid", "foam"]') + '[[import]]\nfile = "p.csv"\n'
    assert only_joint(text, tmp_path).mates[1] == Mate("foam", ())


# ---- mistakes elsewhere are not told again in a joint

BROKEN = {
    "a panel with a mistake": (LID, LID.replace("quantity = 2", "quantity = 2.5")),
    "a panel with a misspelt key": (LID, LID.replace("quantity = 2", "quantitty = 2")),
    "a panel with a misspelt table": (LID, LID.replace("[[panel.holes]]", "[[panel.hole]]")),
    "a panel in a misspelt table": (LID, LID.replace("[[panel", "[[panell")),
    "a panel in single brackets": (LID, LID.partition("[[panel.holes]]")[0].replace("[[panel]]", "[panel]")),
    "a panel without a name": (LID, LID.replace('name = "console lid"\n', "")),
    "a panel whose name is misspelt": (LID, LID.replace('name = "console', 'nam = "console')),
    "a panel whose name has a slash": (LID, LID.replace("console lid", "console/lid")),
    "a group with a mistake": (LID, LID.replace("count = 3", "count = 0")),
    "a group whose name is no text": (LID, LID.replace('name = "hinge"', "name = 3")),
    "a group whose name is misspelt": (LID, LID.replace('name = "hinge"', 'naem = "hinge"')),
    "holes as a text": (LID, LID.partition("[[panel.holes]]")[0] + 'holes = "none"\n'),
    "a bought part with a mistake": (HINGE, HINGE.replace("6.20", '"6.20"')),
    "bought holes with a mistake": (HINGE, HINGE.replace('dia = ".2"', 'dia = "x"')),
    "bought parts in single brackets": (
        HINGE, HINGE.partition("[[bought.holes]]")[0].replace("[[bought]]", "[bought]")
    ),
}  # fmt: skip


@pytest.mark.parametrize(("sound", "broken"), BROKEN.values(), ids=BROKEN)
def test_a_joint_is_not_blamed_for_a_part_with_a_mistake(tmp_path, sound, broken):
    """One slip in a part is one mistake, and the joint that names it has none."""
    assert broken != sound
    text = SOUND_JOINT.replace('[[bought]]\nname = "spacer"\nthickness = "1/2"\nquantity = 8\n', "")
    found = mistakes(text.replace(sound, broken), tmp_path)
    assert not [m for m in found if m.place.startswith("joint")], "\n".join(map(str, found))
    assert len({m.place for m in found}) in (1, 2), "\n".join(map(str, found))


def test_two_parts_of_one_name_are_told_once(tmp_path):
    """Which of them a joint means is not known, so nothing is said of its holes."""
    assert "two parts" in only(SOUND_JOINT + LID.partition("[[panel.holes]]")[0], tmp_path).text


def test_a_spreadsheet_that_is_not_read_has_parts_that_are_not_known(tmp_path):
    """Where a spreadsheet is missing or cut short, a part may be in it: no joint is blamed."""
    text = through('["foam / x", "hinge / leaf"]') + '[[import]]\nfile = "p.csv"\n'
    assert only(text, tmp_path).place == "import 1, file"
    (tmp_path / "p.csv").write_text(
        "name,material,thickness,width,height\nx,pc,1/8,4,4\ny,pc,1/8,4,4,9\n", encoding="utf-8"
    )
    assert only(text, tmp_path).place == "p.csv, row 3"
    (tmp_path / "p.csv").write_text("name,material,thickness,width,height\nx,pc,1/8,4,4\n", encoding="utf-8")
    assert only(text, tmp_path).place == 'joint "lid to hinge", through[0]'


def test_mistakes_of_a_part_do_not_hide_those_of_a_joint(tmp_path):
    """A wrong panel, and a joint that misspells its group, another part and its hand: each is told."""
    text = through('["console lid / hinges", "hing / leaf"]', 'held = 1\nopposite_hand = ["hinge", 2]\n')
    text = text.replace("quantity = 2\n", "quantity = 2.5\n").replace(
        FRAME, FRAME.replace("length = 22", "length = 0")
    )
    assert [m.place for m in mistakes(text, tmp_path)] == [
        'panel "console lid", quantity',
        'tube "deck frame", length',
        'joint "lid to hinge", through[0]',
        'joint "lid to hinge", through[1]',
        'joint "lid to hinge", held',
        'joint "lid to hinge", opposite_hand[1]',
    ]


def test_all_mistakes_of_a_joint_are_told_at_once(tmp_path):
    """What is wrong in one key hides nothing in another, two fasteners not even their own mistakes."""
    text = PARTS + (
        '[[joint]]\nname = ""\nscrew = "10-33"\nrivet = "thick"\n'
        'through = ["console lid / hinge : 1", "hinge", "console lid", 5, "deck frame / side"]\n'
        'head_on = 3\nheld_by = "glue"\nhead = "round"\nwashers = 2\nlength = -1\nthread_locker = 1\n'
        "quantity = -1\n"
        'made = "x"\nheld = "x"\nchance = 2\nturned_over = "hinge"\nopposite_hand = ["hinge"]\n'
        'colour = "red"\n'
        "position = { at = [1], turn_deg = 999 }\n"
    )
    told = [m.place.removeprefix("joint 1, ") for m in mistakes(text, tmp_path)]
    assert told == [
        "name", "screw", "rivet", "rivet", "through[0]", "through[3]", "head_on", "held_by", "head",
        "washers", "length", "thread_locker", "quantity", "made", "held", "chance", "turned_over",
        "opposite_hand", "colour", "position, part", "position, at", "position, turn_deg",
    ]  # fmt: skip


def test_many_wrong_joints_are_told_in_reasonable_time(tmp_path):
    """Hundreds of wrong names are all told; only the first are offered the nearest name."""
    parts = "".join(f'[[bought]]\nname = "bracket of bench {i}"\n' for i in range(900))
    wrong = "".join(
        JOINT.replace("lid to hinge", f"j{i}").replace('"hinge /', f'"bracket {i} /') for i in range(400)
    )
    found = mistakes(PARTS + parts + wrong, tmp_path)
    assert len(found) == 400
    assert "Did you mean" in found[0].remedy
    assert "Did you mean" not in found[-1].remedy
