"""The move for several sizes, prices and counts of sheets: what comes off is laid on other sheets."""

from __future__ import annotations

from nestkit.layout.rects.engine.arrays import (
    ACCEPTED,
    AREA,
    BEST_PAID,
    BEST_POOL,
    BEST_SHEETS,
    BOTTOM,
    COST,
    FILL,
    FULLNESS,
    HAND_FACTS,
    HANDS,
    HEIGHT,
    KIND,
    KIND_COST,
    KIND_FACTS,
    KINDS,
    LEFT,
    MONEY,
    MOST_PARTS,
    MOST_SHEETS,
    MOVES,
    OF_TYPE,
    OUT,
    PAID,
    PART,
    PARTS,
    PICKED,
    POOL,
    POOL_COST,
    PRICE,
    RANDOM,
    REST,
    RIGHT,
    SAW,
    SHEET_FACTS,
    SHEETS,
    SIZE,
    SLOTS,
    STRICT,
    SWEPT,
    TAKEN,
    TOP,
    TYPE_FACTS,
    UNIT,
    WAY_FACTS,
    WIDTH,
    Hand,
    Seen,
    Shop,
    State,
)
from nestkit.layout.rects.engine.chance import draw
from nestkit.layout.rects.engine.moves import (
    STEPS,
    draw_slack,
    draw_ways,
    fill_pool,
    fullness,
    lay,
    note_least,
    pick,
    pool_is_out,
    set_out,
    store,
    take_out,
)
from nestkit.layout.rects.engine.room import NO_SCORE, clear
from nestkit.layout.rects.engine.saw import all_can_be_sawn_apart
from nestkit.layout.rects.engine.seen import remember
from nestkit.layout.rects.engine.split import draw_cuts


def worth(shop: Shop, fill: int, type_: int) -> int:
    """Return what a sheet counts for: its price, less for a full one."""
    price = shop.type[type_ * TYPE_FACTS + PRICE]
    return price - price * shop.rule[FULLNESS] // 1000 * fullness(shop, fill, type_) // UNIT


def worth_in_hand(shop: Shop, hand: Hand) -> int:
    """Return what the sheets in hand count for."""
    total = 0
    for at in range(0, hand.counts[HANDS] * HAND_FACTS, HAND_FACTS):
        total += worth(shop, hand.sheet[at + FILL], hand.sheet[at + OF_TYPE])
    return total


def rest_is_out(shop: Shop, hand: Hand) -> int:
    """Make what found no place the parts to be laid, in the same order; return their area."""
    size = 0
    for i in range(hand.counts[REST]):
        hand.queue[i] = hand.rest[i]
        size += shop.kind[hand.rest[i] * KIND_FACTS + SIZE]
    hand.counts[OUT] = hand.counts[REST]
    note_least(shop, hand)
    return size


