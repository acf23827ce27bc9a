"""How well holes are made, practice pieces, and the shop's drills: defaults and what each key means."""

from __future__ import annotations

from fractions import Fraction

import pytest

from nestkit.geometry.points import Point
from nestkit.job.model import Fitting, Temperatures
from nestkit.parts.methods import METHODS, Practice
from tests.job.texts import SOUND, mistakes, only, read

FIVE = "[[1, 1], [2, 1], [3, 1], [4, 1], [5, 1]]"
READ = FIVE.replace("[3, 1]", "[3.01, 1]")
MM = SOUND.replace('unit = "in"', 'unit = "mm"')


def test_a_job_need_not_say_how_well_it_drills(tmp_path):
    """95 in 100 is asked, by hand, each wall from its own side, no temperatures, a tenth more screws."""
    job = read(SOUND, tmp_path)
    assert job.fitting == Fitting()
    assert (job.fitting.chance, job.fitting.spares) == (Fraction(95, 100), Fraction(1, 10))
    assert job.shop_drills is None
    assert read(SOUND + "[fit]\n[shop]\n", tmp_path).fitting == Fitting()


def test_every_key_of_fit_is_read(tmp_path):
    """All of them, lengths in millimetres, shares exactly as written."""
    job = read(
        SOUND + '[fit]\nchance = 0.9\nmethod = "template"\ndrill = "press"\ntube_walls = "in one go"\n'
        "temperature = [-5, 45.5]\nmade_at = 18\nspares = 0.25\n"
        'accuracy = { "rule and pencil" = "0.4 mm", template = ".01" }\n',
        tmp_path,
    )  # fmt: skip
    assert job.fitting == Fitting(
        chance=Fraction(9, 10),
        method="template",
        press=True,
        in_one_go=True,
        temperatures=Temperatures(-5.0, 45.5, 18.0),
        accuracy=(("rule and pencil", Fraction(2, 5)), ("template", Fraction("0.254"))),
        spares=Fraction(1, 4),
    )


def test_the_limits_themselves_are_allowed(tmp_path):
    """0.5 and 0.9999, 0 and 1, the coldest and hottest, the finest and coarsest figure."""
    for chance, spares in ((("0.5"), 0), ("0.9999", 1)):
        fitting = read(f"{SOUND}[fit]\nchance = {chance}\nspares = {spares}\n", tmp_path).fitting
        assert (fitting.chance, fitting.spares) == (Fraction(chance), spares)
    text = 'temperature = [-60, 120]\naccuracy = { router = "0.001 mm", laser = "5 mm" }\n'
    fitting = read(f"{SOUND}[fit]\n{text}", tmp_path).fitting
    assert fitting.temperatures == Temperatures(-60.0, 120.0, 20.0)
    assert fitting.accuracy == (("router", Fraction(1, 1000)), ("laser", Fraction(5)))


@pytest.mark.parametrize("method", METHODS)
def test_every_method_may_be_practised(tmp_path, method):
    """A practice piece is of one method, with its points in millimetres; the table [fit] is not needed."""
    measured = FIVE.replace("[1, 1]", "[1.01, 0.99]")
    text = f'[[practice]]\nmethod = "{method}"\nwanted = {FIVE}\nmeasured = {measured}\n'
    (piece,) = read(SOUND + text, tmp_path).fitting.practice
    assert piece.method == method
    assert piece.wanted[:2] == (Point(25.4, 25.4), Point(50.8, 25.4))
    assert piece.measured[0] == Point(25.654, 25.146)
    (piece,) = read(MM + text + "[fit]\n", tmp_path).fitting.practice
    assert piece.measured[0] == Point(1.01, 0.99)


def test_pieces_of_one_method_are_kept_apart(tmp_path):
    """Two practice pieces of a method are both there, in the order of the file."""
    one = f'[[practice]]\nmethod = "template"\nwanted = {FIVE}\nmeasured = {READ}\n'
    two = one.replace("[5, 1]", "[5, 1], [6, 1]")
    pieces = read(SOUND + one + two + "[fit]\nchance = 0.9\n", tmp_path).fitting.practice
    assert [len(piece.wanted) for piece in pieces] == [5, 6]
    assert all(isinstance(piece, Practice) for piece in pieces)


def test_a_mark_may_be_off_by_10_mm(tmp_path):
    """Further off is taken for a slip of pen or unit, told in the job's unit."""
    text = f'[[practice]]\nmethod = "template"\nwanted = {FIVE}\nmeasured = {READ}\n'
    at, past = (
        text.replace("[5, 1]]\n", f"[5, {y}]]\n").replace(f"[5, {y}]", "[5, 1]", 1) for y in (11, "11.1")
    )
    assert read(MM + at, tmp_path).fitting.practice[0].measured[4] == Point(5.0, 11.0)
    found = only(MM + past, tmp_path)
    assert found.place == "practice 1, measured[4]"
    assert "10.1 mm away" in found.text


def test_the_shops_drills_are_those_of_the_table(tmp_path):
    """Names as elsewhere, a bare number is a metric drill, one named twice counts once."""
    text = '[shop]\ndrills = ["#7", "F", "1/4", "3 mm", 5, 5.5, "e", "1 in", "#7"]\n'
    drills = read(SOUND + text, tmp_path).shop_drills
    assert drills is not None
    assert [row.name for row in drills] == ["#7", "F", "1/4", "3 mm", "5 mm", "5.5 mm", "E", "1 in"]
    assert drills[0].dia == Fraction("0.201") * Fraction("25.4")


def test_all_mistakes_are_told_at_once(tmp_path):
    """What is wrong in one key hides nothing in another."""
    text = SOUND + (
        '[fit]\nchance = 2\nmethod = "x"\ndrill = 1\ntube_walls = 1\ntemperature = ["a", 999]\n'
        "made_at = 999\n"
        'spares = -1\naccuracy = { x = 1, router = "x", laser = 0 }\n'
        f'[[practice]]\nmethod = "x"\nwanted = {FIVE}\nmeasured = [[1]]\n'
        '[[practice]]\nwanted = 5\n[shop]\ndrills = ["xx", true, 99999999999, "#7"]\nsaws = 1\n'
    )
    assert [m.place for m in mistakes(text, tmp_path)] == [
        "fit, chance", "fit, method", "fit, drill", "fit, tube_walls", "fit, temperature[0]",
        "fit, temperature[1]", "fit, made_at", "fit, spares", "fit, accuracy, x", "fit, accuracy, router",
        "fit, accuracy, laser", "practice 1, method", "practice 1, measured",
        "practice 2, method", "practice 2, measured",
        "practice 2, wanted", "shop, drills[0]", "shop, drills[1]", "shop, drills[2]", "shop, saws",
    ]  # fmt: skip
