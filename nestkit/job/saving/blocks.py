"""The text of a job file in blocks: each table with its header and the comment above it, and what is between.

A block can be changed, taken out, or moved without a look at the others.
"""

from __future__ import annotations

from dataclasses import dataclass

from nestkit.errors import UserError
from nestkit.job.lines import KeyPath, header_lines, key_lines


@dataclass(eq=False)
class Block:
    """Lines of the file, of the table ``path``: () at the top of the file, None between tables.

    ``lead`` are comments right above the header, ``header`` is its line, ``body`` the keys below it with
    their comments; all end with a line end. What was not in the file has places of its own in ``path``.
    """

    path: KeyPath | None
    lead: str = ""
    header: str = ""
    body: str = ""

    @property
    def text(self) -> str:
        """The lines."""
        return self.lead + self.header + self.body

    def of(self, path: KeyPath) -> bool:
        """Say whether it is of a table, or of one in it."""
        return self.path is not None and self.path[: len(path)] == path


def blocks_of(text: str) -> list[Block]:
    """Return the blocks of a text that is TOML with plain line ends; joined they are the text again."""
    lines = text.splitlines(keepends=True)
    headers = header_lines(text)
    last_keys = _last_lines(text, headers, len(lines))
    found: list[Block] = []
    start, path = 0, ()
    bounds: list[tuple[int, KeyPath | None]] = [*((line - 1, p) for line, p in headers), (len(lines), None)]
    this = Block(())
    here: KeyPath = path
    for (end, next_path), last in zip(bounds, last_keys, strict=True):
        lead_from = end
        while next_path is not None and lead_from > max(start, last) and _is_comment(lines[lead_from - 1]):
            lead_from -= 1
        body_end = max(start, last)
        while body_end < lead_from and lines[body_end].strip():
            body_end += 1
        if not here and not last:
            # Comments at the top of a file without keys there are of no table.
            body_end = start
        this.body = "".join(lines[start:body_end])
        found.append(this)
        if body_end < lead_from:
            found.append(Block(None, body="".join(lines[body_end:lead_from])))
        if next_path is not None:
            this = Block(next_path, "".join(lines[lead_from:end]), lines[end])
            start, here = end + 1, next_path
    return found


def _last_lines(text: str, headers: list[tuple[int, KeyPath]], count: int) -> list[int]:
    """Return for each block, the top of the file first, the line after its last key's value, 0 for none."""
    starts = [0, *(line for line, _ in headers)]
    keys = sorted(set(key_lines(text).values()))
    heads = {line for line, _ in headers}
    lines = text.splitlines()
    found = []
    at = 0
    for index, start in enumerate(starts):
        end = starts[index + 1] if index + 1 < len(starts) else count + 1
        own = []
        while at < len(keys) and keys[at] < end:
            if keys[at] > start and keys[at] not in heads:
                own.append(keys[at])
            at += 1
        found.append(_value_end(lines, own[-1], end - 1) if own else 0)
    return found


def _value_end(lines: list[str], key: int, end: int) -> int:
    """Return the last line of the value that begins at line ``key``: the shortest that reads as TOML."""
    import tomllib

    for last in range(key, end + 1):
        piece = "\n".join(lines[key - 1 : last])
        try:
            tomllib.loads(piece)
        except tomllib.TOMLDecodeError:
            continue
        return last
    return end


def _is_comment(line: str) -> bool:
    return line.lstrip().startswith("#")


def own_block(blocks: list[Block], path: KeyPath) -> Block | None:
    """Return the block with a table's own header; None where the table has none."""
    return next((block for block in blocks if block.path == path), None)


def take_out(blocks: list[Block], path: KeyPath) -> None:
    """Take a table with all that is in it out of the file, and the empty lines below it."""
    for block in [block for block in blocks if block.of(path)]:
        at = blocks.index(block)
        del blocks[at]
        if at < len(blocks) and blocks[at].path is None and not blocks[at].text.strip():
            del blocks[at]


def first_of(blocks: list[Block], path: KeyPath) -> int:
    """Return where the first block of a table stands, or of one in it; the table is there."""
    return next(at for at, block in enumerate(blocks) if block.of(path))


def last_of(blocks: list[Block], path: KeyPath) -> int:
    """Return where the last block of a table stands, or of one in it; the table is there."""
    return next(at for at in range(len(blocks) - 1, -1, -1) if blocks[at].of(path))


def put_after(blocks: list[Block], at: int, fresh: list[Block]) -> None:
    """Put new blocks after another; an empty line before them is left out at the top of a file."""
    before = blocks[at]
    if before.text and not before.text.endswith("\n"):
        before.body += "\n"
    text_before = "".join(block.text for block in blocks[max(0, at - 2) : at + 1])
    if not text_before or (not before.text and text_before.endswith("\n\n")):
        fresh = without_first_gap(fresh)
    blocks[at + 1 : at + 1] = fresh


def without_first_gap(blocks: list[Block]) -> list[Block]:
    """Return blocks without the empty line that they begin with."""
    return blocks[1:] if blocks and blocks[0].path is None else blocks


def in_new_order(blocks: list[Block], lists: KeyPath, order: list[int]) -> None:
    """Put the tables of a list, those of these old places, into a new order; the rest stays where it is.

    Raises :class:`~nestkit.errors.UserError` where tables of another kind stand in the middle of one.
    """
    spans = {place: _span(blocks, (*lists, place)) for place in order}
    slots = sorted(spans.values())
    units = [blocks[start:end] for start, end in (spans[place] for place in order)]
    for (start, end), unit in reversed(list(zip(slots, units, strict=True))):
        blocks[start:end] = unit
    for block in blocks:
        if block.text and not block.text.endswith("\n") and block is not blocks[-1]:
            block.body += "\n"


def _span(blocks: list[Block], path: KeyPath) -> tuple[int, int]:
    """Return where a table begins and ends with all that is in it."""
    own = [at for at, block in enumerate(blocks) if block.of(path)]
    start, end = own[0], own[-1] + 1
    if any(not block.of(path) and block.path is not None for block in blocks[start:end]):
        raise UserError(
            f"other tables stand in the middle of {path[0]} {int(path[1]) + 1} in the job file; "
            "bring its tables together there, then move it here"
        )
    return start, end
