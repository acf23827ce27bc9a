"""Cutting files without the holes that are drilled through another part, and the note that says so."""

from __future__ import annotations

import pytest

from nestkit.layout.lay_out import lay_out
from nestkit.make import make
from nestkit.writers.as_cut import as_cut
from nestkit.writers.dxf_reader import read_dxf
from nestkit.writers.hand_over import hand_over
from nestkit.writers.job_files import job_files, pack_files
from tests.drawing.together_bench import job, joint, own, own_on_b, panel, tube

MORE = "quantity = 1\nopposite_hand = 1"


def routed(how="router"):
    """A plate, and a panel of both hands whose drawn one is drilled through it."""
    return job(panel("plate"), panel("back", more=MORE) + own(), joint("plate", "back"), how=how)


def files(made):
    """The whole job folder by its names."""
    done = make(made)
    return dict(job_files(done.job, done.findings, done.fit, done.layout, done.estimate))


@pytest.mark.parametrize("how", ["router", "laser", "saw"])
def test_no_cutting_file_has_holes_that_are_drilled_through_another_part(how):
    """The drawn hand has its own hole alone, the opposite one and the leader all of theirs."""
    found = files(routed(how))
    rings = {name: len(read_dxf(data).rings) for name, data in found.items() if name.endswith(".dxf")}
    assert rings.pop("parts/plate.dxf") == 3
    assert rings.pop("parts/back.dxf") == 1
    assert rings.pop("parts/back-opposite-hand.dxf") == 4
    assert sum(rings.values()) == 3 + 1 + 4
    assert "drill_together.pdf" in found


def test_the_note_for_the_shop_says_what_is_not_in_the_files():
    """By part, hand and leader; what is drilled later for other reasons stands apart from it."""
    made = routed()
    note = hand_over(made, lay_out(made))
    assert "Not in the files: drilled later, through the part they are bolted to:" in note
    assert "    back: holes 1 to 3: drilled through plate" in note
    sawn = routed("saw")
    note = hand_over(sawn, lay_out(sawn))
    assert "    back: holes 1 to 3: drilled through plate" in note
    # The opposite hand is marked as usual.
    assert "    back: holes 1, 2, 3: 5.5 mm\n" in note
    plain = job(panel("plate"), how="router")
    assert "Not in the files" not in hand_over(plain, lay_out(plain))


def test_a_sheet_without_joints_is_left_as_it_is():
    """Nothing is made anew where nothing is to be left out."""
    made = job(panel("plate"))
    [sheet] = lay_out(made).groups[0].sheets
    assert as_cut(made, sheet, made.groups[0].way) is sheet


def test_a_bench_gets_its_pages():
    """A pack has what its parts lead or follow in, by the whole job: also where the leader is elsewhere."""
    made = job(
        panel("plate"), panel("back", more='for = "hull"') + own(),
        tube("beam", more='for = "hull"') + own_on_b(),
        joint("plate", "back"), joint("plate", "beam", name="k"),
    )  # fmt: skip
    layout = lay_out(made)
    hull = [part for part in made.parts if part.used_for == "hull"]
    names = dict(pack_files(made, layout, hull))
    assert {"drill_together.pdf", "bench_cards.pdf", "marking_out.pdf", "templates/back.pdf"} <= set(names)
    alone = job(panel("plate", more='for = "hull"'), panel("back"), panel("end"), joint("back", "end"))
    assert "drill_together.pdf" not in dict(pack_files(alone, lay_out(alone), alone.panels[:1]))
