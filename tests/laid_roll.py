"""Small jobs off a roll whose shortest layouts are plain to see, read from text and laid out."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from nestkit.job.model import Job
from nestkit.job.reader import read_text
from nestkit.layout.lay_out import lay_out
from nestkit.layout.result import JobLayout

LINER = """
job = "Solar boat: locker liners"
unit = "in"
[cutting]
how = "{how}"
kerf = "1/8"
gap = "1/8"
margin = {margin}
[[sheet]]
name = "liner"
material = "HDPE"
thickness = "1/8"
sold_as = "3.2 mm"
size = [24, "roll"]
price = 4.15
[[panel]]
name = "floor"
for = "locker"
material = "HDPE"
thickness = "1/8"
size = ["23 1/2", 20]
quantity = 2
[[panel]]
name = "lid"
for = "locker"
material = "HDPE"
thickness = "1/8"
size = ["23 1/2", "23 1/4"]
turn = "half"
  [[panel.holes]]
  name = "rim"
  screw = "10-32"
  corners = 1
"""
"""Three parts one behind the other: 20 + 20 + 23 1/4 and two gaps are 63 1/2 in."""

COVERS = """
job = "Solar boat: covers"
unit = "mm"
[cutting]
how = "router"
kerf = 6
gap = 6
margin = { left = 10, right = 10, bottom = 20, top = 30 }
[[sheet]]
name = "narrow"
material = "HDPE"
thickness = 3
size = [500, "roll"]
price = 9.00
[[sheet]]
name = "wide"
material = "HDPE"
thickness = 3
size = [1000, "roll"]
price = 14.00
[[panel]]
name = "cover"
material = "HDPE"
thickness = 3
size = [480, 306.4]
turn = "half"
quantity = 4
"""
"""Four covers off the narrow roll take 1293.6 mm; off the wide one, two by two, 668.8 mm: cheaper."""

MANY = """
job = "Solar boat: linings"
unit = "{unit}"
[cutting]
how = "{how}"
kerf = 3
[[sheet]]
name = "lining"
material = "HDPE"
thickness = "3 mm"
size = ["610 mm", "roll"]
grain = "y"
"""
"""A roll for many linings, of which each is another: see :func:`linings`."""


@cache
def liner(how: str = "saw", margin: str = "0", quantity: int = 2) -> tuple[Job, JobLayout]:
    """Return the locker liners, laid out; with more floors the piece is longer by 20 1/8 in each."""
    text = LINER.replace("{how}", how).replace("{margin}", margin)
    return laid(text.replace("quantity = 2", f"quantity = {quantity}"))


@cache
def linings(how: str = "saw", unit: str = "in", count: int = 40) -> tuple[Job, JobLayout]:
    """Return so many different linings off one roll, small ones among them, laid out."""
    panels = [
        f"""[[panel]]
name = "lining {i}"
material = "HDPE"
thickness = "3 mm"
size = ["{60 + 97 * i % 520} mm", "{50 + 61 * i % 430} mm"]
opposite_hand = {i % 2}
"""
        for i in range(count)
    ]
    head = MANY.replace("{how}", how).replace("{unit}", unit).replace("kerf = 3", 'kerf = "3 mm"')
    return laid(head + "\n".join(panels))


@cache
def laid(text: str) -> tuple[Job, JobLayout]:
    """Return the job of a text, laid out quickly."""
    job = read_text(text, Path())
    return job, lay_out(job, effort="quick")
