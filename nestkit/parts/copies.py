"""How many copies of a part are made, and of which hands: the same for panels and for cut lengths."""

from __future__ import annotations

Numbered = tuple[int, bool]
"""A copy: its number, which counts from 1 per part and hand, and whether it is the opposite hand."""


class Copies:
    """What follows from a part's counts; the part itself has them as its fields."""

    __slots__ = ()

    quantity: int
    opposite_hand: int
    spare: int
    spare_if_room: int

    @property
    def needed(self) -> int:
        """Copies that must be made: as drawn, opposite hand and spares."""
        return self.quantity + self.opposite_hand + self.spare

    @property
    def made(self) -> bool:
        """Say whether any copy may be made: of quantity 0, without other copies, none is."""
        return self.needed + self.spare_if_room > 0

    @property
    def hands_apart(self) -> tuple[bool, ...]:
        """The hands that are made: False as drawn, True the opposite one."""
        as_drawn = self.quantity + self.spare + self.spare_if_room
        return (False,) * bool(as_drawn) + (True,) * bool(self.opposite_hand)

    @property
    def hands(self) -> tuple[bool, ...]:
        """The hands that are made, each with prints of its own: False as drawn, True the opposite one."""
        return self.hands_apart

    def numbered(self, *, one_hand: bool) -> tuple[list[Numbered], list[Numbered], list[Numbered]]:
        """Return the copies: asked for, spares, and spares only if there is room.

        With ``one_hand`` all are as drawn, and are numbered over both hands.
        """
        drawn = self.quantity + (self.opposite_hand if one_hand else 0)
        asked = [(n + 1, False) for n in range(drawn)]
        if not one_hand:
            asked += [(n + 1, True) for n in range(self.opposite_hand)]
        spares = [(drawn + n + 1, False) for n in range(self.spare)]
        first_extra = drawn + self.spare + 1
        return asked, spares, [(first_extra + n, False) for n in range(self.spare_if_room)]
