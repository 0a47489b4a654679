"""The documentation's site, which `make docs` builds: every page has its place, and nothing asks for a network."""

from __future__ import annotations

import re
from pathlib import Path

import weightshare


def test_every_page_has_its_place(checkout: Path) -> None:
    contents = (checkout / "docs" / "site" / "contents.md").read_text(encoding="utf-8")
    named = re.findall(r"^(?:.* <)?/([\w./-]+)>?$", contents, re.MULTILINE)
    assert [name for name in named if not (checkout / f"{name}.md").is_file()] == []
    pages = {f"docs/{path.stem}" for path in (checkout / "docs").glob("*.md")}
    assert pages - {"docs/index"} <= set(named), "name it in docs/site/contents.md"
    assert len(named) == len(set(named)), "one page, one place"


def test_the_reference_tells_of_all_that_is_offered(checkout: Path) -> None:
    page = (checkout / "docs" / "site" / "python.md").read_text(encoding="utf-8")
    told = set(re.findall(r"auto(?:function|class):: (\w+)", page))
    assert set(weightshare.__all__) <= told


def test_nothing_in_it_asks_for_a_network(checkout: Path) -> None:
    files = [path for path in (checkout / "docs" / "site").rglob("*") if path.suffix in (".py", ".css", ".html")]
    assert len(files) >= 3
    assert [path.name for path in files if re.search(r"https?://|url\(|@import", path.read_text())] == []
