"""The moves of the search: take parts off a few sheets, lay them anew with the pool, keep what is better."""

from __future__ import annotations

from nestkit.layout.rects.engine.arrays import (
    ACCEPTED,
    AREA,
    BOTTOM,
    CARVED,
    COST,
    CYCLE,
    FILL,
    FIRST,
    FULLNESS,
    HAND_FACTS,
    HANDS,
    HEIGHT,
    KEY,
    KEYS,
    KIND,
    KIND_COST,
    KIND_FACTS,
    KINDS,
    LEFT,
    LOW,
    MOST_PARTS,
    MOVES,
    OF_TYPE,
    OUT,
    PART,
    PARTS,
    PICKED,
    PLACE,
    POOL,
    POOL_COST,
    PRESS,
    RANDOM,
    REST,
    RIGHT,
    SAW,
    SHEET_FACTS,
    SHEETS,
    SIZE,
    STRICT,
    SWEPT,
    THIN,
    TOP,
    TRIAL,
    TYPE_FACTS,
    UNIT,
    WEIGHT,
    WIDTH,
    WINDOWS,
    Hand,
    Seen,
    Shop,
    State,
)
from nestkit.layout.rects.engine.chance import draw, sort_first
from nestkit.layout.rects.engine.room import NO_SCORE, best_place, clear, occupy, put
from nestkit.layout.rects.engine.saw import all_can_be_sawn_apart, can_be_sawn_apart
from nestkit.layout.rects.engine.seen import remember
from nestkit.layout.rects.engine.split import carve, draw_cuts

STEPS = 50
"""Steps of the saw's test that count as much as a part laid."""
INDEX = (1 << 20) - 1
"""Of a number to sort by, the bits that say which part it belongs to."""


def pick(st: State, hand: Hand) -> None:
    """Pick one to three different sheets."""
    count, picked = st.counts, hand.counts
    number = 1 + (draw(count, 4) > 0) + (draw(count, 3) == 0)
    if number > count[SHEETS]:
        number = count[SHEETS]
    for i in range(number):
        sheet = draw(count, count[SHEETS])
        j = 0
        while j < i:
            if picked[PICKED + j] == sheet:
                sheet = draw(count, count[SHEETS])
                j = 0
            else:
                j += 1
        picked[PICKED + i] = sheet
    hand.counts[HANDS] = number


