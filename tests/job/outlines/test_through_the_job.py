"""Parts from outline files on their way through a whole job, in inches and millimetres, routed and sawn."""

from __future__ import annotations

import json

import pytest
import shapely
from typer.testing import CliRunner

from nestkit.cli.app import app
from nestkit.job.reader import read_job
from tests.job.outlines.drawings import PANEL, TOP, dxf, svg
from tests.job.outlines.good_dxf import GOOD
from tests.job.outlines.judge import areas, of_outline


def job_in(folder, unit, how):
    """Write a job of three parts, two from DXF and one from SVG, and return its path."""
    for name in ("rounded_plate_with_holes", "arcs_and_lines"):
        (folder / f"{name}.dxf").write_bytes(dxf(GOOD[name]))
    (folder / "horn.svg").write_bytes(
        svg('<path d="M10 10H80A15 15 0 0 1 80 40H10L30 25Z"/><circle cx="60" cy="25" r="2"/>')
    )
    text = TOP.format(unit=unit, how=how) + PANEL.format(name="plate", file="rounded_plate_with_holes.dxf")
    text += "quantity = 2\nopposite_hand = 1\n" + PANEL.format(name="strap", file="arcs_and_lines.dxf")
    text += (
        PANEL.format(name="horn", file="horn.svg")
        + '[[panel.holes]]\nname = "pin"\ndrill = "3 mm"\nat = [["30 mm", "10 mm"]]\n'
    )
    path = folder / "job.toml"
    path.write_text(text)
    return path


def run(*args):
    """Run a command that may have findings but no mistakes; return what it says."""
    done = CliRunner().invoke(app, list(args))
    assert done.exit_code in (0, 1), done.output
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    return done.output


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("how", ["router", "saw", "jigsaw"])
def test_a_whole_job_folder_is_made(unit, how, tmp_path):
    """Layout, sheets, parts, templates and prints are written; GDAL reads the part's DXF as it was drawn."""
    path, out = job_in(tmp_path, unit, how), tmp_path / "out"
    run("nest", str(path), "--out", str(out), "--quiet", "--effort", "quick")
    layout = json.loads((out / "layout.json").read_text())
    placed = [p for s in layout["groups"][0]["sheets"] for p in s["parts"]]
    assert len(placed) == 5
    files = (out / "files.txt").read_text().split()
    assert {
        "parts/plate.dxf",
        "parts/plate-opposite-hand.dxf",
        "parts/horn.dxf",
        "templates/plate.pdf",
    } <= set(files)
    assert "saw_plan.pdf" in files or how != "saw"
    scale = 25.4 if unit == "in" else 1.0
    panels = {p.name: p for p in read_job(path).panels}
    for name, panel in panels.items():
        face = areas(out / "parts" / f"{name}.dxf", 6)[0]
        ours = of_outline(panel.outline)
        assert shapely.area(shapely.Polygon(face.exterior)) * scale**2 == pytest.approx(ours.area, rel=1e-4)
        assert len(face.interiors) == len(panel.openings) + len(panel.holes)


def test_check_shows_what_was_read(tmp_path):
    """The command's output has the file and the unit of each part, and its numbered holes as the job's."""
    said = " ".join(run("check", str(job_in(tmp_path, "in", "router"))).split())
    assert "horn.svg: its size in mm, as the file says" in said
    assert "arcs_and_lines.dxf: in millimetres, as the file says" in said


def test_templates_alone(tmp_path):
    """A template of a part from a file has its drawn holes, both faces."""
    path, out = job_in(tmp_path, "mm", "jigsaw"), tmp_path / "out"
    run("template", str(path), "horn", "--back", "--out", str(out))
    assert (out / "horn.svg").exists()
    assert (out / "horn-back.pdf").exists()
