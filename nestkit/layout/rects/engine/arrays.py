"""What the engine works on: flat rows of whole numbers, lists in plain Python, arrays when compiled.

A row holds records of equal length one after the other; the constants below each class name the places
in a record. Lengths are the steps of :class:`~nestkit.layout.rects.space.Space`. Areas, prices and costs
are shares of the largest sheet, or of the dearest, in parts of ``UNIT``; so every decision is exact, and
the same in plain Python and compiled on every machine.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple, Protocol

UNIT = 1_000_000
"""A whole sheet, or the price of the dearest."""
SLOTS = 12
"""Sheets that a move can have in hand."""
ROOM = 400
"""Empty rectangles kept for a sheet in hand; more are dropped, which only costs places."""


class Row(Protocol):
    """A list of int in plain Python, an array of int64 when compiled."""

    def __getitem__(self, index: int, /) -> int:
        """Return a number."""
        ...

    def __setitem__(self, index: int, value: int, /) -> None:
        """Change a number."""

    def __len__(self) -> int:
        """Return how many numbers there are."""
        ...


NEW_ROW = Callable[[int], Row]
"""Makes a row of zeros of a length."""

PART = 5
KIND, LEFT, BOTTOM, RIGHT, TOP = range(PART)
"""A part on a sheet: its kind and the room it takes, grown by the gap."""


class Shop(NamedTuple):
    """What does not change: sheet types, kinds of parts, ways to lie, and the rules of the search.

    ``way`` has a record for each type and kind. ``heat`` falls over a cycle of moves; ``luck`` are the
    negative logarithms of even chances, in thousandths.
    """

    type: Row
    kind: Row
    way: Row
    heat: Row
    luck: Row
    rule: Row


TYPE_FACTS = 6
WIDTH, HEIGHT, AREA, PRICE, MONEY, TYPE_MARK = range(TYPE_FACTS)
"""PRICE is a share of the dearest and counts a little for the sheet itself; MONEY is what a sheet costs in
the smallest coin of the problem."""
KEYS = 6
KIND_FACTS = 4 + KEYS
SIZE, THIN, LOW, KIND_MARK, KEY = range(5)
"""Area, least width and height anywhere, a number for the hash of a content, six sizes to order by."""
WAY_FACTS = 5
"""Number of ways, then width and height of each, at most two."""
KINDS, MOST_PARTS, SAW, DEPTH, FIRST, FULLNESS, PRESS, WINDOWS, CYCLE, MOST_SHEETS = range(10)
RULES = 10
"""In ``rule``. FIRST: 0 any, 1 along x, 2 along y. FULLNESS: what a full sheet is worth over an empty one,
in thousandths. PRESS: moves between changes of weight, 0 never. WINDOWS: 1 if what touches a window may be
taken out."""


class State(NamedTuple):
    """What a search changes: sheets with their parts, the pool of kinds without a place, what it costs.

    Sheet ``s`` has room for MOST_PARTS parts from ``s * MOST_PARTS`` on. ``free`` is how many sheets of a
    type are left, a large number where it can be bought.
    """

    sheet: Row
    part: Row
    pool: Row
    kind: Row
    free: Row
    counts: Row


SHEET_FACTS = 3
OF_TYPE, PARTS, FILL = range(SHEET_FACTS)
KIND_COST = 2
COST, WEIGHT = range(KIND_COST)
"""What leaving out a part of a kind counts; its weight in thousandths."""
SHEETS, POOL, POOL_COST, MOVES, RANDOM, ACCEPTED, PAID, BEST_POOL, BEST_PAID, BEST_SHEETS = range(10)
COUNTS = 10
"""PAID is what all sheets cost; the BEST three are the score to beat."""


class Hand(NamedTuple):
    """Sheets in hand during a move, with their empty rectangles, and rows to work in.

    Sheet ``s`` has room for MOST_PARTS + 1 parts, the last for a trial, and for ROOM empty rectangles.
    ``order`` are its parts by left and by lower side. ``out`` are the kinds that are to be laid, ``queue``
    the same in order, ``least`` the least width and height from each on, ``rest`` those without a place.
    """

    sheet: Row
    part: Row
    order: Row
    room: Row
    strip: Row
    out: Row
    queue: Row
    least: Row
    rest: Row
    tried: Row
    group: Row
    free: Row
    counts: Row


HAND_FACTS = 4
ROOMS = 3
"""A sheet in hand has the facts of a sheet, and the number of its empty rectangles."""
GROUP = 7
LABEL, FRESH, REACH, SUB, NUMBER, BEFORE, SHARES = range(GROUP)
HANDS, OUT, REST, TRIAL = range(4)
PLACE = 4
"""In ``counts``: the best place found last (slot, left, bottom, right, top, empty rectangle)."""
PICKED = 10
SWEPT = 13
"""Steps that the saw's test took."""
STRICT = 14
"""1 where each place is asked whether the sheet can still be sawn apart, 0 where only the end is."""
TAKEN = 15
"""Sheets that the move took in hand at first."""
CARVED = 16
"""1 where the empty rectangles of a move are rooms that cuts leave, 0 where they are as large as can be."""
SPLIT = 17
"""Which way a room is cut that a part is laid in: bit 0 the longer rest first, bit 1 by areas."""
HAND_COUNTS = 18


class Seen(NamedTuple):
    """Every sheet that a search accepted, each content once, for the cover of all parts by sheets.

    ``table`` is a hash table of contents. A sheet's parts begin at its START in ``part``; MARK is the hash
    of its content. Sheets less full than LEAST are not kept.
    """

    table: Row
    sheet: Row
    part: Row
    counts: Row


SEEN_FACTS = 5
START, MARK = 3, 4
KNOWN, USED, LEAST = range(3)
"""In ``counts``: sheets, parts of all of them, least FILL."""
TABLE = 1 << 16


def new_hand(row: NEW_ROW, kinds: int, types: int, most_parts: int, pieces: int) -> Hand:
    """Return rows to work in; ``pieces`` is the number of all parts."""
    per_sheet = most_parts + 1
    return Hand(
        sheet=row(SLOTS * HAND_FACTS),
        part=row(SLOTS * per_sheet * PART),
        order=row(SLOTS * per_sheet * 2),
        room=row(SLOTS * ROOM * 4),
        strip=row(ROOM * 16),
        out=row(pieces + 1),
        queue=row(pieces + 1),
        least=row(2 * pieces + 4),
        rest=row(pieces + 1),
        tried=row(max(1, kinds)),
        group=row((per_sheet + 1) * GROUP),
        free=row(max(1, types)),
        counts=row(HAND_COUNTS),
    )


def new_seen(row: NEW_ROW, sheets: int, parts: int) -> Seen:
    """Return room for so many sheets with so many parts in all."""
    return Seen(
        table=row(TABLE),
        sheet=row(max(1, sheets) * SEEN_FACTS),
        part=row(max(1, parts) * PART),
        counts=row(3),
    )
