"""Jobs of many equal parts under the saw: on a sheet, off a roll, in several sizes."""

from __future__ import annotations

from hypothesis import strategies as st

HEAD = """
job = "Solar boat: cell tray spacers"
unit = "{unit}"
[cutting]
how = "saw"
kerf = "{kerf}"
{keys}
[[sheet]]
name = "tray sheet"
material = "MDF"
thickness = "6 mm"
size = [{size}]
"""

PANEL = """
[[panel]]
name = "{name}"
material = "MDF"
thickness = "6 mm"
size = [{size}]
quantity = {quantity}
"""

ON_A_SHEET = HEAD.format(unit="mm", kerf="3 mm", keys="", size="1220, 2440") + PANEL.format(
    name="spacer", size="98, 94", quantity=300
)
"""300 equal parts in twelve columns on one sheet."""

OFF_A_ROLL = HEAD.format(unit="in", kerf="1/8", keys="", size='24, "roll"') + PANEL.format(
    name="deck pad", size='"5 3/4", "4 1/2"', quantity=400
)
"""400 equal parts in four columns off 38 ft of a roll."""


@st.composite
def jobs_of_many(draw) -> str:
    """Jobs of a few sizes with many copies each, on sheets and off rolls, in either unit."""
    side = st.sampled_from([60, 90, 140, 200, 255])
    panels = "".join(
        PANEL.format(
            name=f"p{i}",
            size=f'"{draw(side)} mm", "{draw(side)} mm"',
            quantity=draw(st.integers(1, 16)),
        )
        for i in range(draw(st.integers(1, 3)))
    )
    keys = draw(st.sampled_from(["", 'gap = "7 mm"', 'margin = "5 mm"', 'prefer = "few cuts"', "stages = 2"]))
    size = draw(st.sampled_from(['"900 mm", "600 mm"', '"610 mm", "2440 mm"', '"610 mm", "roll"']))
    kerf = draw(st.sampled_from(["3 mm", "1/8 in"]))
    return HEAD.format(unit=draw(st.sampled_from(["in", "mm"])), kerf=kerf, keys=keys, size=size) + panels
