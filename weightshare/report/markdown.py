"""Documents as Markdown, with each picture as an SVG file beside it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

from weightshare.records.whole import write_whole
from weightshare.report.document import Document, Section, Table
from weightshare.report.svg import to_svg

_SPECIAL = re.compile(r"([\\`*_{}\[\]<>#!|~&$@])")
_FIRST = re.compile(r"^(\s*)(?:(\d+)(?=\.)|(?=[-+=]))")
_ADDRESS = re.compile(r"(://|\bwww\.)", re.IGNORECASE)
"""Many readers make a link of it, even without markup."""
_CONTROL = re.compile("[\x00-\x1f\x7f\u2028\u2029]+")


def plain(text: str) -> str:
    """Return `text` so that Markdown shows just its letters: no markup, no HTML, no link, no second line."""
    said = _SPECIAL.sub(r"\\\1", _CONTROL.sub(" ", text))
    return _ADDRESS.sub(lambda found: found[0].replace("/", "\\/").replace(".", "\\."), said)


def opening(text: str) -> str:
    """Return `text` as `plain` does, for the beginning of a line: where it also makes no list and no rule."""
    return _FIRST.sub(lambda found: f"{found[0]}\\", plain(text))


def to_markdown(document: Document, picture_stem: str | None = None) -> tuple[str, dict[str, str]]:
    """Return `document` as Markdown, and its pictures by file name, as SVG; names begin with `picture_stem`.

    Without one there are no pictures.
    """
    pictures = {
        f"{picture_stem}-{picture.name}.svg": to_svg(picture.drawing)
        for section in document.sections
        for picture in section.pictures
        if picture_stem is not None
    }
    return "\n".join(_lines(document, picture_stem)).rstrip() + "\n", pictures


def write_markdown(path: Path, document: Document) -> tuple[Path, ...]:
    """Write `document` to `path`, after its pictures beside it; return all files. Raises OSError."""
    text, pictures = to_markdown(document, path.stem)
    beside = tuple(path.with_name(name) for name in pictures)
    for place, picture in zip(beside, pictures.values(), strict=True):
        write_whole(place, picture.encode())
    write_whole(path, text.encode())
    return path, *beside


def _lines(document: Document, stem: str | None) -> Iterator[str]:
    yield from (f"# {plain(document.title)}", "")
    yield from _table(Table(("", ""), document.facts, words=2))
    for section in document.sections:
        yield from _section(section, stem)
    yield from ("---", opening(document.foot))


def _section(section: Section, stem: str | None) -> Iterator[str]:
    yield from (f"## {plain(section.heading)}", "")
    for paragraph in section.paragraphs:
        yield from (opening(paragraph), "")
    if section.points:
        yield from (*(f"- {opening(point)}" for point in section.points), "")
    if section.table is not None:
        yield from _table(section.table)
    for picture in section.pictures if stem is not None else ():
        address = quote(f"{stem}-{picture.name}.svg")
        yield from (f"![{plain(picture.drawing.title)}]({address})", "", opening(picture.caption), "")
    for note in section.notes:
        yield from (opening(note), "")


def _table(table: Table) -> Iterator[str]:
    lines = [":---" if place < table.words else "---:" for place in range(len(table.heads))]
    yield from (_row(tuple(map(plain, table.heads))), _row(tuple(lines)))
    yield from (_row(tuple(map(plain, row))) for row in table.rows)
    yield ""


def _row(cells: tuple[str, ...]) -> str:
    return f"| {' | '.join(cells)} |"
