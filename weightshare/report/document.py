"""What a document says, as a value: headings, paragraphs, tables, pictures. Whoever writes it chooses the form."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from weightshare.report.drawing import Drawing


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under heads. `widths` are parts of the page's; the first `words` columns hold words, the rest figures."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...] = ()
    words: int = 1
    dense: bool = False
    """Of many columns: rows are closer on paper."""
    halves: bool = False
    """Long and narrow: where there is room, its rows stand in two halves beside each other."""

    @property
    def is_list(self) -> bool:
        """Whether a row stands on a phone as a few lines of words with their heads: it is wider than that screen."""
        return len(self.heads) > 3 and not self.halves

    @property
    def parts(self) -> tuple[Table, ...]:
        """Both halves, the first the longer one; itself where it has none."""
        half = (len(self.rows) + 1) // 2
        if not self.halves or len(self.rows) < 2:
            return (self,)
        return tuple(replace(self, rows=rows) for rows in (self.rows[:half], self.rows[half:]))


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing with what it shows, in words, empty where another says it; `name`: what its own file is called."""

    drawing: Drawing
    caption: str
    name: str
    part: float = 1.0
    """How much of a page's width it takes on paper."""
    narrow: Drawing | None = None
    """The same for a phone, where letters of the wide one would be too small; None: it is narrow enough itself."""


@dataclass(frozen=True, slots=True)
class Section:
    """A heading with paragraphs, points, one table, pictures, notes; each may be missing."""

    heading: str
    paragraphs: tuple[str, ...] = ()
    points: tuple[str, ...] = ()
    table: Table | None = None
    pictures: tuple[Picture, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Document:
    """A whole document. `facts` are its first table, without heads; `foot` stands at the foot of every page."""

    title: str
    facts: tuple[tuple[str, str], ...]
    sections: tuple[Section, ...]
    foot: str
    subject: str = ""
    keywords: tuple[str, ...] = field(default=())
    large: bool = False
    """To be read without glasses: on paper in letters as large as `pages` allow."""
    pages: int | None = None
    """So many pages are aimed at: letters become a little smaller where it would be one more. None: as many as come."""
