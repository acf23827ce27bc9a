"""Relief asked for in a job: drawn in all cutting files, said in the note, no longer an advice."""

from __future__ import annotations

import pytest

from nestkit.make import make
from nestkit.writers.dxf_reader import read_dxf
from nestkit.writers.job_files import job_files
from tests.job.texts import mistakes, read

JOB = """\
job = "Solar boat"
unit = "mm"
[cutting]
how = "router"
kerf = 6
{relief}
[[sheet]]
name = "ply 9"
material = "birch plywood"
thickness = 9
size = [600, 400]
[[panel]]
name = "rib"
material = "birch plywood"
thickness = 9
size = [300, 100]
opposite_hand = 1
  [[panel.notches]]
  side = "top"
  at = 100
  size = [40, 30]
  [[panel.cutouts]]
  at = [200, 30]
  size = [40, 30]
"""


def made(tmp_path, relief: str):
    """The whole job folder by its names, and what was found."""
    done = make(read(JOB.format(relief=relief), tmp_path))
    found = dict(job_files(done.job, done.findings, done.fit, done.layout, done.estimate))
    return found, [f for f in done.findings if f.rule == "R016"]


def arcs(data: bytes) -> list[float]:
    """The bulges of all arcs in a file, sorted."""
    return sorted(v.bulge for loop in read_dxf(data).loops for v in loop.outline.vertices if v.bulge)


def test_all_cutting_files_have_the_rounds(tmp_path):
    """Each square inner corner is a half circle, on sheets and in each hand's file; the note counts them."""
    found, advice = made(tmp_path, 'relief = "corners"')
    assert not advice
    (sheet,) = (found[name] for name in found if name.startswith("sheets/") and name.endswith(".dxf"))
    for data, parts in ((found["parts/rib.dxf"], 1), (found["parts/rib-opposite-hand.dxf"], 1), (sheet, 2)):
        assert arcs(data) == pytest.approx([-1.0] * 2 * parts + [1.0] * 4 * parts)
    note = " ".join(found["sheets/hand_over.txt"].decode().split())
    assert "Inner corners relieved, as drawn" in note
    assert "rib: 6 corners" in note


def test_without_it_nothing_is_drawn(tmp_path):
    """Relief is drawn only when asked for; else the advice offers it."""
    found, advice = made(tmp_path, "")
    assert [f.text.split(":")[0] for f in advice] == ["6 inner corners without a radius"]
    assert 'relief = "corners"' in advice[0].remedy
    assert not any(arcs(data) for name, data in found.items() if name.endswith(".dxf"))
    assert "relieved" not in found["sheets/hand_over.txt"].decode()


@pytest.mark.parametrize(
    ("how", "relief", "said"),
    [("laser", "corners", "leaves no cutter's radius"), ("router", "all", "not known")],
)
def test_wrong_relief_is_a_mistake(tmp_path, how, relief, said):
    """Only a router's corners are relieved; another word is not known."""
    text = JOB.format(relief=f'relief = "{relief}"').replace('"router"', f'"{how}"')
    assert any(said in m.text for m in mistakes(text, tmp_path))