def take_out(shop: Shop, st: State, hand: Hand, sheet: int, slot: int) -> None:
    """Take a sheet in hand without some of its parts: all, a random share, or what touches a window."""
    most, count, part = shop.rule[MOST_PARTS], st.counts, st.part
    type_, number = st.sheet[sheet * SHEET_FACTS + OF_TYPE], st.sheet[sheet * SHEET_FACTS + PARTS]
    clear(shop, hand, slot, type_)
    width, height = shop.type[type_ * TYPE_FACTS + WIDTH], shop.type[type_ * TYPE_FACTS + HEIGHT]
    way = 0 if hand.counts[CARVED] else draw(count, 100)
    share = draw(count, 1024)
    x1 = draw(count, width)
    y1 = draw(count, height)
    x2 = x1 + 1 + draw(count, width // 2 + 1)
    y2 = y1 + 1 + draw(count, height // 2 + 1)
    out = hand.counts[OUT]
    if way >= 70 and not shop.rule[WINDOWS]:
        way = 50
    first = sheet * most * PART
    for i in range(first, first + number * PART, PART):
        if way < 35 or number < 2:
            goes = True
        elif way < 70:
            goes = draw(count, 1024) < share
        else:
            goes = (
                part[i + LEFT] < x2 and part[i + RIGHT] > x1 and part[i + BOTTOM] < y2 and part[i + TOP] > y1
            )
        if goes:
            hand.out[out] = part[i + KIND]
            out += 1
        else:
            put(
                shop, hand, slot, part[i + KIND],
                part[i + LEFT], part[i + BOTTOM], part[i + RIGHT], part[i + TOP],
            )  # fmt: skip
    kept = hand.sheet[slot * HAND_FACTS + PARTS]
    if shop.rule[SAW] and shop.rule[FIRST] and not can_be_sawn_apart(shop, hand, slot):
        # Without what separated them first, parts may ask for another first direction of cutting.
        base = slot * (most + 1)
        for i in range(base, base + kept):
            hand.out[out] = hand.part[i * PART + KIND]
            out += 1
        clear(shop, hand, slot, type_)
    hand.counts[OUT] = out


def put_out_in_order(shop: Shop, st: State, hand: Hand) -> None:
    """Sort the parts that are out by a random measure, shaken, the largest first."""
    count, out, queue, number = st.counts, hand.out, hand.queue, hand.counts[OUT]
    measure = draw(count, KEYS + 1)
    noise = 0 if draw(count, 5) == 0 else draw(count, 614)
    for i in range(number):
        kind = out[i]
        if measure == KEYS:
            key = st.kind[kind * KIND_COST + COST]
        else:
            key = shop.kind[kind * KIND_FACTS + KEY + measure]
        shaken = key * (1024 - noise + draw(count, 2 * noise + 1))
        queue[i] = -shaken * (INDEX + 1) + i
    sort_first(queue, number)
    for i in range(number):
        queue[i] = out[queue[i] & INDEX]


def note_least(shop: Shop, hand: Hand) -> None:
    """Note the least sizes of what is still to come at each place of the queue.

    They tell which empty rectangles are of no use any more.
    """
    number, least = hand.counts[OUT], hand.least
    thin = low = NO_SCORE
    least[2 * number] = thin
    least[2 * number + 1] = low
    for i in range(number - 1, -1, -1):
        kind = hand.queue[i]
        thin = min(thin, shop.kind[kind * KIND_FACTS + THIN])
        low = min(low, shop.kind[kind * KIND_FACTS + LOW])
        least[2 * i] = thin
        least[2 * i + 1] = low


def make_room(shop: Shop, hand: Hand, slot: int) -> None:
    """Find the free room of a sheet in hand, as far as the parts that are out can use it."""
    part = hand.part
    base = slot * (shop.rule[MOST_PARTS] + 1) * PART
    for i in range(base, base + hand.sheet[slot * HAND_FACTS + PARTS] * PART, PART):
        taken = (part[i + LEFT], part[i + BOTTOM], part[i + RIGHT], part[i + TOP])
        occupy(hand.room, hand.strip, hand.sheet, slot, taken, hand.least[0], hand.least[1])


def pool_is_out(st: State, hand: Hand) -> None:
    """Begin the parts that are out with those of the pool."""
    for i in range(st.counts[POOL]):
        hand.out[i] = st.pool[i]
    hand.counts[OUT] = st.counts[POOL]


def set_out(shop: Shop, st: State, hand: Hand) -> int:
    """Put what is out in order and find the room for it; return the parts in hand, laid or not."""
    put_out_in_order(shop, st, hand)
    note_least(shop, hand)
    parts = hand.counts[OUT]
    for slot in range(hand.counts[HANDS]):
        make_room(shop, hand, slot)
        parts += hand.sheet[slot * HAND_FACTS + PARTS]
    return parts


def draw_ways(st: State) -> int:
    """Return a random way to lay, as bits for :func:`lay`: mostly into the near corner."""
    ways = draw(st.counts, 32)
    if draw(st.counts, 4) > 0:
        ways &= 19
    return ways


def draw_slack(shop: Shop, st: State) -> int:
    """Return how much worse a move may be that is kept: less as heat falls.

    The fate of a move is drawn first, so that a hopeless one can be given up on the way.
    """
    heat = shop.heat[st.counts[MOVES] % shop.rule[CYCLE] * len(shop.heat) // shop.rule[CYCLE]]
    return heat * shop.luck[draw(st.counts, len(shop.luck))] // 1000


def lay(shop: Shop, st: State, hand: Hand, slot: int, ways: int, limit: int) -> int:
    """Lay parts in order on the sheets in hand from ``slot`` on; return what leaving out the rest costs.

    ``ways``: bits 0 and 1 the rule of a good place, 2 and 3 the corner, 4 the best of all sheets instead
    of the first with room. Ends at -1 as soon as the cost exceeds ``limit``. The rest is in ``hand.rest``.
    """
    rule, corner, spread = ways & 3, ways >> 2 & 3, ways >> 4 & 1
    sheet, count = hand.sheet, hand.counts
    count[TRIAL] += 1
    trial = count[TRIAL]
    most = shop.rule[MOST_PARTS]
    rest = lost = 0
    for i in range(count[OUT]):
        kind = hand.queue[i]
        best = NO_SCORE
        # Room only shrinks: what did not fit once does not fit later.
        if hand.tried[kind] != trial:
            size = shop.kind[kind * KIND_FACTS + SIZE]
            for s in range(slot, count[HANDS]):
                at = s * HAND_FACTS
                full = sheet[at + FILL] + size > shop.type[sheet[at + OF_TYPE] * TYPE_FACTS + AREA]
                if full or sheet[at + PARTS] == most:
                    continue
                score = best_place(shop, hand, s, kind, rule, corner, best)
                if score < best:
                    best = score
                    if not spread:
                        break
        if best < NO_SCORE:
            s = count[PLACE]
            taken = (count[PLACE + 1], count[PLACE + 2], count[PLACE + 3], count[PLACE + 4])
            put(shop, hand, s, kind, taken[0], taken[1], taken[2], taken[3])
            narrow, flat = hand.least[2 * i + 2], hand.least[2 * i + 3]
            if count[CARVED]:
                carve(hand, s, taken, narrow, flat)
            else:
                occupy(hand.room, hand.strip, sheet, s, taken, narrow, flat)
        else:
            hand.tried[kind] = trial
            hand.rest[rest] = kind
            rest += 1
            lost += st.kind[kind * KIND_COST + COST]
            if lost > limit:
                return -1
    count[REST] = rest
    return lost


def fullness(shop: Shop, fill: int, type_: int) -> int:
    """Return the square of the share of a sheet that is filled, in parts of UNIT."""
    share = fill * 1000 // max(1, shop.type[type_ * TYPE_FACTS + AREA])
    return share * share


def store(shop: Shop, st: State, hand: Hand, slot: int, sheet: int) -> None:
    """Make a sheet in hand a sheet of the state."""
    most = shop.rule[MOST_PARTS]
    for i in range(SHEET_FACTS):
        st.sheet[sheet * SHEET_FACTS + i] = hand.sheet[slot * HAND_FACTS + i]
    to = sheet * most * PART
    at = slot * (most + 1) * PART
    for i in range(hand.sheet[slot * HAND_FACTS + PARTS] * PART):
        st.part[to + i] = hand.part[at + i]


def fill_pool(st: State, hand: Hand, lost: int) -> None:
    """Make what found no place the pool."""
    for i in range(hand.counts[REST]):
        st.pool[i] = hand.rest[i]
    st.counts[POOL] = hand.counts[REST]
    st.counts[POOL_COST] = lost


def press(shop: Shop, st: State) -> None:
    """Make what stays in the pool heavier, so that the search turns to it."""
    kinds = shop.rule[KINDS]
    for i in range(st.counts[POOL]):
        kind = st.pool[i]
        first = True
        for j in range(i):
            if st.pool[j] == kind:
                first = False
        if first:
            st.kind[kind * KIND_COST + WEIGHT] = st.kind[kind * KIND_COST + WEIGHT] * 21 // 20
    heaviest = 0
    for kind in range(kinds):
        heaviest = max(heaviest, st.kind[kind * KIND_COST + WEIGHT])
    for kind in range(kinds):
        weight = st.kind[kind * KIND_COST + WEIGHT]
        if heaviest > 4000:
            weight = max(1000, weight * 7 // 10)
        st.kind[kind * KIND_COST + WEIGHT] = weight
        st.kind[kind * KIND_COST + COST] = max(1, shop.kind[kind * KIND_FACTS + SIZE] * weight // 1000)
    total = 0
    for i in range(st.counts[POOL]):
        total += st.kind[st.pool[i] * KIND_COST + COST]
    st.counts[POOL_COST] = total


def laid_anew(shop: Shop, st: State, hand: Hand) -> tuple[int, int]:
    """Take a few sheets in hand and lay anew what comes off them and the pool.

    Return what leaving out the rest costs, -1 if that is too much, and the work it took.
    """
    pick(st, hand)
    draw_cuts(shop, st, hand)
    number = hand.counts[HANDS]
    pool_is_out(st, hand)
    before = 0
    for slot in range(number):
        at = hand.counts[PICKED + slot] * SHEET_FACTS
        before += fullness(shop, st.sheet[at + FILL], st.sheet[at + OF_TYPE])
        take_out(shop, st, hand, hand.counts[PICKED + slot], slot)
    work = set_out(shop, st, hand)
    ways = draw_ways(st)
    allowed = st.counts[POOL_COST] + draw_slack(shop, st)
    bonus = shop.rule[FULLNESS]
    lost = lay(shop, st, hand, 0, ways, allowed + bonus * (number * UNIT - before) // 1000)
    if lost >= 0:
        after = 0
        for at in range(0, number * HAND_FACTS, HAND_FACTS):
            after += fullness(shop, hand.sheet[at + FILL], hand.sheet[at + OF_TYPE])
        if lost - bonus * (after - before) // 1000 > allowed:
            lost = -1
    return lost, work


def refill(shop: Shop, st: State, hand: Hand, seen: Seen) -> int:
    """Try one change that lays more of the pool, and keep it or not; return the work it took."""
    count = st.counts
    random = count[RANDOM]
    hand.counts[STRICT] = 0
    lost, work = laid_anew(shop, st, hand)
    if lost >= 0 and shop.rule[SAW] and not all_can_be_sawn_apart(shop, hand):
        # Most moves come to nothing anyway, so only what would be kept is laid once more as the saw asks.
        count[RANDOM] = random
        hand.counts[STRICT] = 1
        lost, more = laid_anew(shop, st, hand)
        work += more
    count[MOVES] += 1
    if lost >= 0:
        for slot in range(hand.counts[HANDS]):
            store(shop, st, hand, slot, hand.counts[PICKED + slot])
            remember(shop, seen, hand, slot)
        fill_pool(st, hand, lost)
        count[ACCEPTED] += 1
    if shop.rule[PRESS] and count[MOVES] % shop.rule[PRESS] == 0:
        press(shop, st)
    return work


def refill_all(shop: Shop, st: State, hand: Hand, seen: Seen, work: int) -> int:
    """Move until the pool is empty or so much work is done; return the work done."""
    done = 0
    while done < work and st.counts[POOL]:
        done += 1 + refill(shop, st, hand, seen) + hand.counts[SWEPT] // STEPS
        hand.counts[SWEPT] = 0
    return done
