import pytest

from nestkit.checks import growth

NUMBER_TEN = {"name": "#2", "screw": "10-32", "fastener_dia": 4.826}


@pytest.mark.parametrize(
    ("length", "material", "fires"),
    [
        (580, "polycarbonate", False),
        (590, "polycarbonate", True),
        (2000, "acrylic", False),
        (2000, "plywood", False),
    ],
)
def test_a_long_polycarbonate_panel_outgrows_its_holes(build, length, material, fires):
    """At 1.35 mm a metre the .787 mm of a normal No. 10 hole is used up at 583 mm: worked by hand."""
    ends = (build.hole(1, 20, 50, 5.6134, **NUMBER_TEN), build.hole(2, 20 + length, 50, 5.6134, **NUMBER_TEN))
    made = build.panel(width=length + 40, material=material, holes=ends)
    found = list(growth.growth_against_frame(build.job(made)))
    assert bool(found) == fires
    if fires:
        assert (found[0].level, found[0].rule) == ("advice", "R070")
        assert "590 mm apart" in found[0].text
        assert "leaves its screw .787 mm" in found[0].text or "0.787 mm" in found[0].text


def test_only_screws_hold_a_sheet(build):
    """Drilled holes without a screw, or a single screw, cannot bind."""
    holes = tuple(build.hole(n, 1900 * n, 50) for n in range(2))
    assert not list(growth.growth_against_frame(build.job(build.panel(width=2000, holes=holes))))
    one = (build.hole(1, 20, 50, 5.6134, **NUMBER_TEN),)
    assert not list(growth.growth_against_frame(build.job(build.panel(width=2000, holes=one))))
