"""A DXF file as text: its units, its layers, its blocks and its entities, each with its group codes."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field

from nestkit.geometry.points import Point
from nestkit.job.outlines.fault import OutlineFault
from nestkit.job.shown import shown

RESAVE = "Save it once more as DXF, version R2000 or later, as text"

_BINARY = b"AutoCAD Binary DXF"
_CODES = re.compile(r"\\U\+([0-9A-Fa-f]{4})")


@dataclass(frozen=True, slots=True)
class Entity:
    """One entity: its kind in capitals, and its group codes with their values, in order.

    ``first`` is the first value of each code.
    """

    kind: str
    tags: list[tuple[int, str]]
    first: dict[int, str]
    line: int

    def text(self, code: int, default: str = "") -> str:
        """Return the first value of a code."""
        return self.first.get(code, default)

    def number(self, code: int, default: float | None = None) -> float:
        """Return the first value of a code as a finite number."""
        value = self.first.get(code)
        if value is not None:
            return self.finite(value)
        if default is None:
            raise self.fault(f"has no group code {code}")
        return default

    def whole(self, code: int, default: int = 0) -> int:
        """Return the first value of a code as a whole number."""
        return int(self.number(code, default))

    def numbers(self, code: int) -> list[float]:
        """Return all values of a code."""
        return [self.finite(value) for c, value in self.tags if c == code] if code in self.first else []

    def point(self, code: int, default: Point | None = None) -> Point:
        """Return the place that a code, and the one ten above it, give."""
        if default is not None and code not in self.first:
            return default
        return Point(self.number(code), self.number(code + 10))

    def finite(self, value: str) -> float:
        """Return a value as a finite number."""
        try:
            found = float(value)
        except ValueError:
            raise self.fault(f"has {shown(value.strip())} where a number is wanted") from None
        if not math.isfinite(found):
            raise self.fault(f"has {shown(value.strip())} for a number")
        return found

    def fault(self, what: str) -> OutlineFault:
        """Return the fault that an entity is not as it should be."""
        return OutlineFault(f"the {self.kind} at line {self.line} of the file {what}", RESAVE)


@dataclass(slots=True)
class DxfText:
    """What of a DXF file says how parts look. Names of layers and blocks are in small letters."""

    unit_code: int = 0
    layers: set[str] = field(default_factory=set)
    hidden: set[str] = field(default_factory=set)
    blocks: dict[str, tuple[Entity, list[Entity]]] = field(default_factory=dict)
    entities: list[Entity] = field(default_factory=list)


def read_dxf_text(data: bytes) -> DxfText:
    """Return a DXF file's sections. A file that would need repair is a fault, with the line."""
    if data.startswith(_BINARY):
        raise OutlineFault("it is a binary DXF", RESAVE)
    if re.match(rb"AC10\d\d", data):
        raise OutlineFault("it is a DWG, not a DXF", "Save it as DXF")
    pairs = _pairs(_text(data))
    found = DxfText()
    at, ended = 0, False
    while at < len(pairs):
        code, value = pairs[at]
        if (code, value) == (0, "EOF"):
            ended = True
            break
        if (code, value) != (0, "SECTION"):
            if code != 999:
                raise OutlineFault(f"line {2 * at + 1} stands outside all sections", RESAVE)
            at += 1
            continue
        at = _section(found, pairs, at + 1)
    if not ended:
        raise OutlineFault("the file ends before its end mark: a part of it is missing", RESAVE)
    return found


def _text(data: bytes) -> str:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        # Older files say their code page; only names of layers and blocks, and texts, can differ by it.
        text = data.decode("cp1252", errors="replace")
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _pairs(text: str) -> list[tuple[int, str]]:
    lines = text.split("\n")
    while lines and not lines[-1].strip():
        lines.pop()
    if not lines:
        raise OutlineFault("the file is empty", "Draw the outline, and save it once more")
    codes, values = lines[0::2], lines[1::2]
    if len(codes) > len(values):
        if codes[-1].strip() == "0":
            raise OutlineFault("the file ends in the middle of a line pair", RESAVE)
        values.append("")
    try:
        return [(int(code), value.strip()) for code, value in zip(codes, values, strict=True)]
    except ValueError:
        bad = next(i for i, code in enumerate(codes) if not re.fullmatch(r"\s*[-+]?\d+\s*", code))
        if bad == 0:
            raise OutlineFault("it is not a DXF file", "Save the outline as DXF, or as SVG") from None
        raise OutlineFault(
            f"line {2 * bad + 1} is {shown(codes[bad].strip())}, where a group code is wanted", RESAVE
        ) from None


def _section(found: DxfText, pairs: list[tuple[int, str]], at: int) -> int:
    """Take in one section; return where the next thing starts."""
    if at >= len(pairs) or pairs[at][0] != 2:
        raise OutlineFault(f"the section at line {2 * at - 1} has no name", RESAVE)
    name, start = pairs[at][1], at + 1
    at = start
    while at < len(pairs) and pairs[at] != (0, "ENDSEC"):
        if pairs[at] in ((0, "SECTION"), (0, "EOF")):
            raise OutlineFault(f"the section {shown(name)} has no end (line {2 * at + 1})", RESAVE)
        at += 1
    if name == "HEADER":
        found.unit_code = _unit_code(pairs, start, at)
    elif name == "TABLES":
        layers = _entities(pairs, start, at, "LAYER")
        found.layers = {layer_name(layer.text(2)) for layer in layers}
        found.hidden = {layer_name(layer.text(2)) for layer in layers if _is_hidden(layer)}
    elif name == "BLOCKS":
        found.blocks = _blocks(_entities(pairs, start, at))
    elif name == "ENTITIES":
        found.entities = _entities(pairs, start, at)
    return at + 1


def _unit_code(pairs: list[tuple[int, str]], start: int, end: int) -> int:
    for i in range(start, end - 1):
        if pairs[i] == (9, "$INSUNITS"):
            try:
                return int(pairs[i + 1][1])
            except ValueError:
                raise OutlineFault(
                    f"$INSUNITS is {shown(pairs[i + 1][1])}, no code of a unit", RESAVE
                ) from None
    return 0


def _entities(pairs: list[tuple[int, str]], start: int, end: int, only: str = "") -> list[Entity]:
    found: list[Entity] = []
    tags: list[tuple[int, str]] = []
    first: dict[int, str] = {}
    for i in range(start, end):
        code, value = pairs[i]
        if code == 0:
            tags, first = [], {}
            if not only or value == only:
                found.append(Entity(value, tags, first, 2 * i + 1))
        else:
            tags.append((code, value))
            first.setdefault(code, value)
    return found


def _is_hidden(layer: Entity) -> bool:
    """Say whether a layer is frozen or off."""
    return bool(layer.whole(70) & 1) or layer.number(62, 7) < 0


def _blocks(entities: list[Entity]) -> dict[str, tuple[Entity, list[Entity]]]:
    blocks: dict[str, tuple[Entity, list[Entity]]] = {}
    inside: list[Entity] = []
    for entity in entities:
        if entity.kind == "BLOCK":
            inside = []
            blocks[layer_name(entity.text(2))] = (entity, inside)
        elif entity.kind != "ENDBLK":
            inside.append(entity)
    return blocks


def layer_name(name: str) -> str:
    """Return the name of a layer or block as names are compared: case does not count."""
    return _CODES.sub(lambda found: chr(int(found[1], 16)), name).strip().casefold()
