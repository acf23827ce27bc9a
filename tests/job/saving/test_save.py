"""Saving a changed tree into the text of a job file: everything else stays to the letter."""

from __future__ import annotations

import copy
import json
import random
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nestkit.errors import ToolFault, UserError
from nestkit.job.reader import toml_data
from nestkit.job.saving.blocks import blocks_of
from nestkit.job.saving.body import check
from nestkit.job.saving.same import same, without_was
from nestkit.job.saving.save import saved_text
from nestkit.job.starter import starter_text
from nestkit.page.trees import tree_of

SAMPLES = Path(__file__).resolve().parents[3] / "sample_parts"
TEXTS = {path.stem: path.read_text(encoding="utf-8") for path in sorted(SAMPLES.glob("*.toml"))}
TEXTS["starter"] = starter_text()
TEXTS["odd"] = """\
\"job\" = 'a job'  # its name
unit = "in"
margin.left = 1   # dotted
margin.right = 2
sizes = [  # over lines
  [1, 2],  # first
  [3.50, 4],

  # a note
]
inline = { a = 1, b = { c = "x" } }
text = \"\"\"
[not a header]
# not a comment
\"\"\"

# of the cutting
[cutting]
how = "saw"

[[panel]]
name = "one"
[panel.outline_layers]
edge = ["A"]

[cutting.sponsor]  # after a panel
how = "router"

[[panel]]  # a second
name = "two"
[[panel.holes]]
dia = 1
# the end of two

# ---- a section ----

[[panel]]
name = "three"
holes = [{ dia = 1 }, { dia = 2 }]
# the very end"""


def tree(text):
    """Return what the browser has of a text."""
    return tree_of(toml_data(text))


def expected(changed):
    """Return what a saved text must hold."""
    return without_was(changed)


@pytest.mark.parametrize("name", TEXTS)
def test_blocks_are_the_text(name):
    """Joined again, the blocks of a text are that text."""
    assert "".join(block.text for block in blocks_of(TEXTS[name])) == TEXTS[name]


@pytest.mark.parametrize("name", TEXTS)
def test_nothing_changed_nothing_written(name):
    """A tree that was not changed gives the same text, to the letter, whatever its line ends."""
    for text in (TEXTS[name], TEXTS[name].replace("\n", "\r\n")):
        assert saved_text(text, tree(text)) == text


def test_one_value_is_one_line():
    """A changed value changes its own line; the comment behind it stays, and so do other numbers' texts."""
    text = TEXTS["solar_boat"]
    changed = tree(text)
    changed["bar"][0]["trim"] = "3/8"
    saved = saved_text(text, changed).splitlines()
    old = text.splitlines()
    assert [(a, b) for a, b in zip(old, saved, strict=True) if a != b] == [
        (
            'trim     = "1/4"                # each end as it comes is not square',
            'trim     = "3/8"                # each end as it comes is not square',
        )
    ]


def test_a_copy_has_the_look_of_its_list():
    """A table that was copied stands behind the one before it, written as its neighbours are."""
    text = TEXTS["solar_boat"]
    changed = tree(text)
    fresh = {
        "name": "lid two",
        "material": "polycarbonate",
        "holes": [{"name": "a", "dia": 1, "at": [[1, 1]]}],
    }
    changed["panel"].insert(1, fresh)
    saved = saved_text(text, changed)
    block = (
        '[[panel]]\nname      = "lid two"\nmaterial  = "polycarbonate"\n'
        '  [[panel.holes]]\n  name  = "a"\n  dia   = 1\n  at    = [[1, 1]]\n\n[[panel]]\n'
    )
    assert block in saved


def test_tables_move_with_their_comments():
    """A table that is moved takes what is in it and the comment above it along; section comments stay."""
    text = "job = 1\n\n# of one\n[[bar]]\na = 1 # x\n\n# section\n\n[[bar]]\na = 2\n\n[end]\n"
    changed = tree(text)
    changed["bar"].reverse()
    assert saved_text(text, changed) == (
        "job = 1\n\n[[bar]]\na = 2\n\n# section\n\n# of one\n[[bar]]\na = 1 # x\n\n[end]\n"
    )


