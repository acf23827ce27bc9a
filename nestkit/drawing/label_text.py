"""What a label says, as large as its room allows: the name first, what does not fit left out whole."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from nestkit.drawing.model import Text
from nestkit.drawing.type import ASCENT, fitted, text_width
from nestkit.geometry.points import Point, Rect

SMALL = (35.0, 15.0)
"""A label narrower or lower than this, in mm, says only what matters most."""

_LEAST, _LEAST_SMALL = 1.9, 1.5
"""Type sizes in mm below which words are left out: about 5 1/2 and 4 1/4 points."""
_LARGEST = 1.8
_STEP = 0.94
_BETWEEN = 0.2
"""Between two lines, as a share of the lower one's type size."""
_SQUEEZE = 0.8
"""A row may be this much smaller than its like before it takes two lines."""
_JOIN = " · "


@dataclass(frozen=True, slots=True)
class Item:
    """One thing that a label says; of two items the one of higher ``rank`` is left out first."""

    rank: int
    text: str


@dataclass(frozen=True, slots=True)
class Row:
    """Things that stand in one line where it is long enough; ``height`` is the size of the type in mm."""

    items: tuple[Item, ...]
    height: float
    bold: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """All that a label may say: the head, which is never left out, and rows from the top down."""

    head: str
    head_height: float
    rows: tuple[Row, ...]
    least: float = _LEAST


def full_words(head: str, rows: Sequence[Row]) -> Words:
    """Return the words of a label of usual size."""
    return Words(head, 7.0, tuple(rows))


def few_words(head: str, items: Sequence[Item]) -> Words:
    """Return the words of a small label: its head, and one row that takes as many lines as it must."""
    return Words(head, 5.0, (Row(tuple(items), 3.2),), _LEAST_SMALL)


@dataclass(frozen=True, slots=True)
class _Line:
    text: str
    size: float
    bold: bool


def set_words(words: Words, room: Rect) -> tuple[Text, ...]:
    """Return the words set in a room: the largest type in which the most of them find a place."""
    rows = [_that_can_fit(row, room.width, words.least) for row in words.rows]
    ranks = sorted(item.rank for row in rows for item in row.items)
    for kept in range(len(ranks), -1, -1):
        within = frozenset(ranks[:kept])
        lines = _largest(words, [_of_rank(row, within) for row in rows], room)
        if lines:
            return _placed(lines, room)
    # Room for nothing but the name, which may then be cut.
    text, size = fitted(
        words.head, room.width, min(words.head_height, room.height), least=words.least, bold=True
    )
    return _placed([_Line(text, min(size, room.height), True)], room)


def _of_rank(row: Row, within: frozenset[int]) -> Row:
    return Row(tuple(i for i in row.items if i.rank in within), row.height, row.bold)


def _that_can_fit(row: Row, width: float, least: float) -> Row:
    """Return a row without the items that are too long even in the smallest type."""
    items = tuple(i for i in row.items if _in_lines(i.text, width, least, row.bold))
    return Row(items, row.height, row.bold)


def _largest(words: Words, rows: Sequence[Row], room: Rect) -> list[_Line]:
    """Return the lines of head and rows in the largest type that fits; empty where none does."""
    rows = [row for row in rows if row.items]
    heights = [words.head_height, *(row.height for row in rows)]
    scale = min(_LARGEST, room.height / _height(heights))
    while scale * min(heights) >= words.least * (1 - 1e-9):
        lines = _head(words.head, room.width, words.head_height * scale, words.least)
        for row in rows:
            lines += _row(row, room.width, row.height * scale, words.least)
        if _height([line.size for line in lines]) <= room.height * (1 + 1e-9):
            return lines
        # The last try is in the smallest type itself.
        smaller, smallest = scale * _STEP, words.least / min(heights)
        scale = smaller if smaller >= smallest or scale <= smallest else smallest
    return []


def _height(sizes: Sequence[float]) -> float:
    return sum(sizes) + _BETWEEN * sum(sizes[1:])


