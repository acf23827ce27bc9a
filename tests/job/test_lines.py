"""Each key of a job file is found in its line, however it is written."""

from __future__ import annotations

import tomllib

from hypothesis import given
from hypothesis import strategies as st

from nestkit.job.lines import key_lines


def test_headers_and_keys_are_found():
    """Keys at the top, in tables, in lists of tables and in tables within those."""
    text = (
        'job = "x"\n'
        "\n"
        "[cutting] # note\n"
        "kerf = 1\n"
        "[cutting.sponsor]\n"
        "kerf = 2\n"
        "[[panel]]\n"
        'name = "a"\n'
        "  [[panel.holes]]\n"
        "  at = [[1, 2]]\n"
        "  [[panel.holes]]\n"
        '  "at" = [[1, 2]]\n'
        "[[panel]]\n"
        "[[panel.holes]]\n"
        "dia = 1\n"
    )
    lines = key_lines(text)
    assert lines["job",] == 1
    assert lines["cutting", "kerf"] == 4
    assert lines["cutting", "sponsor", "kerf"] == 6
    assert lines["panel", 0, "name"] == 8
    assert lines["panel", 0, "holes", 1] == 11
    assert lines["panel", 0, "holes", 1, "at"] == 12
    assert lines["panel", 1] == 13
    assert lines["panel", 1, "holes", 0, "dia"] == 15
    assert lines["panel",] == 7


def test_values_over_several_lines_do_not_mislead():
    """Lists and texts over several lines may hold what looks like keys and headers."""
    text = (
        "a = [\n"
        '  "b = 1", # c = 2\n'
        "  [1,\n"
        "   2],\n"
        "]\n"
        'd = """\n'
        "[e]\n"
        'f = "\\""\n'
        '"""\n'
        "g = '''\n"
        "h = 1'''\n"
        "i.j = 1\n"
        '"k.l" . m = 2\n'
    )
    assert key_lines(text) == {
        ("a",): 1,
        ("d",): 6,
        ("g",): 10,
        ("i", "j"): 12,
        ("k.l", "m"): 13,
    }


def test_tables_in_braces_are_walked_through():
    """Keys in braces, in lists and nested, have their paths and lines."""
    text = (
        "x = { a = 1, b = { c = [1, 2], d = 'e = 3' }, f = \"}\" }\n"
        "holes = [\n"
        "  { name = 'p', row = { start = [1, 1], end = [2, 2] } },\n"
        "  # a note\n"
        "  { name = 'q', at = [[1, 1],\n"
        "      [2, 2]], dia = 3 },\n"
        "]\n"
        "y = 1\n"
    )
    lines = key_lines(text)
    assert lines["x", "b", "d"] == 1
    assert lines["x", "f"] == 1
    assert lines["holes", 0, "row", "end"] == 3
    assert lines["holes", 1, "at"] == 5
    assert lines["holes", 1, "dia"] == 6
    assert lines["y",] == 8


KEY = st.sampled_from(["a", "b-c", "d_e", '"f g"', "'h.i'"])
VALUE = st.recursive(
    st.sampled_from(["1", "true", '"x = 1"', "'[a]'", '"""\nb = 2\n"""', "2026-03-01", '"\\""']),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3).map(lambda v: "[\n" + ",\n".join(v) + "]"),
        st.lists(inner, max_size=3).map(lambda v: "[ # [x] = 1\n" + ", ".join(v) + "]"),
    ),
    max_leaves=6,
)


@given(st.lists(st.tuples(KEY, VALUE), max_size=6, unique_by=lambda pair: pair[0]))
def test_every_key_has_the_line_where_it_is_written(pairs):
    """The line found for a key is the one that begins with it."""
    text = "".join(f"{key} = {value}\n" for key, value in pairs)
    lines = key_lines(text)
    assert {path[0] for path in lines} == set(tomllib.loads(text))
    for path, line in lines.items():
        assert str(path[0]) in text.split("\n")[line - 1]
