"""Which layers of a drawing hold edges and holes, and which do not count."""

from __future__ import annotations

from dataclasses import dataclass

from nestkit.job.shown import shown


@dataclass(frozen=True, slots=True)
class Layers:
    """Names of layers in small letters. No ``edge``: all that are not otherwise named.

    In an SVG the layers are the ids of groups and of the shapes themselves.
    """

    edge: frozenset[str] = frozenset()
    holes: frozenset[str] = frozenset()
    ignore: frozenset[str] = frozenset()

    def ignores(self, *names: str) -> bool:
        """Say whether what goes by these names is to be ignored."""
        return any(name in self.ignore for name in names)

    def drills(self, *names: str) -> bool:
        """Say whether circles that go by these names are drill holes."""
        return any(name in self.holes for name in names)

    def why_not(self, kind: str, *names: str, hidden: bool) -> str | None:
        """Return under what a line is listed that does not count, None for one that does."""
        if self.ignores(*names):
            return f"{kind} on ignored layers"
        if any(name in self.edge or name in self.holes for name in names):
            return None
        if self.edge:
            return f"{kind} on layer {shown(names[0])}"
        if hidden:
            return f"{kind} on hidden layer {shown(names[0])}"
        return f"{kind} on layer {shown(names[0])}, which never plots" if names[0] == "defpoints" else None

    def unseen(self, seen: set[str]) -> list[tuple[str, str]]:
        """Return the key and name of each layer of edges and holes that the drawing does not have."""
        rows = (("edge", self.edge), ("holes", self.holes))
        return [(key, name) for key, names in rows for name in sorted(names - seen)]