def _head(text: str, width: float, size: float, least: float) -> list[_Line]:
    """Return the name in bold: in one line, somewhat smaller, in two, and only then cut."""
    wide = text_width(text, 1.0, bold=True)
    if wide * size <= width:
        return [_Line(text, size, True)]
    if wide * _SQUEEZE * size <= width:
        return [_Line(text, width / wide, True)]
    first, second = _halves(text)
    half = max(text_width(first, 1.0, bold=True), text_width(second, 1.0, bold=True))
    in_two = min(_SQUEEZE * size, width / half) * (1 - 1e-9)
    if in_two >= least:
        return [_Line(first, in_two, True), _Line(second, in_two, True)]
    first = _as_much(text, width / least)
    second, in_two = fitted(text[len(first) :].strip(), width, least, least=least, bold=True)
    return [_Line(first.strip(), least, True), _Line(second, in_two, True)]


def _halves(text: str) -> tuple[str, str]:
    """Return a text in two parts as equal in width as a space allows; in the middle where it has none."""
    spaces = [i for i, letter in enumerate(text) if letter == " "] or [len(text) // 2]

    def longer(i: int) -> float:
        return max(text_width(text[:i], 1.0, bold=True), text_width(text[i:].strip(), 1.0, bold=True))

    at = min(spaces, key=longer)
    middle = len(text) // 2
    # One long word beside short ones: better parted within it than set very small.
    if longer(at) > 1.5 * longer(middle):
        at = middle
    return text[:at].strip(), text[at:].strip()


def _as_much(text: str, width: float) -> str:
    """Return as much of the beginning of a text as takes a width in type of size 1."""
    end = len(text)
    while end > 1 and text_width(text[:end], 1.0, bold=True) > width:
        end -= 1
    return text[:end]


def _row(row: Row, width: float, size: float, least: float) -> Iterator[_Line]:
    """Yield the lines of a row: one, somewhat smaller if that helps, else as many as its items take."""
    texts = [item.text for item in row.items]
    joined = _JOIN.join(texts)
    wide = text_width(joined, 1.0, bold=row.bold)
    squeezed = width / wide
    if squeezed >= size or squeezed >= max(least, _SQUEEZE * size):
        yield _Line(joined, min(size, squeezed * (1 - 1e-9)), row.bold)
        return
    now = ""
    for text in texts:
        longer = f"{now}{_JOIN}{text}" if now else text
        if now and text_width(longer, size, bold=row.bold) > width:
            yield from _item(now, width, size, least, row.bold)
            longer = text
        now = longer
    yield from _item(now, width, size, least, row.bold)


def _item(text: str, width: float, size: float, least: float, bold: bool) -> list[_Line]:
    """Return the lines of one item, made smaller down to the least before its words take two lines."""
    squeezed = min(size, width / text_width(text, 1.0, bold=bold) * (1 - 1e-9))
    if squeezed >= max(least, _SQUEEZE * size):
        return [_Line(text, squeezed, bold)]
    for smaller in (size, _SQUEEZE * size, least):
        lines = _in_lines(text, width, max(least, smaller), bold)
        if lines:
            return lines
    return [_Line(text, squeezed, bold)]


def _in_lines(text: str, width: float, size: float, bold: bool) -> list[_Line]:
    """Return a text in one line or, parted between words, in two; empty where that is too long."""
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if text_width(longer, size, bold=bold) <= width:
            lines[-1] = longer
        elif lines[-1] and text_width(word, size, bold=bold) <= width:
            lines.append(word)
        else:
            return []
    return [_Line(line, size, bold) for line in lines] if len(lines) <= 2 else []


def _placed(lines: Sequence[_Line], room: Rect) -> tuple[Text, ...]:
    """Set lines under each other in the middle of the room's height, a little apart where there is room."""
    free = max(0.0, room.height - _height([line.size for line in lines]))
    apart = min(free / len(lines), 0.25 * min(line.size for line in lines))
    top = room.top - (free - apart * (len(lines) - 1)) / 2
    marks = []
    for number, line in enumerate(lines):
        if number:
            top -= _BETWEEN * line.size + apart
        marks.append(Text(Point(room.left, top - ASCENT * line.size), line.text, line.size, bold=line.bold))
        top -= line.size
    return tuple(marks)
