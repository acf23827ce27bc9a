"""What GDAL reads of a drawing: its lines, flattened finely, as areas; it shares no code with our reader."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pyogrio
import pyogrio.raw
import shapely


def areas(path: Path, decimals: int = 5) -> list[shapely.Polygon]:
    """Return the faces that the lines of a DXF file enclose, the largest first; ends are rounded to meet."""
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": 0.5, "DXF_CLOSED_LINE_AS_POLYGON": False})
    _, _, blobs, (kinds,) = pyogrio.raw.read(str(path), columns=["SubClasses"])
    shapes = [
        shapely.force_2d(shape)
        for shape, kind in zip(shapely.from_wkb(blobs), kinds, strict=True)
        if not any(word in (kind or "") for word in ("Hatch", "Dimension", "Text"))
    ]
    lines = [g for g in shapely.get_parts(shapes) if shapely.get_dimensions(g) == 1]
    met = shapely.transform(np.array(lines), lambda xy: np.round(xy, decimals))
    return faces(met)


def faces(lines) -> list[shapely.Polygon]:
    """Return the areas that lines enclose, without their holes' areas, the largest first."""
    found = shapely.get_parts(shapely.polygonize(list(shapely.get_parts(shapely.unary_union(lines)))))
    return sorted(found, key=lambda p: -shapely.area(shapely.Polygon(p.exterior)))


def of_outline(outline) -> shapely.Polygon:
    """Return one of our outlines as a polygon, flattened finely."""
    return shapely.Polygon(outline.flattened(0.001))


def compare(panel, found: list[shapely.Polygon], tolerance: float) -> None:
    """Assert that a panel is the largest face: bounds, outline, and what is cut out, to a distance."""
    face = found[0]
    left, bottom, right, top = face.bounds
    assert abs(float(panel.width) - (right - left)) <= tolerance
    assert abs(float(panel.height) - (top - bottom)) <= tolerance
    cut = [of_outline(o.outline) for o in panel.openings]
    cut += [shapely.Point(h.at).buffer(h.dia / 2, quad_segs=64) for h in panel.holes]
    whole = of_outline(panel.outline)
    assert all(whole.contains(hole) for hole in cut)
    ours = shapely.difference(whole, shapely.unary_union(cut))
    theirs = shapely.transform(face, lambda xy: xy - [left, bottom])
    assert shapely.area(ours) == abs(shapely.area(ours))
    assert shapely.hausdorff_distance(ours.boundary, theirs.boundary) <= tolerance
    assert abs(ours.area - theirs.area) <= tolerance * ours.boundary.length
    assert len(theirs.interiors) == len(cut)
