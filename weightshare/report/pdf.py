"""Documents as PDF: the same bytes for the same document, on A4 or letter paper, with page numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from io import BytesIO
from itertools import zip_longest
from pathlib import Path
from typing import TYPE_CHECKING, Any

from weightshare.records.whole import write_whole
from weightshare.report import drawing, letter
from weightshare.report.document import Document, Picture, Section, Table

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
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
_LARGE, _USUAL = (1.4, 1.25, 1.1, 1.0), (1.0, 0.95, 0.9, 0.85)
"""By so much letters are larger: by the first with which a document has no more pages than it aims at, else by the
last. Room between lines gives way with them, and on when they are as small as any."""
_NUMBER_ROOM = 70.0
"""For the number of the page, beside the foot."""
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
        bottomMargin=_BOTTOM, invariant=1, title=document.title, author="weightshare", lang="en",
        subject=document.subject, keywords=", ".join(document.keywords), creator="weightshare",
    )  # fmt: skip
    template.build(
        list(_flow(document, width - 2 * (_MARGIN + _PADDING), scale)), canvasmaker=_canvas_class(document.foot, width)
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
    canvas = Canvas(held, pagesize=(picture.width, picture.height), invariant=1)
    canvas.setTitle(picture.title)
    _draw(canvas, picture)
    canvas.showPage()
    canvas.save()
    return held.getvalue()


def _canvas_class(foot: str, width: float) -> Callable[..., Any]:
    """Return a canvas that writes the foot of each page when it knows how many there are."""
    from reportlab.pdfgen.canvas import Canvas

    said = letter.shortened(foot, width - 2 * (_MARGIN + _PADDING) - _NUMBER_ROOM, _LEAST)

    class Numbered(Canvas):  # type: ignore[misc, unused-ignore]
        def __init__(self, *given: Any, **named: Any) -> None:
            super().__init__(*given, **named)
            self._pages: list[dict[str, Any]] = []

        def showPage(self) -> None:
            self._pages.append(dict(self.__dict__))
            self._startPage()

        def save(self) -> None:
            for number, page in enumerate(self._pages, 1):
                self.__dict__.update(page)
                _write(self, drawing.Words(_MARGIN + _PADDING, _FOOT, said, _LEAST, colour=drawing.QUIET))
                count = f"page {number} of {len(self._pages)}"
                _write(self, drawing.Words(width - _MARGIN - _PADDING, _FOOT, count, _LEAST, "end", drawing.QUIET))
                super().showPage()
            super().save()

    return Numbered


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
    for group in ([head, *first], *rest):
        yield KeepTogether(group) if len(group) > 1 else group[0]


def _groups(section: Section, width: float, scale: float) -> Iterator[list[Flowable]]:
    """Yield what is never torn apart. A heading is never the last thing on a page, nor is it torn from its picture by
    one line."""
    from reportlab.platypus import Spacer

    size = max(_LEAST, _SIZE * scale)
    words = [*section.paragraphs, *(f"\u2022 {point}" for point in section.points)]
    leading = _LEADING * min(1.0, scale)
    lines = [_paragraph(each, size, leading=leading, after=3.0 * min(1.0, scale)) for each in words]
    pictures = [_pictured(picture, width, scale) for picture in section.pictures]
    if pictures and section.table is None and len(lines) < 2:
        yield [*lines, *pictures.pop(0)]
    else:
        yield lines[:1] or [Spacer(1, 0.1)]
        yield from ([line] for line in lines[1:])
    if section.table is not None:
        yield [_table(section.table, width, scale)]
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
        spaceAfter=after, textColor=drawing.INK, alignment=2 if right else 0, splitLongWords=1,
        allowOrphans=0, allowWidows=0,
    )  # fmt: skip
    return Paragraph(letter.marked_up(text, bold), style)


def _table(table: Table, width: float, scale: float = 1.0) -> Flowable:
    from reportlab.lib.colors import HexColor
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
            *(("LINEBELOW", *corners, 0.4, HexColor(drawing.HAIRLINE)) for corners in lines),
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
            _draw(self.canv, picture)

    return Shown()


def _draw(canvas: Canvas, picture: drawing.Drawing) -> None:
    canvas.saveState()
    canvas.translate(0.0, picture.height)
    for part in picture.parts:
        if isinstance(part, drawing.Path):
            _trace(canvas, part)
        else:
            _write(canvas, part, flipped=True)
    canvas.restoreState()


def _trace(canvas: Canvas, path: drawing.Path) -> None:
    canvas.setDash(*((4, 3) if path.dashed else ()))
    canvas.setLineWidth(path.width)
    if path.stroke is not None:
        canvas.setStrokeColor(path.stroke)
    if path.fill is not None:
        canvas.setFillColor(path.fill)
    (x, y), *rest = path.points
    line = canvas.beginPath()
    line.moveTo(x, -y)
    for x, y in rest:
        line.lineTo(x, -y)
    if path.closed:
        line.close()
    canvas.drawPath(line, stroke=int(path.stroke is not None), fill=int(path.fill is not None))


def _write(canvas: Canvas, words: drawing.Words, *, flipped: bool = False) -> None:
    canvas.saveState()
    canvas.setFillColor(words.colour)
    canvas.translate(words.x, -words.y if flipped else words.y)
    if words.turned:
        canvas.rotate(90)
    x = -{"start": 0.0, "middle": 0.5, "end": 1.0}[words.anchor] * letter.width_of(words.text, words.size, words.bold)
    for font, piece in letter.runs(words.text, words.bold):
        canvas.setFont(font, words.size)
        canvas.drawString(x, 0.0, piece)
        x += canvas.stringWidth(piece, font, words.size)
    canvas.restoreState()
