"""The compiled searches made ready: after that nothing is left to compile when the first job comes."""

from __future__ import annotations

import pytest

from nestkit.layout.ready import make_ready
from nestkit.layout.rects import lengthwise
from nestkit.layout.rects.engine import twin


@pytest.mark.skipif(not twin.can_compile(), reason="the compiler is not installed here")
def test_everything_is_compiled_at_once():
    """Each function that is called has its compiled code: both searches of sheets, and that along a roll."""
    forms = twin.compiled, lengthwise.orders_compiled
    for form in forms:
        form.cache_clear()
    assert make_ready() > 0
    for form, names in zip(forms, (("refill_all", "exchange_all"), ("lay_all", "reorder")), strict=True):
        for name in names:
            assert form().functions[name].signatures, name