def test_a_deleted_table_leaves_the_rest():
    """A table that is taken out goes with the comment right above it, and with nothing else."""
    text = "# top\n\n# of one\n[[bar]]\na = 1\n\n# section\n\n# of two\n[[bar]]\na = 2\n"
    changed = tree(text)
    del changed["bar"][1]
    assert saved_text(text, changed) == "# top\n\n# of one\n[[bar]]\na = 1\n\n# section\n\n"


def test_out_of_order_tables():
    """Tables that are not together can be changed and taken out; to be moved they have to be together."""
    text = TEXTS["odd"]
    changed = tree(text)
    changed["cutting"]["sponsor"]["kerf"] = "1/4"
    changed["panel"][0]["outline_layers"]["holes"] = ["B"]
    del changed["panel"][1]
    saved = saved_text(text, changed)
    assert same(toml_data(saved), expected(changed))
    assert "[cutting.sponsor]  # after a panel\n" in saved
    split = "[[panel]]\nname = 1\n\n[cutting]\nhow = 1\n\n[[panel.holes]]\ndia = 1\n\n[[panel]]\nname = 2\n"
    moved = tree(split)
    moved["panel"].reverse()
    with pytest.raises(UserError, match="other tables stand in the middle of panel 1"):
        saved_text(split, moved)


def test_dotted_and_inline():
    """Dotted keys, tables in braces and lists over several lines are changed where they stand."""
    text = TEXTS["odd"]
    changed = tree(text)
    changed["margin"]["left"] = 5
    changed["inline"]["b"]["c"] = "y"
    changed["sizes"][1] = [3.5, 9]
    changed["panel"][2]["holes"][1]["dia"] = 7
    saved = saved_text(text, changed)
    assert same(toml_data(saved), expected(changed))
    assert "margin.left = 5   # dotted\n" in saved
    assert "  [1, 2],  # first\n  [3.50, 9],\n" in saved
    assert 'inline = { a = 1, b = { c = "y" } }' in saved
    assert "holes = [{ dia = 1 }, { dia = 7 }]" in saved


def test_line_ends_stay():
    """A file of Windows keeps its line ends in lines old and new."""
    text = TEXTS["starter"].replace("\n", "\r\n")
    changed = tree(text)
    changed["panel"].append({"name": "new", "size": [1, 2]})
    saved = saved_text(text, changed)
    assert saved.count("\n") == saved.count("\r\n")
    assert same(toml_data(saved), expected(changed))


def test_days_stay_days():
    """A date is written as a date, not as a text in quotes."""
    text = "date = 2026-03-02\n"
    assert saved_text(text, {"date": "2026-04-01"}) == "date = 2026-04-01\n"
    assert saved_text("a = 1\n", {"a": 1, "date": "2026-04-01"}) == "a = 1\ndate = 2026-04-01\n"
    assert saved_text(text, {"date": "soon"}) == 'date = "soon"\n'


def test_from_nothing():
    """A tree can be written into an empty text."""
    made = saved_text(
        "", {"job": "x", "cutting": {"how": "saw", "fine": {"kerf": 1}}, "panel": [{"name": "a"}]}
    )
    assert made == (
        'job = "x"\n\n[cutting]\nhow = "saw"\n\n[cutting.fine]\nkerf = 1\n\n[[panel]]\nname = "a"\n'
    )


@pytest.mark.parametrize("text", ["\ud800", "a\udfff"])
def test_half_letters_are_refused(text):
    """What no file can hold is refused in a sentence."""
    with pytest.raises(UserError, match="half a letter"):
        saved_text("a = 1\n", {"a": text})