def draw_type(shop: Shop, st: State, hand: Hand, kind: int, wanted: int) -> int:
    """Return a type that holds a kind: cheap for the area it can give, shaken; -1 if none is left."""
    best = -1
    least = NO_SCORE
    for t in range(len(shop.type) // TYPE_FACTS):
        chance = 614 + draw(st.counts, 820)
        if hand.free[t] < 1 or shop.way[(t * shop.rule[KINDS] + kind) * WAY_FACTS] == 0:
            continue
        area = max(1, min(shop.type[t * TYPE_FACTS + AREA], wanted))
        rate = shop.type[t * TYPE_FACTS + PRICE] * 1024 // area * chance
        if rate < least:
            best = t
            least = rate
    return best


def holds(shop: Shop, hand: Hand, slot: int, type_: int) -> bool:
    """Say whether what lies on a sheet in hand fits a sheet of another type as it lies."""
    part = hand.part
    base = slot * (shop.rule[MOST_PARTS] + 1) * PART
    width, height = shop.type[type_ * TYPE_FACTS + WIDTH], shop.type[type_ * TYPE_FACTS + HEIGHT]
    for i in range(base, base + hand.sheet[slot * HAND_FACTS + PARTS] * PART, PART):
        if part[i + RIGHT] > width or part[i + TOP] > height:
            return False
        w, h = part[i + RIGHT] - part[i + LEFT], part[i + TOP] - part[i + BOTTOM]
        way = (type_ * shop.rule[KINDS] + part[i + KIND]) * WAY_FACTS
        fits = False
        for turn in range(way + 1, way + 1 + 2 * shop.way[way], 2):
            if shop.way[turn] == w and shop.way[turn + 1] == h:
                fits = True
        if not fits:
            return False
    return True


def make_cheapest(shop: Shop, hand: Hand, slot: int) -> None:
    """Make a sheet in hand one of the cheapest type left that holds what lies on it."""
    at = slot * HAND_FACTS + OF_TYPE
    own = hand.sheet[at]
    best = own
    for t in range(len(shop.type) // TYPE_FACTS):
        cheaper = shop.type[t * TYPE_FACTS + PRICE] < shop.type[best * TYPE_FACTS + PRICE]
        if cheaper and hand.free[t] > 0 and holds(shop, hand, slot, t):
            best = t
    if best != own:
        hand.free[own] += 1
        hand.free[best] -= 1
        hand.sheet[at] = best


def take_in_hand(shop: Shop, st: State, hand: Hand) -> int:
    """Take sheets in hand without some parts; what is empty then goes back. Return what they counted for."""
    for t in range(len(shop.type) // TYPE_FACTS):
        hand.free[t] = st.free[t]
    pool_is_out(st, hand)
    before = slot = 0
    for i in range(hand.counts[HANDS]):
        sheet = hand.counts[PICKED + i]
        at = sheet * SHEET_FACTS
        before += worth(shop, st.sheet[at + FILL], st.sheet[at + OF_TYPE])
        take_out(shop, st, hand, sheet, slot)
        if hand.sheet[slot * HAND_FACTS + PARTS] > 0:
            slot += 1
        else:
            hand.free[st.sheet[at + OF_TYPE]] += 1
    hand.counts[HANDS] = slot
    return before


def open_sheets(shop: Shop, st: State, hand: Hand, ways: int, allowed: int) -> bool:
    """Lay the rest on new sheets; False once the sheets in hand count more than is allowed.

    Parts for which no sheet is left end in ``hand.out``, their number in ``hand.counts[OUT]``.
    """
    left = 0
    while hand.counts[REST] > 0:
        wanted = rest_is_out(shop, hand)
        kind = hand.queue[0]
        type_ = draw_type(shop, st, hand, kind, wanted)
        if type_ < 0:
            # No sheet is left for this part, nor for those of its kind.
            number = 0
            for i in range(hand.counts[REST]):
                if hand.queue[i] == kind:
                    hand.out[left] = kind
                    left += 1
                else:
                    hand.rest[number] = hand.queue[i]
                    number += 1
            hand.counts[REST] = number
            continue
        slot = hand.counts[HANDS]
        if slot == SLOTS:
            return False
        clear(shop, hand, slot, type_)
        hand.free[type_] -= 1
        hand.counts[HANDS] = slot + 1
        lay(shop, st, hand, slot, ways, NO_SCORE)
        if worth_in_hand(shop, hand) > allowed + shop.type[type_ * TYPE_FACTS + PRICE]:
            return False
    hand.counts[OUT] = left
    return True


def keep(shop: Shop, st: State, hand: Hand, seen: Seen, number: int) -> None:
    """Put the sheets in hand in the place of those that were picked, and the parts left into the pool."""
    count = st.counts
    # From the last one picked on, the last sheet of all takes the place of each.
    for _ in range(number):
        last = -1
        for i in range(number):
            last = max(last, hand.counts[PICKED + i])
        for i in range(number):
            if hand.counts[PICKED + i] == last:
                hand.counts[PICKED + i] = -1
        count[PAID] -= shop.type[st.sheet[last * SHEET_FACTS + OF_TYPE] * TYPE_FACTS + MONEY]
        count[SHEETS] -= 1
        move_sheet(shop, st, count[SHEETS], last)
    for slot in range(hand.counts[HANDS]):
        store(shop, st, hand, slot, count[SHEETS])
        count[SHEETS] += 1
        count[PAID] += shop.type[hand.sheet[slot * HAND_FACTS + OF_TYPE] * TYPE_FACTS + MONEY]
        remember(shop, seen, hand, slot)
    for t in range(len(shop.type) // TYPE_FACTS):
        st.free[t] = hand.free[t]
    lost = 0
    for i in range(hand.counts[OUT]):
        hand.rest[i] = hand.out[i]
        lost += st.kind[hand.out[i] * KIND_COST + COST]
    hand.counts[REST] = hand.counts[OUT]
    fill_pool(st, hand, lost)
    count[ACCEPTED] += 1


def move_sheet(shop: Shop, st: State, sheet: int, to: int) -> None:
    """Copy a sheet of the state to another place."""
    for i in range(SHEET_FACTS):
        st.sheet[to * SHEET_FACTS + i] = st.sheet[sheet * SHEET_FACTS + i]
    most = shop.rule[MOST_PARTS] * PART
    for i in range(st.sheet[sheet * SHEET_FACTS + PARTS] * PART):
        st.part[to * most + i] = st.part[sheet * most + i]


def exchanged(shop: Shop, st: State, hand: Hand) -> tuple[bool, int]:
    """Take a few sheets in hand and lay anew, on other sheets too, what comes off them and the pool.

    Return whether the result may be kept, and the work it took.
    """
    count = st.counts
    pick(st, hand)
    draw_cuts(shop, st, hand)
    number = hand.counts[HANDS]
    before = take_in_hand(shop, st, hand) + count[POOL_COST]
    work = set_out(shop, st, hand)
    ways = draw_ways(st)
    allowed = before + draw_slack(shop, st)
    lay(shop, st, hand, 0, ways, NO_SCORE)
    if not open_sheets(shop, st, hand, ways, allowed):
        return False, work
    for slot in range(hand.counts[HANDS]):
        make_cheapest(shop, hand, slot)
    after = worth_in_hand(shop, hand)
    for i in range(hand.counts[OUT]):
        after += st.kind[hand.out[i] * KIND_COST + COST]
    room = shop.rule[MOST_SHEETS] - count[SHEETS] + number
    hand.counts[TAKEN] = number
    return after <= allowed and hand.counts[HANDS] <= room, work


def exchange(shop: Shop, st: State, hand: Hand, seen: Seen) -> int:
    """Try one change of sheets, and keep it or not; return the work it took."""
    random = st.counts[RANDOM]
    hand.counts[STRICT] = 0
    good, work = exchanged(shop, st, hand)
    if good and shop.rule[SAW] and not all_can_be_sawn_apart(shop, hand):
        # As in a refill: only what would be kept is laid once more as the saw asks.
        st.counts[RANDOM] = random
        hand.counts[STRICT] = 1
        good, more = exchanged(shop, st, hand)
        work += more
    st.counts[MOVES] += 1
    if good:
        keep(shop, st, hand, seen, hand.counts[TAKEN])
    return work


def better(st: State) -> bool:
    """Say whether the state is better than the best score so far: parts left over, cost, sheets."""
    c = st.counts
    if c[POOL] != c[BEST_POOL]:
        return c[POOL] < c[BEST_POOL]
    if c[PAID] != c[BEST_PAID]:
        return c[PAID] < c[BEST_PAID]
    return c[SHEETS] < c[BEST_SHEETS]


def exchange_all(shop: Shop, st: State, hand: Hand, seen: Seen, work: int) -> int:
    """Move until the state is better than the best so far or so much work is done; return the work done."""
    done = 0
    while done < work and not better(st):
        done += 1 + exchange(shop, st, hand, seen) + hand.counts[SWEPT] // STEPS
        hand.counts[SWEPT] = 0
    return done
