"""A plan that says equal cuts once, followed by someone who has nothing else, gives exactly the parts."""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from nestkit.estimate.saw_repeats import folded
from nestkit.estimate.saw_steps import saw_steps
from nestkit.estimate.saw_words import label_of, names_text, ordinals, words_of
from nestkit.job.reader import read_job, read_text
from nestkit.layout.lay_out import lay_out
from nestkit.units import parse_length
from tests.laid_roll import laid
from tests.many_cuts import OFF_A_ROLL, ON_A_SHEET, jobs_of_many

SAMPLE = Path(__file__).resolve().parent.parent.parent / "sample_parts" / "solar_boat.toml"

WHAT = re.compile(
    r"Cuts? (?P<numbers>[\d, to]+): (?:trim|rip|cross-cut) "
    r"(?:the (?P<sheet>sheet)|piece (?P<piece>\w+)"
    r"|each of the (?P<count>\d+) pieces (?P<names>\d+[ab](?:(?:, | to )\d+[ab])*))"
    r"(?:, \w+ edge, [^,]+ off, kerf included)?\."
)
SETTING = re.compile(r"(?:Fence|Stop|Line)(?: stays at)? (.+? (?:in|mm))")
HOW = re.compile(
    r"(?:(?P<edge>Left|Right|Lower|Upper) edge at the (?:fence|stop)"
    r"|Measured from the (?P<from>\w+) edge(?: each time)?\. "
    r"Saw (?P<beside>left of|right of|below|above) the)"
)
TIMES = re.compile(r"(?:(?P<pieces>\d+) pieces, )?(?:(?P<once>once)|(?P<times>\d+) times)(?: each)?")
GIVES = re.compile(
    r"(?P<name>\d+[ab])(?: (?P<what>DONE|keep|waste))?(?:, (?P<count>\d+) pieces)?(?: \((?P<which>[^)]+)\))?"
    r"[:,. ](?P<more>.*)"
)


def numbers(text):
    """Return the numbers of a list such as ``1 to 3, 7``, also where letters follow them."""
    found = []
    for part in text.split(", "):
        first, _, last = part.partition(" to ")
        low, high = (int(re.match(r"\d+", end)[0]) for end in (first, last or first))
        found += range(low, high + 1)
    return found


def names(text):
    """Return the names of a list such as ``1a to 3a, 7b``."""
    return [f"{n}{part[-1]}" for part in text.split(", ") for n in numbers(part)]


def places(which, sources):
    """Return what ``from 2a``, ``the 1st to 3rd of each`` say: per source the places, None for any."""
    if which.startswith("from "):
        return dict.fromkeys(names(which.removeprefix("from ")))
    found = {}
    for said in which.removeprefix("the ").split("; the "):
        ordinal, _, of = said.partition(" of ")
        for name in sources if of == "each" else names(of):
            found[name] = numbers(ordinal)
    return found


def follow(plan, width, height, kerf, unit):
    """Do what the words say, knowing only the sheet's size and the saw; return the finished pieces."""
    heap, done, last = {"sheet": [(width, height)]}, [], 0
    for words in plan:
        what, how = WHAT.fullmatch(words.what).groupdict(), HOW.match(words.how).groupdict()
        times = TIMES.fullmatch(words.times).groupdict() if words.times else {"times": None, "pieces": None}
        repeats = int(times["times"] or 1)
        sources = names(what["names"]) if what["names"] else [what["sheet"] or what["piece"]]
        assert (times["pieces"] or "1") == (what["count"] or "1")
        assert sum(len(heap[name]) for name in sources) == int(what["count"] or 1)
        cuts = numbers(what["numbers"])
        assert cuts == list(range(last + 1, last + 1 + repeats * int(what["count"] or 1)))
        last = cuts[-1]
        edge = (how["edge"] or how["from"]).lower()
        axis, low_edge = int(edge in ("lower", "upper")), edge in ("left", "lower")
        setting = parse_length(SETTING.fullmatch(words.setting)[1], unit)
        beyond = how["beside"] in ("right of", "above") if how["beside"] else low_edge
        left = {}
        for source in sources:
            for piece in heap.pop(source):
                row = []
                for _ in range(repeats):
                    # The blade is beyond fence, stop or line, unless the plan puts it on the near side.
                    far = beyond == low_edge
                    strip = setting if far else setting - kerf
                    rest = piece[axis] - strip - kerf
                    row.append((strip, piece[1]) if axis == 0 else (piece[0], strip))
                    piece = (rest, piece[1]) if axis == 0 else (piece[0], rest)
                left.setdefault(source, []).append([*row, piece])
        for said in words.gives:
            hand_out(said, left, sources, cuts[0], repeats, "a" if low_edge else "b", heap, done)
        # Nothing is left unsaid but what the last cut took.
        for rows in left.values():
            assert not [p for row in rows for p in row if p is not None and min(p) > kerf / 2]
    assert not any(heap.values())
    return done


