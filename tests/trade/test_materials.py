import pytest

from nestkit.trade.materials import density, family, is_metal, is_plastic, is_wood, plain_name
from nestkit.trade.tables import read


@pytest.mark.parametrize("text", ["Aluminum 6061", "aluminium_6061", "ALUMINIUM-6061", "  aluminum   6061 "])
def test_one_way_of_writing_a_material(text):
    """Case, space, hyphen and underscore are alike, and aluminum is aluminium."""
    assert plain_name(text) == "aluminium 6061"


@pytest.mark.parametrize(
    ("name", "expected"),
    [("polycarbonate", "polycarbonate"), ("PC", "polycarbonate"), ("clear polycarbonate", "polycarbonate"),
     ("acrylic, cast", "acrylic"), ("HDPE", "hdpe"), ("PVC (foam)", "pvc"), ("foam-PVC", "pvc"),
     ("vinyl", "pvc"),
     ("birch plywood", "plywood"), ("18 mm ply", "plywood"), ("MDF", "mdf"), ("Aluminum 5052", "aluminium"),
     ("stainless steel", "steel"), ("G10", "g10_fr4"), ("FR-4", "g10_fr4"),
     ("g10_fr4", "g10_fr4"), ("cardboard", ""),
     ("", ""), ("steelboard", ""), ("pcb", "")],
)  # fmt: skip
def test_family(name, expected):
    """A name's words tell its family; a part of a word does not."""
    assert family(name) == expected


def test_a_laser_hazard_in_a_name_is_never_overlooked():
    """A material that has PVC in it counts as PVC, whatever else it is."""
    assert family("plywood with PVC face") == "pvc"


def test_kinds():
    """Plastics, woods and metals are told apart; glass-epoxy is none of them."""
    assert is_plastic("acrylic")
    assert is_wood("mdf")
    assert is_metal("mild steel")
    assert not any(kind("G10") for kind in (is_plastic, is_wood, is_metal))


@pytest.mark.parametrize(
    ("name", "kg"),
    [("polycarbonate", 1200), ("Aluminum 5052-H32", 2680), ("aluminium 6061", 2700), ("aluminium", 2700),
     ("plywood", 680), ("baltic birch", 680), ("fir plywood", 600), ("stainless steel", 8000),
     ("steel", 7850),
     ("G10", 1850), ("PVC", 1400)],
)  # fmt: skip
def test_density(name, kg):
    """A known material has its density; an open name takes the stated default."""
    assert density(name).density == kg


def test_an_unnamed_alloy_says_what_was_assumed():
    """Aluminium without an alloy is weighed, and the row says as what."""
    assert "name the alloy" in density("aluminium").note
    assert density("cardboard") is None


def test_every_row_of_the_table_is_reached_by_its_own_name_and_is_sane():
    """Each row answers to its name, lies within its own range, and every family has a density."""
    for row in read("materials"):
        found = density(row["material"])
        assert found is not None
        assert found.least <= found.density <= found.most
        if row["material"] not in {"steel_mild"}:
            assert found.material == row["material"]