def test_what_does_not_agree_is_a_fault():
    """A text that does not say what the tree does is never handed out."""
    with pytest.raises(ToolFault, match="does not say"):
        check("a = 1\n", {"a": 2})


@pytest.mark.parametrize(
    "value",
    [
        'quote " and \\ and \t',
        "line\nend",
        "\x00\x1f\x7f",
        "ø ☃ 😀",
        "",
        10**40,
        -0.001,
        1e-40,
        1e300,
        True,
        [],
        {},
    ],
)
def test_every_value_comes_back(value):
    """Whatever a browser can send is read again as what it was."""
    assert same(
        toml_data(saved_text("a = 1\n", {"a": value, "b": [value, {"c": value}]}))["b"], [value, {"c": value}]
    )


SCALARS = st.one_of(
    st.integers(-1000, 1000),
    st.floats(-1e6, 1e6, allow_nan=False).map(lambda x: round(x, 4)),
    st.sampled_from(["18 3/4", "5.5 mm", 'a "b"', "ø", "2026-01-01", "", "[x]", "# y"]),
    st.booleans(),
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(st.sampled_from(["at", "x y", "size", "é"]), inner, max_size=3),
    ),
    max_leaves=5,
)


def edited(random_: random.Random, value, draw):
    """Change something in a tree: a value, a key, a table added, copied, deleted or moved."""
    while True:
        keys = [key for key in value if key != "_was"]
        if not keys or random_.random() < 0.1:
            value[random_.choice(["gap", "note", "hold", "panel", "new key"])] = draw(VALUES)
            return
        key = random_.choice(keys)
        inner = value[key]
        if isinstance(inner, dict) and random_.random() < 0.7:
            value = inner
            continue
        if isinstance(inner, list) and inner and all(isinstance(item, dict) for item in inner):
            if random_.random() < 0.6:
                value = random_.choice(inner)
                continue
            change_list(random_, inner)
            return
        if random_.random() < 0.3:
            del value[key]
        else:
            value[key] = draw(VALUES)
        return


def change_list(random_: random.Random, tables):
    """Add, copy, delete or move a table of a list."""
    at = random_.randrange(len(tables))
    what = random_.choice(["delete", "move", "copy", "add"])
    if what == "delete":
        del tables[at]
    elif what == "move":
        tables.insert(random_.randrange(len(tables)), tables.pop(at))
    elif what == "copy":
        tables.insert(at, copy.deepcopy(tables[at]))
    else:
        tables.insert(at, {"name": "fresh", "holes": [{"dia": 1}], "margin": {"left": 1}})


def moved(old, changed):
    """Say whether panels of a job stand in another order than they did."""
    places = [item.get("_was") for item in changed.get("panel", []) if isinstance(item, dict)]
    kept = list(dict.fromkeys(place for place in places if place is not None))
    return isinstance(changed.get("panel"), list) and kept != sorted(kept)


@settings(max_examples=60, deadline=None)
@given(
    data=st.data(), name=st.sampled_from(sorted(TEXTS)), seed=st.integers(0, 10**6), count=st.integers(1, 6)
)
def test_any_edits(data, name, seed, count):
    """Whatever is edited: the text says what the tree does, and tables left alone stay to the letter."""
    text, random_ = TEXTS[name], random.Random(seed)
    old, changed = tree(text), tree(text)
    for _ in range(count):
        edited(random_, changed, data.draw)
    if name == "odd" and moved(old, changed):
        # Its tables are not together: what a test above holds.
        return
    saved = saved_text(text, changed)
    assert same(toml_data(saved), expected(changed))
    for block in blocks_of(text):
        if block.path and len(block.path) > 1 and isinstance(block.path[1], int):
            kind, place = block.path[:2]
            kept = changed.get(kind)
            kept = kept if isinstance(kept, list) else []
            if any(json.dumps(item) == json.dumps(old[kind][place]) for item in kept):
                assert block.text.rstrip("\n") in saved
