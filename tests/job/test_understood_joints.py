"""What was understood of bought parts, joints and how holes are made is said back in words."""

from __future__ import annotations

import pytest

from nestkit.job.understood import understood
from tests.job.joint_texts import JOINT, SOUND_JOINT, fastened, joint, through
from tests.job.texts import SOUND, SOUND_TUBE, read

FIVE = "[[1, 1], [2, 1], [3, 1], [4, 1], [5, 1]]"
READ = FIVE.replace("[3, 1]", "[3.01, 1]")


def said(text, folder):
    """Return what is said of a job."""
    return understood(read(text, folder))


def joint_line(text, folder):
    """Return the line of the one joint of a job."""
    lines = said(text, folder)
    return lines[lines.index("Joints") + 1].strip()


def test_a_job_without_joints_says_nothing_of_them(tmp_path):
    """No heading without something below it."""
    text = "\n".join(said(SOUND, tmp_path))
    assert not any(word in text for word in ("Joint", "Bought", "Practice", "Drills", "accuracy"))


def test_bought_parts_and_joints_have_their_own_lines(tmp_path):
    """Count and price of what is bought; parts, holes, what holds them, and how often."""
    lines = said(SOUND_JOINT + JOINT.replace("lid to hinge", "again"), tmp_path)
    assert lines[lines.index("Bought ready made") :] == (
        "Bought ready made",
        "  hinge   3  6.20 each  2 x dia .2 in",
        "  spacer  8             1/2 in",
        "",
        "Joints",
        "  lid to hinge: 2 x 10-32 through console lid (2, 3), hinge (1, 2); lock nut; made 2 x",
        "  again: 2 x 10-32 through console lid (2, 3), hinge (1, 2); lock nut; made 2 x",
    )


def test_all_that_a_joint_says_is_said_back(tmp_path):
    """Heads, washers, length, hands, place, how it is drilled: in the order of the work."""
    entries = '["console lid / hinge", "spacer", "deck frame / side"]'
    more = (
        'head_on = "deck frame"\nheld_by = "nut"\nhead = "flat"\nwashers = "both"\nlength = "1 1/2"\n'
        "held = true\n"
        'thread_locker = true\nmade = "together"\nchance = 0.9\nturned_over = ["console lid"]\nquantity = 0\n'
        'opposite_hand = ["deck frame"]\nposition = { part = "console lid", at = [1, 2], turn_deg = 90 }\n'
    )
    assert joint_line(through(entries, more), tmp_path) == (
        "lid to hinge: 2 x 10-32 through deck frame opposite hand (1, 2), spacer, console lid turned over "
        "(2 to 4); nut; flat heads; washers under head and nut; 1 1/2 in long; thread locker; "
        "drilled together; held by edges; console lid at 1, 2 in, turned 90 deg; "
        "a chance of 0.9 or more; not made"
    )


@pytest.mark.parametrize(
    ("fastener", "entries", "words"),
    [
        ('rivet = "1/8"', '["console lid / hinge : 2,3", "hinge / leaf"]',
         "2 x rivet 1/8 in through console lid (2, 3), hinge (1, 2); made 2 x"),
        ('wood_screw = "#8"\nwashers = "head"', '["console lid / hinge : 2,3", "hinge / leaf"]',
         "2 x wood screw #8 through console lid (2, 3), hinge (1, 2); in wood; washers under the head; "
         "made 2 x"),
        ('cable_tie = "4.8 mm"', '["console lid / hinge : 2,3", "hinge"]',
         "cable tie 4.8 mm wide through console lid (2, 3), hinge; made 2 x"),
        ("hook_and_loop = 1", '["console lid", "hinge"]',
         "hook-and-loop 1 in wide between console lid, hinge; made 2 x"),
        ('screw = "10-32"\nwashers = "none"', '["console lid / hinge : 2,3", "deck frame / tapped"]',
         "2 x 10-32 through console lid (2, 3), deck frame (3, 4); tapped hole; no washers; made 1 x"),
    ],
)  # fmt: skip
def test_every_fastener_is_called_by_its_name(tmp_path, fastener, entries, words):
    """Each kind says its size and what it goes through."""
    assert joint_line(fastened(fastener, entries), tmp_path) == f"lid to hinge: {words}"


def test_what_is_asked_of_fitting_is_said_where_it_is_given(tmp_path):
    """Method, drill, walls, chance, temperatures, spares, own figures, practice pieces, the shop's drills."""
    text = joint("") + (
        '[fit]\nchance = 0.9\nmethod = "scribe and punch"\ndrill = "press"\ntube_walls = "in one go"\n'
        'temperature = [0, 45]\nspares = 0.25\naccuracy = { "rule and pencil" = "1/64" }\n'
        f'[[practice]]\nmethod = "template"\nwanted = {FIVE}\nmeasured = {READ}\n'
        '[shop]\ndrills = ["#7", 3]\n'
    )
    assert said(text, tmp_path)[-5:] == (
        "Holes are marked by scribe and punch where a part does not say, drilled at a drill press, "
        "both walls of a tube from one side",
        "Joints: a chance of 0.9 or more, 25 % more screws as spares, from 0 to 45 C, made at 20 C",
        "Own accuracy: rule and pencil, +- 1/64 in each way",
        "Practice piece: template, 5 marks",
        "Drills in the shop: #7, 3 mm",
    )


def test_the_method_of_a_part_is_said_beside_it(tmp_path):
    """Panels, tubes and bought parts say how their holes are made."""
    method = 'method = "rule and pencil"\n'
    assert any(line.endswith("holes by rule and pencil") for line in said(SOUND + method, tmp_path))
    assert any(line.endswith("holes by rule and pencil") for line in said(SOUND_TUBE + method, tmp_path))
    bought = said(f'{SOUND}[[bought]]\nname = "motor"\n{method}', tmp_path)
    assert bought[-1] == "  motor  1    holes by rule and pencil"
