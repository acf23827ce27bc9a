"""summary.html: self-contained, escaped, what to buy first."""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import replace
from html.parser import HTMLParser
from types import SimpleNamespace

import pytest

from nestkit.estimate.estimate import estimate
from nestkit.fit.fit_job import fit_job
from nestkit.job.understood import how_many
from nestkit.parts.holes import Mark
from nestkit.trade.cautions import cautions
from nestkit.writers.summary import summary_html
from nestkit.writers.summary_parts import drills_text, parts_part
from tests.laid_boat import BRACKET, LID, lid_job, routed_job, simple_panel

ERROR = SimpleNamespace(
    level="error",
    rule="R020",
    place='panel "lid", holes "vent"',
    text="hole 3 leaves it",
    remedy="Move it in",
    source="",
)
ADVICE = SimpleNamespace(
    level="advice",
    rule="R104",
    place='panel "lid"',
    text="a sharp corner",
    remedy="Drill it",
    source="common practice",
)
TAGS = {
    *("html", "head", "meta", "title", "style", "body", "h1", "h2", "h3", "p", "div", "strong", "br", "a"),
    *("ul", "ol", "li", "span", "bdi", "figure", "figcaption"),
    *("table", "thead", "tbody", "tr", "th", "td", "dl", "dt", "dd"),
    *("svg", "defs", "g", "path", "circle", "text", "clippath", "rect"),
}
VOID = {"meta", "br"}


