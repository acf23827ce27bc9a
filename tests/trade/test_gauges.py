from fractions import Fraction

import pytest

from nestkit.trade.gauges import UnknownGauge, gauge


def test_a_gauge_number_means_another_thickness_in_each_metal():
    """16 gauge is .0508 in aluminium, .0598 steel, .0635 galvanised, .0625 stainless."""
    inches = [gauge(s, 16) / Fraction("25.4") for s in ("aluminium", "steel", "galvanised", "stainless")]
    assert inches == [Fraction(t) for t in ("0.0508", "0.0598", "0.0635", "0.0625")]


@pytest.mark.parametrize(
    ("system", "number", "says"),
    [("tin", 16, "aluminium"), ("steel", 2, "3 to 30"), ("galvanised", 15, "8 to 30")],
)
def test_an_unknown_gauge_is_told(system, number, says):
    """What the table does not have is told with what it has."""
    with pytest.raises(UnknownGauge, match=says):
        gauge(system, number)
