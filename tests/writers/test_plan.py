"""File names of sheets and parts: plain, unique, by the contract."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis.strategies import lists, sampled_from, text, tuples

from nestkit.writers.plan import part_files, sheet_files
from tests.laid_boat import lid_job, routed_job, simple_panel


def test_sheets_are_named_by_their_stock_and_numbered():
    """Equal stems of stock get -2 in job order; numbers have two digits at least."""
    job, layout = routed_job()
    assert [stem for _, _, stem in sheet_files(job, layout)] == ["ply-12-01", "ply-12-2-01"]
    job, layout = lid_job()
    laid = layout.groups[0]
    many = replace(laid, sheets=tuple(replace(laid.sheets[0], number=n) for n in (9, 10, 100)))
    stems = [stem for _, _, stem in sheet_files(job, replace(layout, groups=(many,)))]
    assert stems == ["pc-1-8-2x4-09", "pc-1-8-2x4-10", "pc-1-8-2x4-100"]


def test_each_hand_that_is_made_has_a_file():
    """A hand that is not made has no file; the opposite one carries it in its name."""
    job, _ = routed_job()
    assert part_files(job) == {
        ("motor bracket", False): "motor-bracket",
        ("motor bracket", True): "motor-bracket-opposite-hand",
        ("hatch cover", False): "hatch-cover",
        ("=gusset", False): "gusset",
    }
    only = replace(job, panels=(simple_panel("x", 10, 10, quantity=0, opposite_hand=1),))
    assert part_files(only) == {("x", True): "x-opposite-hand"}


@given(
    lists(
        tuples(sampled_from(["lid", "Lid", "lid opposite hand", "lid-back", "//", "con"]) | text(max_size=6)),
        max_size=8,
        unique=True,
    )
)
def test_names_never_meet(names):
    """Whatever the parts are called, no two files of fronts and backs have one name."""
    job, _ = routed_job()
    panels = tuple(simple_panel(name, 10, 10, opposite_hand=i % 2) for i, (name,) in enumerate(names))
    job = replace(job, panels=panels)
    front, back = part_files(job), part_files(job, back=True)
    stems = [*front.values(), *back.values()]
    assert len(set(stems)) == len(stems)
    assert front.keys() == back.keys()
