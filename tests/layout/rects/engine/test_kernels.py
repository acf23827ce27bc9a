"""Modules with two forms under a name of their own: copies call copies, what is compiled is kept apart."""

from __future__ import annotations

import pytest

from nestkit.layout.rects.engine import chance, orders, skyline, strip, twin
from nestkit.layout.rects.engine.twin import Kernels
from nestkit.layout.rects.lengthwise import ORDERS

ONE, TWO = Kernels("one", (chance,)), Kernels("two", (chance,))


@pytest.fixture
def fresh(tmp_path, monkeypatch):
    """Keep what is compiled in a folder of the test's own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path))
    monkeypatch.setattr(twin.sys, "platform", "linux")
    return tmp_path / "nestkit"


def test_plain_functions_are_copies_that_call_copies():
    """What a copy calls is the copy, so that one form never runs into the other."""
    functions = ORDERS.plain().functions
    assert functions["reorder"] is not orders.reorder
    for name in ("lay_all", "change", "undo", "draw"):
        assert functions["reorder"].__globals__[name] is functions[name]
    assert functions["lay_along"].__globals__["put"] is functions["put"] is not strip.put
    assert skyline.lay_along.__globals__["put"] is strip.put


@pytest.mark.skipif(not twin.can_compile(), reason="the compiler is not installed here")
def test_each_name_and_each_source_has_a_folder_of_its_own(fresh):
    """Code of other modules, or kept under another name, is not taken for one's own."""
    folders = [kernels._folder() for kernels in (ONE, TWO, Kernels("one", (chance, strip)))]
    assert len({*folders, twin.cache_folder(*twin.compilers())}) == 4
    assert all(folder.parent == fresh for folder in folders)
    assert ONE._folder() == folders[0]


@pytest.mark.skipif(not twin.can_compile(), reason="the compiler is not installed here")
def test_only_what_is_kept_is_said_to_be_kept(fresh):
    """Nothing at first; once one is compiled it is kept, and the other is still to be compiled."""
    assert not ONE.is_kept()
    form = ONE.compiled()
    row = form.row(3)
    row[:] = 3, 1, 2
    form.functions["sort_first"](row, 3)
    assert list(row) == [1, 2, 3]
    assert ONE.is_kept()
    assert not TWO.is_kept()
