"""The outline files of the samples are what their script draws, and another program reads them so."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pyogrio
import pytest
import shapely

HERE = Path(__file__).resolve().parent
spec = importlib.util.spec_from_file_location("sample_outlines", HERE / "sample_outlines.py")
sample_outlines = importlib.util.module_from_spec(spec)
spec.loader.exec_module(sample_outlines)

DRAWN = dict(sample_outlines.files())


def drawn_part(data: bytes) -> list[str]:
    """Return blocks and entities of a file, and its unit: what does not hang on the library's version."""
    rows = data.decode("cp1252").replace("\r\n", "\n").split("\n")
    start = rows.index("BLOCKS")
    unit = rows[rows.index("$INSUNITS") + 2]
    return [unit, *rows[start : rows.index("OBJECTS")]]


def lines_of(name: str) -> list[shapely.LineString]:
    """Return what GDAL reads of a file, each line by itself, arcs as chords."""
    _, _, blobs, _ = pyogrio.raw.read(sample_outlines.FOLDER / name)
    parts = [part for shape in shapely.from_wkb(blobs) for part in shapely.get_parts(shape)]
    # A setting of GDAL makes polygons of closed lines; both readings are alike here.
    edges = [shapely.LineString(p.exterior) if p.geom_type == "Polygon" else p for p in parts]
    return [edge for edge in edges if edge.geom_type == "LineString"]


def test_the_files_are_those_of_the_script():
    """Every committed file has the entities that the script draws, and there is no other file."""
    assert {path.name for path in sample_outlines.FOLDER.iterdir()} == set(DRAWN)
    for name, data in DRAWN.items():
        committed = (sample_outlines.FOLDER / name).read_bytes()
        assert drawn_part(committed) == drawn_part(data), name


def test_the_script_draws_the_same_twice():
    """No date, path or hash order gets into a file."""
    assert dict(sample_outlines.files()) == DRAWN


@pytest.mark.parametrize(
    ("name", "unit", "size", "rounds"),
    [
        ("motor_bracket.dxf", "mm", (160, 116), 7),
        ("pulley_plate.dxf", "in", (7.625, 3), 7),
        ("gusset.dxf", "mm", (95, 125), 6),
        ("hatch_ring.dxf", "in", (9.5, 9.5), 14),
        ("rudder_horn.dxf", "mm", (84, 168), 7),
        ("cable_clip.dxf", "mm", (52, 36), 2),
    ],
)
def test_another_program_reads_size_and_holes(name, unit, size, rounds):
    """GDAL finds the size that was drawn, in the unit that the file names, and every circle."""
    lines = lines_of(name)
    assert drawn_part(DRAWN[name])[0].strip() == {"in": "1", "mm": "4"}[unit]
    left, bottom, right, top = shapely.total_bounds(lines)
    # GDAL draws arcs as chords of up to 4 degrees: they fall short by 0.06 % of the radius.
    assert (right - left, top - bottom) == pytest.approx(size, rel=2e-3)
    closed = [shapely.Polygon(line) for line in lines if line.is_closed]
    round_ones = [p for p in closed if abs(p.area / shapely.minimum_bounding_circle(p).area - 1) < 0.01]
    assert len(round_ones) == rounds


def test_the_pulley_plate_has_one_gap_of_a_hundredth():
    """Its edge closes but for 0.01 mm in one place."""
    loose = [line for line in lines_of("pulley_plate.dxf") if not line.is_closed]
    assert len(loose) == 4
    ends = [shapely.Point(line.coords[k]) for line in loose for k in (0, -1)]
    apart = sorted(min(e.distance(o) for o in ends if o is not e) * 25.4 for e in ends)
    assert apart[:6] == pytest.approx([0] * 6, abs=1e-4)
    assert apart[6:] == pytest.approx([sample_outlines.GAP] * 2, abs=1e-4)


def test_the_clip_fits_inside_the_ring():
    """The bore of the hatch ring takes a cable clip with 12.7 mm around it."""
    ring = sorted(lines_of("hatch_ring.dxf"), key=lambda line: -line.length)[1]
    bore = (ring.bounds[2] - ring.bounds[0]) * 25.4
    left, bottom, right, top = shapely.total_bounds(lines_of("cable_clip.dxf"))
    assert ((right - left) ** 2 + (top - bottom) ** 2) ** 0.5 + 2 * 12.7 < bore
