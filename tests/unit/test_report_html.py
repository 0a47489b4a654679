"""Reports as HTML: nothing beside the file, nothing that runs, colours that can be read."""

from __future__ import annotations

import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from tests.unit.test_theme import contrast
from weightshare.records.store.ruling import Ruling
from weightshare.report import drawing, letter
from weightshare.report.account import Account, Person, account_of
from weightshare.report.clinic import make_clinic
from weightshare.report.document import Document, Section, Table
from weightshare.report.handout import make_handout
from weightshare.report.html import to_html

HARM = "<script>alert('x')</script> \"q\" & </title><img src=x onerror=alert(1)> \x07\ud800"
KNOWN = {
    "html", "head", "meta", "title", "style", "body", "main", "section", "h1", "h2", "p", "ul", "li", "div", "figure",
    "figcaption", "footer", "table", "colgroup", "col", "thead", "tbody", "tr", "th", "td", "svg", "rect", "polygon",
    "polyline", "text",
}  # fmt: skip
EMPTY = {"meta", "col"}


class Reader(HTMLParser):
    """Reads a page as a browser would: tags, attributes, text; and that each tag is closed where it should be."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []
        self.said: list[str] = []
        self.open: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += attrs
        if tag not in EMPTY:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += attrs

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.said.append(data)


@pytest.fixture(scope="module")
def account(lowered: Path) -> Account:
    ruling = Ruling("2026-03-16T10:00:00+01:00", HARM, "stays", HARM, HARM, HARM)
    return replace(account_of(lowered), person=Person(HARM, HARM), rulings=(ruling,))


@pytest.fixture(scope="module", params=[make_clinic, make_handout], ids=["clinician", "patient"])
def page(request: pytest.FixtureRequest, account: Account) -> str:
    return to_html(request.param(account))


def test_a_page_is_whole_and_knows_only_harmless_tags(page: str) -> None:
    reader = Reader(page)
    assert reader.open == []
    assert set(reader.tags) <= KNOWN
    assert {"svg", "main", "h1", "footer"} <= set(reader.tags)
    assert reader.tags.count("h1") == 1


def test_a_name_does_no_harm(page: str) -> None:
    reader = Reader(page)
    assert "<script>alert('x')</script>" in " ".join(reader.said)
    assert "<script" not in page and "<img" not in page
    assert not [name for name, _value in reader.attributes if name.startswith("on")]
    assert not any(ord(one) < 32 for one in page if one != "\n")
    page.encode()


def test_nothing_is_fetched_from_elsewhere(page: str) -> None:
    reader = Reader(page)
    assert not [name for name, _value in reader.attributes if name in ("src", "href", "srcset", "action", "data")]
    assert "url(" not in page and "@import" not in page
    assert set(re.findall(r"\w+://[^\"'<\s]+", page)) == {"http://www.w3.org/2000/svg"}  # a name, not an address
    policy = next(value for name, value in reader.attributes if name == "content" and value and "default-src" in value)
    assert policy == "default-src 'none'; style-src 'unsafe-inline'"


def test_it_is_made_for_a_phone_and_for_paper(account: Account) -> None:
    for paper, size in (("A4", "A4 portrait"), ("letter", "letter portrait")):
        page = to_html(make_handout(account), paper)
        assert f"@page {{ size: {size}; margin: 12mm; }}" in page
        assert 'content="width=device-width, initial-scale=1"' in page
    assert to_html(make_handout(account)) == to_html(make_handout(account))


def test_who_does_not_see_the_picture_is_told_what_it_is(page: str) -> None:
    count = page.count("<svg")
    assert count == page.count('role="img"') == len(re.findall(r"<svg[^>]*>\s*<title>[^<]+</title>", page)) > 0
    assert 0 < page.count("<figcaption>") <= count and "<figcaption></figcaption>" not in page


def test_heads_are_heads_and_a_wide_table_is_moved_by_keys() -> None:
    table = Table(("a", "b", "c"), (("1", "2", "3"),), words=1)
    page = to_html(Document("t", (), (Section("s", table=table),), "f"))
    assert '<div class="wide" tabindex="0" role="region" aria-label="s"><table>' in page
    assert '<th scope="col">a</th><th scope="col" class="figure">b</th>' in page
    assert '<th scope="row">1</th><td class="figure">2</td>' in page


def test_a_row_of_many_cells_says_on_a_phone_what_each_is() -> None:
    """What a style shows as lines is still a table to who hears it: its parts say so (WAI-ARIA 1.2, from memory)."""
    table = Table(("a", "b", "c", "<d>"), (("1", "2", "", "4"),), words=1)
    page = to_html(Document("t", (), (Section("s", table=table),), "f"))
    assert '<table class="list" role="table">' in page
    assert '<td class="figure" data-head="b" role="cell">2</td>' in page and 'data-head="&lt;d&gt;"' in page
    assert '<th scope="row" role="rowheader">1</th>' in page and '<th scope="col" role="columnheader">a</th>' in page
    assert page.count('role="row"') == 2 and page.count('role="rowgroup"') == 2
    # figures that are compared down their columns stay a table, in two halves that a phone puts under each other
    halves = to_html(Document("t", (), (Section("s", table=replace(table, halves=True, rows=table.rows * 3)),), "f"))
    assert ' role="table"' not in halves and halves.count("<table") == 2 and "data-head=" not in halves


@pytest.mark.parametrize("ground", [drawing.PAPER, drawing.SHADE])
@pytest.mark.parametrize("colour", [drawing.INK, drawing.QUIET, drawing.BLUE, drawing.RED])
def test_text_and_lines_can_be_read(colour: str, ground: str) -> None:
    """WCAG 2.2, 1.4.3: text 4.5:1; 1.4.11: what tells something, 3:1. The band's edges are lines in QUIET."""
    assert contrast(colour, ground) >= 4.5


def test_a_page_has_no_other_colours(page: str) -> None:
    known = {drawing.INK, drawing.QUIET, drawing.BLUE, drawing.RED, drawing.PAPER, drawing.SHADE, drawing.HAIRLINE}
    assert set(re.findall(r"#[0-9a-f]{6}\b", page)) <= known


@pytest.mark.parametrize("text", ["W" * 300, "Session of A-1", ""])
def test_the_foot_leaves_room_for_the_number(text: str) -> None:
    said = letter.shortened(text, 200.0, 7.0)
    assert letter.width_of(said, 7.0) <= 200.0
    assert said == text or (said.endswith("\u2026") and letter.width_of(said + "W", 7.0) > 200.0)
