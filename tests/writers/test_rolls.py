"""What is written of a piece off a roll: the result, lists, the note, the page, the whole folder."""

from __future__ import annotations

import csv
import io
import json
import re
from fractions import Fraction
from pathlib import Path

import pytest

from nestkit.checks.all_checks import examine
from nestkit.estimate.estimate import estimate
from nestkit.fit.fit_job import fit_job
from nestkit.writers.hand_over import hand_over
from nestkit.writers.job_files import job_files
from nestkit.writers.layout_json import layout_object, result_object
from nestkit.writers.lists import buy_csv
from nestkit.writers.summary import summary_html
from tests.laid_roll import COVERS, laid, liner

GOLDEN = Path(__file__).resolve().parents[1] / "golden"


def rows(data: bytes) -> list[dict[str, str]]:
    """Return the rows of a list as a spreadsheet would read them."""
    return list(csv.DictReader(io.StringIO(data.decode("utf-8-sig"))))


def test_the_piece_is_one_sheet_of_the_result():
    """Its height is the length used and its price the cost, to nine decimals; the bound is said alike."""
    job, layout = liner()
    (group,) = layout_object(job, layout)["groups"]
    (sheet,) = group["sheets"]
    price = Fraction("4.15") * Fraction("63.5") / 12
    assert (sheet["width_mm"], sheet["height_mm"]) == (609.6, 1612.9)
    assert sheet["price"] == group["cost"] == group["least_cost"] == float(round(price, 9))
    assert (group["cost_in"], group["sheets_used"], group["least_sheets"]) == ("price", 1, 1)
    assert group["proved"]
    assert (sheet["stock"], sheet["on_hand"], sheet["files"]) == ("liner", False, "sheets/liner-01")


def test_the_buy_list_has_the_piece():
    """One row: width and length of the piece, one to buy, its own price."""
    job, layout = liner()
    (row,) = rows(buy_csv(job, estimate(job, layout)))
    assert (row["size"], row["buy"], row["on_hand"]) == ("24 x 63.5", "1", "0")
    assert row["price"] == row["cost"] == "21.960417"
    (said,) = result_object(job, layout, estimate(job, layout))["buy"]
    assert (said["size"], said["price"], said["cost"]) == ("24 x 63.5", 21.960417, 21.960417)


def test_the_note_for_the_shop():
    """The whole note, word for word, as golden/hand_over_roll.txt has it."""
    job, layout = liner("router")
    assert hand_over(job, layout) == (GOLDEN / "hand_over_roll.txt").read_text(encoding="utf-8")


def test_the_page_says_how_much_to_buy():
    """The length stands first and large, with the price by the foot; a long piece may be high on a screen."""
    job, layout = liner()
    page = summary_html(job, fit_job(job, trials=100), layout, estimate(job, layout), examine(job), ())
    text = re.sub("<[^>]+>", " ", page)
    assert "5 ft 3 1/2 in of  liner" in text
    assert "4.15 a foot, 21.97" in text
    assert "24 in wide, cut off the roll at 63 1/2 in" in text
    assert "liner , piece off the roll" in text
    assert '<figure class="long">' not in page
    job, layout = liner(quantity=14)
    page = summary_html(job, fit_job(job, trials=100), layout, estimate(job, layout), examine(job), ())
    assert '<figure class="long">' in page


@pytest.mark.parametrize("how", ["saw", "jigsaw", "router", "laser"])
@pytest.mark.parametrize("margin", ["0", "'1/8'"])
def test_the_whole_folder_of_a_job_off_a_roll(how, margin):
    """By every way of cutting each file is written, DXF files read back, and 100 m stands nowhere."""
    job, layout = liner(how, margin)
    files = dict(job_files(job, examine(job), fit_job(job, trials=100), layout, estimate(job, layout)))
    assert "sheets/liner-01.dxf" in files
    assert ("saw_plan.pdf" in files) == (how == "saw")
    length = Fraction("1612.9") + (0 if margin == "0" else Fraction("6.35"))
    (group,) = json.loads(files["layout.json"])["groups"]
    assert group["sheets"][0]["height_mm"] == float(length)
    for name in ("summary.html", "sheets/hand_over.txt", "buy.csv", "sheets/liner-01.svg"):
        assert not re.search(r"(?<![\d.])(3937|100000)\b", files[name].decode())


def test_the_cheaper_of_two_rolls_is_cut():
    """Two by two off the wide roll cost less than one by one off the narrow one; one file, one row."""
    job, layout = laid(COVERS)
    files = dict(job_files(job, examine(job), fit_job(job, trials=100), layout, estimate(job, layout)))
    assert [n for n in files if n.endswith(".dxf") and n.startswith("sheets/")] == ["sheets/wide-01.dxf"]
    (row,) = rows(files["buy.csv"])
    assert (row["stock"], row["size"], row["cost"]) == ("wide", "1000 x 668.8", "9.3632")
    assert all(part["sheet"] == "wide-01" for part in rows(files["parts.csv"]))