def hand_out(said, left, sources, first, times, strip_letter, heap, done):
    """Take the pieces that a line speaks of from those on the bench; name them, or call them done."""
    line = GIVES.fullmatch(said).groupdict()
    count, name, which = int(line["count"] or 1), line["name"], line["which"]
    is_strip = name[-1] == strip_letter
    taken = []
    if which and which.startswith("cuts "):
        of_cuts = which.removeprefix("cuts ").partition(" and what is left")[0]
        wanted = {sources[0]: [n - first + 1 for n in numbers(of_cuts)]}
        wanted[sources[0]] += [times + 1] if which.endswith("what is left") else []
    elif which:
        wanted = places(which, sources)
    elif len(sources) == 1 and len(left[sources[0]]) == 1 and count == 1:
        wanted = {sources[0]: [int(name[:-1]) - first + 1 if is_strip else times + 1]}
    else:
        wanted = dict.fromkeys(sources)
    pieces = sum(len(left[source]) for source in wanted)
    for source, at in wanted.items():
        if at is None:
            at = range(1, times + 1) if is_strip else [times + 1]
            at = range(1, times + 2) if count == pieces * (times + 1) else at
        for row in left[source]:
            for number in at:
                taken.append(row[number - 1])
                row[number - 1] = None
    assert len(taken) == count, said
    assert None not in taken, said
    if line["what"] == "DONE":
        label = re.search(r'write "([^"]+)"', said)[1]
        done += [(label, piece) for piece in taken]
    elif line["what"] is None:
        heap.setdefault(name, []).extend(taken)


def check(layout, unit, one):
    """Follow the plan of each sheet, and compare what is done with its parts, within what is rounded."""
    for group in layout.groups if layout else ():
        if not group.group.way.edge_to_edge:
            continue
        kerf = group.group.way.kerf
        for sheet in group.sheets:
            repeats = folded(saw_steps(sheet, kerf, unit))
            if not repeats:
                continue
            plan = words_of(repeats, unit, copies=False)
            done = follow(plan, sheet.stock.width, sheet.stock.height, kerf, unit)
            within = one * (len(sheet.cuts) + 1)
            assert Counter(label for label, _ in done) == Counter(
                label_of(p, copies=False) for p in sheet.parts
            )
            wanted = {label_of(p, copies=False): [] for p in sheet.parts}
            for p in sheet.parts:
                wanted[label_of(p, copies=False)].append((p.width, p.height))
            for label, (width, height) in done:
                assert any(abs(width - w) <= within and abs(height - h) <= within for w, h in wanted[label])


@pytest.mark.parametrize(("text", "unit"), [(ON_A_SHEET, "mm"), (OFF_A_ROLL, "in")])
def test_hundreds_of_equal_parts_come_out_of_a_few_sentences_exactly(text, unit):
    """Followed word by word, six sayings give 300 parts, four give 400, each to the last fraction."""
    check(laid(text)[1], unit, Fraction(0))


