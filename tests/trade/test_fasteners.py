from fractions import Fraction
from itertools import pairwise

import pytest

from nestkit.trade.fasteners import head, nut, screw_lengths, thread, washer
from nestkit.trade.screws import UnknownScrew, all_clearances
from nestkit.trade.tables import read
from nestkit.units import parse_length

IN = Fraction("25.4")


@pytest.mark.parametrize(
    ("text", "size", "said", "pitch", "left_open"),
    [
        ("10-32", "#10", "10-32", IN / 32, False),
        ("No. 10-24", "#10", "10-24", IN / 24, False),
        ("#10", "#10", "#10", IN / 24, True),
        ("1/4-20", "1/4", "1/4-20", IN / 20, False),
        ("1/4", "1/4", "1/4", IN / 20, True),
        ("M5", "M5", "M5", Fraction("0.8"), False),
        ("m5 x 0.80", "M5", "M5", Fraction("0.8"), False),
        ("M5x0.5", "M5", "M5x0.5", None, False),
    ],
)
def test_a_thread_is_its_size_and_pitch(text, size, said, pitch, left_open):
    """Size, name, pitch; metric without one is coarse, inch without one the coarser, and said to be open."""
    found = thread(text)
    assert (found.size, found.text, found.pitch, found.open) == (size, said, pitch, left_open)


def test_what_names_no_screw_is_refused():
    """A text that is no screw is the user's mistake."""
    with pytest.raises(UnknownScrew):
        thread("wing bolt")


def test_lengths_rise_and_are_those_of_the_unit():
    """Every row of lengths rises, without a length twice."""
    for row in [*read("screw_lengths"), *read("wood_screws")]:
        lengths = [parse_length(t, row["unit"]) for t in row["lengths"].split(";")]
        assert lengths == sorted(set(lengths)), row


def test_taller_screws_have_taller_nuts_and_heads():
    """Within a kind nothing gets lower as the screw gets thicker: a slip of the pen would show."""
    for name, kind, column in [
        ("nuts", "kind", "height_max"),
        ("nuts", "kind", "across_flats"),
        ("washers", "kind", "thickness"),
        ("washers", "kind", "outside_dia"),
        ("heads", "head", "dia_max"),
        ("heads", "head", "height_max"),
    ]:
        groups: dict[tuple[str, str], list[Fraction]] = {}
        for row in read(name):
            groups.setdefault((row["system"], row[kind]), []).append(Fraction(row[column]))
        for key, values in groups.items():
            falls = [(a, b) for a, b in pairwise(values) if b < a]
            assert not falls, (name, key, column, falls)


def test_a_washer_goes_over_its_screw_and_under_its_nut():
    """The hole is larger than the screw; the outside as wide as the nut, or all but."""
    for row in all_clearances():
        found, flats = washer(row.screw), nut("nut", row.screw)
        if found and flats:
            assert found.hole > row.major, row.screw
            assert found.outside >= flats.across * Fraction(95, 100), row.screw


def test_what_the_tables_lack_is_none():
    """No nut, washer, head or length is made up."""
    assert nut("lock nut", "M2") is None
    assert washer("M7") is None
    assert head("pan", "M12") is None
    assert screw_lengths("#3") is None


def test_the_usual_screws_have_everything():
    """Screws of the boat and their neighbours have nut, lock nut, washer, heads and lengths."""
    for size in ("#4", "#6", "#8", "#10", "1/4", "5/16", "3/8", "M3", "M4", "M5", "M6", "M8", "M10"):
        assert nut("nut", size)
        assert nut("lock nut", size)
        assert washer(size)
        assert head("pan", size)
        assert head("flat", size)
        assert screw_lengths(size)


def test_values_from_memory_say_so():
    """A source names the standard, and that it comes from memory; where little is known that too."""
    assert nut("lock nut", "#10").source == "ASME B18.16.6; memory, no source"
    assert washer("M5").source == "ISO 7089; memory, no source"
