"""A file that is not TOML yet gets the remedy for the slip that it has, in the right line."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nestkit.job.slips import slip
from tests.job.texts import SOUND, marked_line, only

# Each case: lines added to a sound job (#< marks the one at fault), a part of the text and of the remedy.
CASES = {
    "fraction in a list": ("size2 = [14 1/2, 9 3/4] #<", "fraction", '"14 1/2"'),
    "fraction alone": ("corner_radius = 1/8 #<", "fraction", "quotes"),
    "fraction with a hyphen": ("corner_radius = 14-1/2 #<", "fraction", "quotes"),
    "curly quotes": ("for = “console” #<", "curly", "straight"),
    "low quotes": ("for = „console“ #<", "curly", "straight"),
    "comma missing": ("points2 = [[1, 2] [3, 4]] #<", "comma is missing", "comma"),
    "comma missing between numbers": ("size2 = [24 48] #<", "comma is missing", "comma"),
    "comma missing between texts": ('size2 = ["24" "48"] #<', "comma is missing", "comma"),
    "comma missing in braces": ("row = { start = [1, 1] count = 2 } #<", "comma is missing", "comma"),
    "two commas": ("size2 = [24,, 48] #<", "two commas", "one"),
    "True": ("buy2 = True #<", "yes or no", "true or false"),
    "False": ("buy2 = False #<", "yes or no", "true or false"),
    "yes": ("buy2 = yes #<", "yes or no", "true or false"),
    "None": ("grain2 = None #<", "no empty value", "Leave the line out"),
    "colon": ("spare2: 2 #<", "colon", "key = value"),
    "colon and equals": ("spare2 := 2 #<", "colon", "key = value"),
    "equals missing": ("spare2 2 #<", "equals sign is missing", "key = value"),
    "key missing": ("= 2 #<", "key is missing", "key = value"),
    "value missing": ("spare2 = #<", "no value", "behind the equals sign"),
    "space in a key": ("corner radius = 2 #<", "a space in it", "corner_radius"),
    "text without quotes": ("grain = none #<", "without quotes", '"saw"'),
    "length with unit without quotes": ("corner_radius = 25 mm #<", "unit stands without quotes", "152.4 mm"),
    "length with inch mark": ('corner_radius = 1/4" #<', "inch or foot mark", "6 in"),
    "inch mark in quotes": ('corner_radius = "1/4"" #<', "quote inside", '"14 1/2 in"'),
    "apostrophe in single quotes": ("for = 'the team's box' #<", "quote inside", "other kind of quotes"),
    "quote not closed": ('for = "console #<', "not closed", "same line"),
    "single quote not closed": ("for = 'console #<", "not closed", "same line"),
    "three quotes not closed": ('for = """console #<', "three quotes", "one line"),
    "size with x": ("size2 = 24 x 48 #<", "written with x", "[24, 48]"),
    "size without brackets": ("size2 = 24, 48 #<", "without brackets", "[24, 48]"),
    "texts without brackets": ('size2 = "24", "48" #<', "without brackets", "[24, 48]"),
    "size in round brackets": ("size2 = (24, 48) #<", "round brackets", "[24, 48]"),
    "size closed by a round bracket": ("size2 = [24, 48) #<", "round brackets", "[24, 48]"),
    "list with semicolon": ("size2 = [24; 48] #<", "semicolon", "commas"),
    "line with semicolon": ("spare2 = 2; #<", "semicolon", "Leave the semicolon out"),
    "number from its point": ("kerf2 = .125 #<", "begins with its decimal point", '".118"'),
    "number to its point": ("kerf2 = 5. #<", "ends with its decimal point", "5.0"),
    "leading nought": ("spare2 = 02 #<", "nought", "Leave the leading nought out"),
    "decimal comma": ("kerf2 = 2,5 #<", "decimal comma", "2.5"),
    "date of another order": ("date2 = 01/03/2026 #<", "date", "2026-03-01"),
    "date of no calendar": ("date2 = 2026-13-01 #<", "date", "2026-03-01"),
    "note with slashes": ("spare2 = 2 // two #<", "note begins with a slash", "#"),
    "backslash": ('file2 = "parts\\list.csv" #<', "backslash", "slash"),
    "key twice": ("name = 'again' #<", "written twice", "one of the two"),
    "table twice": ("[cutting] #<", "written twice", "Join the two"),
    "several in single brackets": ("[panel] #<", "written twice", "[[panel]]"),
    "bracket of a table not closed": (
        "[printing #<\npaper = 'A4'",
        "not closed with its brackets",
        "[cutting]",
    ),
    "brackets of a table not closed": (
        "[[panel] #<\nname = 'x'",
        "not closed with its brackets",
        "[[panel]]",
    ),
    "list not closed": ("size2 = [24, 48 #<\nspare2 = 3", "not closed with ]", "commas"),
    "list over lines": ("size2 = [ #<\n 24\n 48\n]", "not closed with ]", "commas"),
    "braces over lines": ("row = { #<\n start = [1, 1] }", "braces", "one line"),
    "braces not closed": ("row = { start = [1, 1], count = 2 #<\nspare2 = 1", "braces", "one line"),
    "comma before a brace": ("row = { count = 2, } #<", "comma", "Leave it out"),
    "invisible letter": ("spare\u00a02 = 1 #<", "invisible", "plain spaces"),
    "anything else": ("<html> #<", "not TOML", "key = value"),
}


@pytest.mark.parametrize(("lines", "said", "remedy"), CASES.values(), ids=CASES)
def test_a_slip_is_named_in_its_line(tmp_path, lines, said, remedy):
    """Each usual slip is one mistake, with its line and what to write."""
    text = SOUND + lines + "\n"
    found = only(text, tmp_path)
    assert said in found.text
    assert remedy in found.remedy
    assert found.line == marked_line(text)
    assert found.place == "job file"


def test_old_line_ends_are_told(tmp_path):
    """Line ends of an old kind are named as such."""
    assert "line ends" in only(SOUND.replace("\n", "\r"), tmp_path).text


def test_a_number_without_end_is_told(tmp_path):
    """A whole number of thousands of digits is one mistake with its line."""
    found = only(SOUND + "spare = " + 5000 * "9" + "\n", tmp_path)
    assert "thousands of digits" in found.text
    assert found.line == SOUND.count("\n") + 1


def test_lists_without_end_are_told(tmp_path):
    """Lists nested thousands deep are one mistake."""
    assert "lists without end" in only(SOUND + "points2 = " + 5000 * "[" + 5000 * "]" + "\n", tmp_path).text


def test_a_line_of_megabytes_is_looked_at_quickly(tmp_path):
    """A hostile line costs no more than a long one: only its beginning is looked at."""
    for line in ("x = " + '["' * 500_000, "x = 1" + " 1" * 500_000, "x = {" + "a," * 500_000):
        assert len(str(only(SOUND + line + "\n", tmp_path))) < 400


@given(st.text(alphabet="[]{}=,.#\"'\n abc012/-:\\", max_size=60))
def test_every_text_that_is_not_toml_has_its_mistake(text):
    """Whatever is not TOML gives one mistake with a line that exists and a remedy."""
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        found = slip(text, str(fault))
        assert found.text
        assert found.remedy
        assert found.line is not None
        assert 1 <= found.line <= text.count("\n") + 1