def test_the_boats_plan_can_be_followed_where_equal_cuts_are_said_once():
    """Each part of the boat comes out within what rounding to 1/64 in adds up to."""
    layout = lay_out(read_job(SAMPLE))
    check(layout, "in", Fraction("25.4") / 128)


@given(jobs_of_many())
@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_folded_plan_can_be_followed(text):
    """Whatever the job: the words alone say which pieces are cut, how often, and what each gives."""
    job = read_text(text, Path())
    one = Fraction("25.4") / 128 if job.unit == "in" else Fraction(1, 20)
    check(lay_out(job, effort="quick"), job.unit, one)


def test_what_is_said_once_is_said_as_a_shop_lead_would():
    """The cuts, the setting, how often in how many pieces, and what they give, in few words."""
    _, layout = laid(ON_A_SHEET)
    (sheet,) = layout.groups[0].sheets
    said = words_of(folded(saw_steps(sheet, layout.groups[0].group.way.kerf, "mm")), "mm")
    last = said[-1]
    assert (last.setting, last.times) == ("Stop 94 mm", "60 pieces, 4 times each")
    assert last.what.startswith("Cuts 66 to 305: cross-cut each of the 60 pieces ")
    assert last.gives[0].startswith('66a DONE, 240 pieces: write "spacer" and a copy number (1 to ')
    assert "MEASURE EACH: must be 98 x 94 mm" in last.gives[1]
    first = said[0]
    assert (first.what, first.setting, first.times) == (
        "Cuts 1 to 3: cross-cut the sheet.",
        "Line 482 mm",
        "3 times",
    )
    assert first.gives == ("1a, 3 pieces: 1220 x 482 mm, 60 parts each.", "3b: 120 parts.")


def test_a_cut_by_itself_has_no_times():
    """Where nothing repeats the words are those of a single cut."""
    text = ON_A_SHEET.replace("quantity = 300", "quantity = 1")
    _, layout = laid(text)
    (sheet,) = layout.groups[0].sheets
    said = words_of(folded(saw_steps(sheet, layout.groups[0].group.way.kerf, "mm")), "mm")
    assert {w.times for w in said} == {""}
    assert said[-1].gives[0] == '2a DONE: write "spacer" on it.'


def test_lists_of_names_and_ordinals_are_short():
    """Runs are joined, and each letter has its own."""
    assert names_text(["1a", "2a", "3a", "3b", "5b"]) == "1a to 3a, 3b, 5b"
    assert ordinals([1, 2, 3, 11, 21]) == "1st to 3rd, 11th, 21st"


@pytest.mark.parametrize("size", ["[24, 48]", "[48, 96]", "[96, 48]"])
def test_a_cut_between_two_places_kept_clear_trims_nothing(size):
    """A cut in a piece that holds no part, but two regions kept clear, is a plain cut with its setting."""
    job = read_text(
        'job = "scratched"\nunit = "in"\n[cutting]\nhow = "saw"\nkerf = "1/8"\n'
        f'[[sheet]]\nname = "PC"\nmaterial = "polycarbonate"\nthickness = "1/8"\nsize = {size}\n'
        "[[sheet.keep_clear]]\nat = [4, 40]\ndisc = 2\n[[sheet.keep_clear]]\nat = [10, 30]\nsize = [3, 1]\n"
        '[[panel]]\nname = "lid"\nmaterial = "polycarbonate"\nthickness = "1/8"\nsize = [14, 9]\n'
        "quantity = 2\n",
        Path(),
    )
    (group,) = lay_out(job, effort="first").groups
    (sheet,) = group.sheets
    steps = saw_steps(sheet, group.group.way.kerf, "in")
    bare = [step for step in steps if not any(piece.parts for piece in step.gained)]
    assert bare
    assert {step.kind for step in bare} <= {"rip", "cross-cut"}
    for repeat, said in zip(folded(steps), words_of(folded(steps), "in"), strict=True):
        if repeat.first in bare:
            assert WHAT.fullmatch(said.what)
            assert "KEEP CLEAR" in " ".join(said.gives)
