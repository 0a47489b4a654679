"""Documents as PDF: the same bytes for the same document, on A4 or letter paper, with page numbers."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from itertools import zip_longest
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.records.whole import write_whole
from weightshare.report import drawing, letter
from weightshare.report.document import Document, Picture, Section, Table
from weightshare.report.ink import LANGUAGE, colour_of, draw, numbered

if TYPE_CHECKING:
    from reportlab.platypus import Flowable

PAPERS = {"A4": (595.2756, 841.8898), "letter": (612.0, 792.0)}
"""Points: 210 x 297 mm (ISO 216), 8.5 x 11 in."""
_MARGIN = 42.0
_TOP, _BOTTOM, _FOOT = 32.0, 40.0, 29.0
"""Of the words; the foot stands below them, on its own line."""
_SMALLEST = 0.92
"""A picture gives way so far, and no further: its letters are small."""
_PICTURED = 492.0
"""No picture is wider: on letter paper, which is wider and lower than A4, it would only be higher."""
_PADDING = 6.0
"""Of reportlab's frame, within the margin."""
_LEAST = 7.5
"""No letter is smaller, however much there is to say."""
_SIZE, _TABLE, _NOTE = 8.5, 7.8, _LEAST
_DENSE_BELOW = 0.95
"""Where letters give way further than that, the rows of the first table are closer too."""
_LEADING, _CELL = 1.35, 1.25
"""From line to line of a cell, in letter sizes: in words, and in a cell, where rows have air of their own."""
_GAP = 0.03
"""Between two halves of a table, as a part of the page's width."""
_LARGE, _USUAL = (1.4, 1.25, 1.1, 1.0), (1.0, 0.95, 0.9, 0.85, 0.82)
"""By so much letters are larger: by the first with which a document has no more pages than it aims at, else by the
last. Room between lines gives way with them, and on when they are as small as any."""
_UNTORN = 5
"""A table of so few rows stands on one page."""
_HEAD_ROOM, _WORDS_ROOM = 64.0, 60.0
"""A section begins on the next page where less than this is left; one that begins with words needs less."""


def to_pdf(document: Document, paper: str = "A4") -> bytes:
    """Return `document` as a PDF file on `paper`, A4 or letter. Raises KeyError for another."""
    for scale in _LARGE if document.large else _USUAL:
        data, pages = _build(document, PAPERS[paper], scale)
        if document.pages is None or pages <= document.pages:
            break
    return data


def _build(document: Document, size: tuple[float, float], scale: float) -> tuple[bytes, int]:
    """Return the file, and how many pages it has."""
    from reportlab.platypus import SimpleDocTemplate

    letter.load()
    width, height = size
    held = BytesIO()
    template = SimpleDocTemplate(
        held, pagesize=(width, height), leftMargin=_MARGIN, rightMargin=_MARGIN, topMargin=_TOP,
        bottomMargin=_BOTTOM, invariant=1, title=document.title, author="weightshare", lang=LANGUAGE,
        subject=document.subject, keywords=", ".join(document.keywords), creator="weightshare",
    )  # fmt: skip
    template.build(
        list(_flow(document, width - 2 * (_MARGIN + _PADDING), scale)),
        canvasmaker=numbered(document.foot, _MARGIN + _PADDING, _FOOT, _LEAST),
    )
    return held.getvalue(), int(template.page)


def write_pdf(path: Path, document: Document, paper: str = "A4") -> None:
    """Write `document` to `path`, whole or not at all. Raises OSError, KeyError as to_pdf does."""
    write_whole(path, to_pdf(document, paper))


def drawing_to_pdf(picture: drawing.Drawing) -> bytes:
    """Return a PDF file of one page, which is the picture."""
    from reportlab.pdfgen.canvas import Canvas

    letter.load()
    held = BytesIO()
    canvas = Canvas(held, pagesize=(picture.width, picture.height), invariant=1, lang=LANGUAGE)
    canvas.setTitle(picture.title)
    draw(canvas, picture)
    canvas.showPage()
    canvas.save()
    return held.getvalue()


def _flow(document: Document, width: float, scale: float) -> Iterator[Flowable]:
    from reportlab.platypus import Spacer

    yield _paragraph(document.title, 17.0 * scale, bold=True, after=8.0)
    if document.facts:
        yield _table(Table(("", ""), document.facts, (0.22, 0.78), 2, dense=scale < _DENSE_BELOW), width, scale)
    for section in document.sections:
        yield Spacer(1, 9.0 * min(1.0, scale))
        yield from _section(section, width, scale)


def _section(section: Section, width: float, scale: float) -> Iterator[Flowable]:
    from reportlab.platypus import CondPageBreak, KeepTogether

    first, *rest = _groups(section, width, scale)
    yield CondPageBreak(_WORDS_ROOM if section.paragraphs or section.points else _HEAD_ROOM)
    head = _paragraph(section.heading, 11.0 * scale, bold=True, after=4.0)
    for group in ([_mark(section.heading), head, *first], *rest):
        yield KeepTogether(group) if len(group) > 1 else group[0]


def _mark(heading: str) -> Flowable:
    """Return what has no size, and notes where a heading stands: the file's outline leads there."""
    from reportlab.platypus import Flowable as Base

    class Noted(Base):  # type: ignore[misc, unused-ignore]
        def wrap(self, _room: float, _height: float) -> tuple[float, float]:
            return 0.0, 0.0

        def draw(self) -> None:
            self.canv.headings.append((heading, self.canv.absolutePosition(0.0, 0.0)[1]))

    return Noted()


