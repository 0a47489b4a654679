"""Reports in a browser: as wide as its screen and no wider, and printed on the paper that was asked for.

The tests that open one are skipped where there is no Chromium: it is no dependency, and `.ci/setup` installs none.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from collections.abc import Callable
from html import escape
from html.parser import HTMLParser
from pathlib import Path
from unicodedata import normalize

import pytest
from pypdf import PdfReader

from tests.unit.weeks import weeks
from weightshare.report.account import Account, Person, account_of
from weightshare.report.clinic import make_clinic
from weightshare.report.document import Document
from weightshare.report.handout import make_handout
from weightshare.report.html import to_html
from weightshare.report.journey import make_journey
from weightshare.report.progress import make_progress

PHONE, DESK = 390, 1366
"""Widths in CSS pixels: of a common phone held upright, and of a small laptop (common practice, no source)."""
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
LETTER_SIZE = (612.0, 792.0)
FRAME = '<iframe srcdoc="{page}" style="border: 0; width: {width}px; height: 800px"></iframe>'
MEASURE = """<script>onload = () => { document.title = [...document.querySelectorAll("iframe")].map(
  frame => frame.contentDocument.documentElement).map(root => [root.scrollWidth, root.clientWidth]).join() }</script>"""
"""Two screens in one window: no window of Chromium is as narrow as a phone."""
LONG = Person("W" * 64, "Weronika " * 8, "2025-12-15")


@pytest.fixture(scope="module")
def newest(lowered: Path) -> Account:
    return account_of(lowered)


Make = Callable[[Account], Document]
MAKERS: dict[str, Make] = {
    "session": make_clinic,
    "handout": make_handout,
    "progress": lambda account: make_progress(weeks(person=LONG), account),
    "journey": lambda _account: make_journey(weeks(person=LONG)),
}


@pytest.fixture(scope="module", params=list(MAKERS))
def made(request: pytest.FixtureRequest, newest: Account) -> Document:
    document: Document = MAKERS[request.param](newest)
    return document


class Boxes(HTMLParser):
    """Looks for tables, with whether each lies in a box that moves sideways, and pictures, with the screen of each."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tables: list[tuple[int, bool]] = []
        self.pictures: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs).get("class") or ""
        self.open.append(named if named in ("wide", "desk", "phone") else tag)
        if tag == "table":
            self.tables.append((0, "wide" in self.open))
        if tag == "svg":
            self.pictures.append(next((name for name in ("desk", "phone") if name in self.open), ""))
        if tag in ("th", "td") and "tr" in self.open and self.tables:
            count, moves = self.tables[-1]
            self.tables[-1] = (count + 1, moves)
        if tag == "tr" and self.tables:
            self.tables[-1] = (0, self.tables[-1][1])
        if tag in ("meta", "col"):
            self.open.pop()

    def handle_endtag(self, _tag: str) -> None:
        self.open.pop()


def test_what_is_wider_than_a_phone_lies_in_a_box_that_moves(made: Document) -> None:
    page = to_html(made)
    boxes = Boxes(page)
    assert boxes.open == [] and boxes.pictures
    assert all(moves == (count > 2) for count, moves in boxes.tables)
    # the patient's picture is made for a phone; of each of the clinician's there is one more, which is
    count = len(boxes.pictures)
    assert boxes.pictures == ([""] * count if made.large else ["desk", "phone"] * (count // 2))
    # the style: nothing has a least width, and no width is fixed
    style = page[page.index("<style>") : page.index("</style>")]
    assert "min-width" not in style
    assert not re.findall(r"[^-]width: (?!1px;)[0-9.]+(?:px|pt|rem|em)", style)
    assert "svg { display: block; width: 100%; height: auto; }" in style


@pytest.mark.skipif(CHROMIUM is None, reason="there is no Chromium here")
class TestChromium:
    """Each page as a browser lays it out and prints it."""

    def test_no_page_is_wider_than_its_screen(self, made: Document, tmp_path: Path) -> None:
        page = escape(to_html(made))
        frames = "".join(FRAME.format(page=page, width=width) for width in (PHONE, DESK))
        (tmp_path / "a.html").write_text(f"<!DOCTYPE html><title></title>{frames}{MEASURE}", encoding="utf-8")
        title = re.search(r"<title>(\d+),(\d+),(\d+),(\d+)</title>", browse(tmp_path, "--dump-dom"))
        assert title is not None
        assert [int(found) for found in title.groups()] == [PHONE, PHONE, DESK, DESK]

    def test_it_prints_on_its_paper(self, made: Document, tmp_path: Path) -> None:
        (tmp_path / "a.html").write_text(to_html(made, "letter"), encoding="utf-8")
        browse(tmp_path, "--no-pdf-header-footer", f"--print-to-pdf={tmp_path / 'a.pdf'}")
        pages = PdfReader(tmp_path / "a.pdf").pages
        assert len(pages) <= (1 if made.large else 3)
        assert {(float(page.mediabox.width), float(page.mediabox.height)) for page in pages} == {LETTER_SIZE}
        # a browser joins letters
        said = normalize("NFKC", pages[-1].extract_text())
        assert "certified medical device" in " ".join(said.split())


def browse(place: Path, *words: str) -> str:
    """Open a.html in `place` in a browser of its own without a screen; return what it prints."""
    own = ["--headless", "--disable-gpu", "--hide-scrollbars", f"--user-data-dir={place / 'profile'}"]
    # its sandbox works for no administrator, and in few containers
    own += ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    command = [CHROMIUM or "", *own, *words, (place / "a.html").as_uri()]
    return subprocess.run(command, capture_output=True, text=True, timeout=100, check=True).stdout