class Page(HTMLParser):
    """Keeps tags, attributes and text; faults on tags that do not pair."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict]] = []
        self.text = ""
        self._open: list[str] = []
        self.feed(text)
        assert self._open == []

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        assert self._open.pop() == tag

    def handle_data(self, data):
        self.text += data


def page(job, layout, findings=(), files=("buy.csv", "sheets/x-01.dxf")):
    """Return the page as text and as parsed."""
    text = summary_html(job, fit_job(job, trials=100), layout, estimate(job, layout), findings, files)
    return text, Page(text)


@pytest.mark.parametrize("make", [lid_job, routed_job])
def test_the_page_loads_and_runs_nothing(make):
    """No script, no address, no handler; its policy forbids them, and allows its own style by its hash."""
    text, parsed = page(*make(), (ERROR, ADVICE))
    names = {tag for tag, _ in parsed.tags}
    assert not names & {"script", "link", "iframe", "object", "form", "img", "base", "image", "use"}
    for tag, attributes in parsed.tags:
        for key, value in attributes.items():
            assert not key.startswith("on")
            assert key != "style"
            if key in ("href", "src", "xlink:href"):
                assert re.fullmatch(r"[a-z0-9_./-]+", value), (tag, value)
    assert not re.search(r"url\((?!#)|https?:|//[a-z]+\.", text)
    policy = next(a["content"] for t, a in parsed.tags if a.get("http-equiv") == "Content-Security-Policy")
    assert policy.startswith("default-src 'none'")
    style = re.search(r"<style>(.*?)</style>", text, re.DOTALL)[1]
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    assert f"style-src 'sha256-{digest}'" in policy


def test_what_to_buy_comes_first():
    """Stock, count and price stand before everything else, then why no layout could do with less."""
    _, parsed = page(*lid_job())
    words = " ".join(parsed.text.split())
    assert "Buy 1 × PC 1/8 2x4" in words
    assert "38.50 all told" in words
    assert "No layout needs less." in words
    assert words.index("38.50 all told") < words.index("What it takes") < words.index("Parts to make")
    assert "one sheet is needed and none costs less" in words


def test_what_is_missing_stands_above_all():
    """Errors and parts without a place come in a frame before the buy list; advice comes later."""
    _, parsed = page(*routed_job(), (ERROR, ADVICE))
    words = " ".join(parsed.text.split())
    assert words.index("Hole 3 leaves it") < words.index("1 part without a place") < words.index("Buy")
    assert "=gusset, copy 2: no sheet has room left" in words
    assert words.index("Buy") < words.index("A sharp corner")
    assert "The search was ended early" in words
    assert "1 × ply 12! from what is on hand" in words
    assert "0.74 m² (no price given)" in words


def test_every_sheet_has_its_picture_and_links():
    """One picture a sheet, ids apart, and links to its three files."""
    text, parsed = page(*routed_job())
    assert sum(tag == "svg" for tag, _ in parsed.tags) == 2
    ids = re.findall(r'\bid="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    links = [a["href"] for t, a in parsed.tags if t == "a"]
    for stem in ("ply-12-01", "ply-12-2-01"):
        assert {f"sheets/{stem}.{end}" for end in ("pdf", "svg", "dxf")} <= set(links)
    assert {"buy.csv", "sheets/x-01.dxf"} <= set(links)


HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=1>',
    "&amp;lid",
    "lid\u202ednah",
    "</style>",
    "船の蓋",
    "W" * 60,
]


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_are_shown_as_text(name):
    """A name can neither close a tag nor turn the line of reading; it stands there as it was written."""
    job, layout = routed_job()
    laid = layout.groups[0]
    part = replace(
        BRACKET, name=name, used_for=name, revision=name, marks=(Mark(BRACKET.marks[0].at, name, 8),)
    )
    panels = (part, *job.panels[1:])
    stock = replace(job.sheets[0], name=name, material=name)
    sheets = tuple(
        replace(
            s,
            stock=stock if s.stock.name == "Ply 12" else s.stock,
            parts=tuple(replace(p, panel=part) if p.panel is BRACKET else p for p in s.parts),
        )
        for s in laid.sheets
    )
    job = replace(job, name=name, panels=panels, sheets=(stock, job.sheets[1]))
    finding = SimpleNamespace(level="error", rule=name, place=name, text=name, remedy=name, source=name)
    layout = replace(layout, groups=(replace(laid, sheets=sheets),))
    text, parsed = page(job, layout, (finding,))
    assert "\u202e" not in text
    assert "alert(1)</script>" not in text
    shown = name.replace("\u202e", "U+202E")
    assert shown in parsed.text
    assert {t for t, _ in parsed.tags} <= TAGS


def test_the_same_page_twice():
    """The page depends on the job alone."""
    assert page(*routed_job())[0] == page(*routed_job())[0]


def test_cautions_fit_the_material():
    """Plastic and saw bring their own cautions, and the shop's rules stand first."""
    _, parsed = page(*lid_job())
    words = " ".join(parsed.text.split())
    for topic in ("defer", "cover", "plastics", "saw", "estimate"):
        for caution in cautions(topic):
            assert caution in words
    assert words.index(cautions("defer")[0]) < words.index(cautions("cover")[0])


def test_parts_are_counted_in_words():
    """Copies as drawn, opposite hands, spares and those if there is room; holes by drill."""
    assert how_many(LID) == "1 as drawn"
    assert how_many(BRACKET) == "2 as drawn + 2 opposite hand = 4"
    assert how_many(simple_panel("x", 9, 9, quantity=0, spare=1, spare_if_room=2)) == (
        "1 spare, 2 more if there is room"
    )
    assert drills_text(LID, "in") == "4 x #2 (.221 in)"
    assert drills_text(BRACKET, "mm") == "3 x 2.5 mm"
    assert drills_text(simple_panel("x", 9, 9), "mm") == ""


def test_the_page_says_where_one_hand_serves_as_the_other():
    """Faces alike: the page counts copies in the words of check, so that nobody looks for a mirrored part."""
    job, _ = lid_job()
    both = replace(LID, opposite_hand=1, faces="alike", marks=())
    assert f"{how_many(both)}, revision A" in "\n".join(parts_part(replace(job, panels=(both,))))
    assert "turned over, one hand is the other" in how_many(both)