def _groups(section: Section, width: float, scale: float) -> Iterator[list[Flowable]]:
    """Yield what is never torn apart. A heading is never the last thing on a page, nor is it torn from its picture by
    one line."""
    from reportlab.platypus import Spacer

    size = max(_LEAST, _SIZE * scale)
    words = [*section.paragraphs, *(f"\u2022 {point}" for point in section.points)]
    leading = _LEADING * min(1.0, scale)
    lines = [_paragraph(each, size, leading=leading, after=3.0 * min(1.0, scale)) for each in words]
    pictures = [_pictured(picture, width, scale) for picture in section.pictures]
    # one row by itself on the next page would be read as a table of its own; without words it goes with its heading
    is_short = section.table is not None and len(section.table.rows) <= _UNTORN
    if pictures and section.table is None and len(lines) < 2:
        yield [*lines, *pictures.pop(0)]
    elif not (is_short and not lines):
        yield lines[:1] or [Spacer(1, 0.1)]
        yield from ([line] for line in lines[1:])
    if section.table is not None:
        yield [*([Spacer(1, 0.1)] if is_short else []), _table(section.table, width, scale)]
    yield from pictures
    if section.notes:
        yield [Spacer(1, 3.0)]
    yield from ([_note(note, scale)] for note in section.notes)


def _pictured(picture: Picture, width: float, scale: float) -> list[Flowable]:
    from reportlab.platypus import Spacer

    below = [_note(picture.caption, scale)] if picture.caption else []
    # pictures give way by half as much as letters: theirs are small
    wide = picture.part * min(width, _PICTURED) * max(_SMALLEST, min(1.0, scale) ** 0.5)
    return [Spacer(1, 6.0 * min(1.0, scale)), _picture(picture.drawing, wide), *below]


def _note(text: str, scale: float) -> Flowable:
    air = min(1.0, scale)
    return _paragraph(text, max(_LEAST, _NOTE * scale), leading=_LEADING * air, after=3.0 * air)


def _paragraph(
    text: str,
    size: float = _SIZE,
    *,
    bold: bool = False,
    after: float = 3.0,
    right: bool = False,
    leading: float = _LEADING,
) -> Flowable:
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import Paragraph

    style = ParagraphStyle(
        "weightshare", fontName=letter.BOLD if bold else letter.REGULAR, fontSize=size, leading=size * leading,
        spaceAfter=after, textColor=colour_of(drawing.INK), alignment=2 if right else 0, splitLongWords=1,
        allowOrphans=0, allowWidows=0,
    )  # fmt: skip
    return Paragraph(letter.marked_up(text, bold), style)


def _table(table: Table, width: float, scale: float = 1.0) -> Flowable:
    from reportlab.platypus import Table as PaperTable

    has_heads = any(table.heads)
    size = _LEAST if table.dense else max(_LEAST, scale * _TABLE)
    first, *second = (_rows(part, size) for part in table.parts)
    parts = table.widths or (1.0 / len(table.heads),) * len(table.heads)
    lines = [((0, 0), (-1, -1))]
    rows: list[list[Flowable | str]] = [*first]
    if second:
        empty = [""] * len(parts)
        rows = [[*left, "", *right] for left, right in zip_longest(first, *second, fillvalue=empty)]
        lines = [((0, 0), (len(parts) - 1, -1)), ((len(parts) + 1, 0), (-1, -1))]
        halved = [part * (1.0 - _GAP) / 2.0 for part in parts]
        parts = (*halved, _GAP, *halved)
    above, below = (1.0, 1.7) if table.dense else (2.0 * min(1.0, scale), 2.5 * min(1.0, scale))
    paper = PaperTable(rows, [part * width for part in parts], repeatRows=int(has_heads), hAlign="LEFT", splitInRow=1)
    paper.setStyle(
        [
            *(("LINEBELOW", *corners, 0.4, colour_of(drawing.HAIRLINE)) for corners in lines),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("TOPPADDING", (0, 0), (-1, -1), above),
            ("BOTTOMPADDING", (0, 0), (-1, -1), below),
            ("LEFTPADDING", (0, 0), (-1, -1), 0.0),
            ("RIGHTPADDING", (0, 0), (-1, -1), 3.5 if table.dense else 5.0),
        ]
    )
    return paper


def _rows(table: Table, size: float) -> list[list[Flowable]]:
    """Return the cells of a table, its heads first where it has any."""
    heads = [_cells(table, table.heads, size, bold=True)] if any(table.heads) else []
    return [*heads, *(_cells(table, row, size) for row in table.rows)]


def _cells(table: Table, row: tuple[str, ...], size: float, *, bold: bool = False) -> list[Flowable]:
    return [
        _paragraph(cell, size, bold=bold, after=0.0, right=place >= table.words, leading=_CELL)
        for place, cell in enumerate(row)
    ]


def _picture(picture: drawing.Drawing, width: float) -> Flowable:
    from reportlab.platypus import Flowable as Base

    class Shown(Base):  # type: ignore[misc, unused-ignore]
        def wrap(self, _room: float, _height: float) -> tuple[float, float]:
            return width, picture.height * width / picture.width

        def draw(self) -> None:
            self.canv.scale(width / picture.width, width / picture.width)
            draw(self.canv, picture)

    return Shown()
