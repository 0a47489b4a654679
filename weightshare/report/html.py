"""Documents as one HTML file that needs nothing beside it: no network, no script; on a phone, on a screen, on paper."""

from __future__ import annotations

from collections.abc import Iterator

from weightshare.report.document import Document, Picture, Section, Table
from weightshare.report.drawing import BLUE, HAIRLINE, INK, PAPER, QUIET
from weightshare.report.svg import clean, to_element

PAPERS = {"A4": "A4 portrait", "letter": "letter portrait"}
POLICY = "default-src 'none'; style-src 'unsafe-inline'"
"""A reader that keeps to it loads and runs nothing, whatever stands in the page (W3C, Content Security Policy)."""

_STYLE = f"""\
:root {{ color-scheme: light; }}
* {{ box-sizing: border-box; }}
body {{ margin: 0; background: {PAPER}; color: {INK}; overflow-wrap: anywhere;
  font: 1rem/1.45 "DejaVu Sans", Verdana, "Helvetica Neue", Arial, sans-serif; }}
main {{ max-width: 60rem; margin: 0 auto; padding: 1rem; }}
body.large {{ font-size: 1.15rem; }}
body.large main {{ max-width: 40rem; }}
h1 {{ font-size: 1.6em; line-height: 1.2; margin: 0.4em 0 0.6em; }}
h2 {{ font-size: 1.15em; margin: 1.6em 0 0.5em; }}
p, ul {{ margin: 0.4em 0; }}
ul {{ padding-left: 1.3em; }}
.note, figcaption, footer {{ color: {QUIET}; font-size: 0.85em; }}
footer {{ border-top: 1px solid {HAIRLINE}; margin-top: 2em; padding-top: 0.6em; }}
figure {{ margin: 0.8em 0; }}
.wide {{ overflow-x: auto; }}
.wide:focus-visible {{ outline: 3px solid {BLUE}; outline-offset: 2px; }}
svg {{ display: block; width: 100%; height: auto; }}
.phone {{ display: none; }}
table {{ border-collapse: collapse; width: 100%; font-size: 0.85em; overflow-wrap: normal; }}
table.dense {{ font-size: 0.76em; }}
th, td {{ border-bottom: 1px solid {HAIRLINE}; padding: 0.25em 0.7em 0.25em 0; text-align: left; vertical-align: top; }}
.figure {{ text-align: right; font-variant-numeric: tabular-nums; }}
th.figure, td.figure {{ white-space: nowrap; }}
table.dense th.figure {{ white-space: normal; }}
tbody th {{ font-weight: normal; }}
.halves {{ display: grid; grid-template-columns: 1fr 1fr; gap: 0 2em; }}
table.facts {{ overflow-wrap: anywhere; }}
table.facts th {{ color: {QUIET}; width: 30%; }}
@media screen and (max-width: 40rem) {{
  col {{ width: auto !important; }}
  .desk {{ display: none; }}
  .phone {{ display: block; }}
  .halves {{ grid-template-columns: 1fr; }}
  table.list, .list tbody, .list tr {{ display: block; }}
  .list thead {{ position: absolute; clip-path: inset(50%); width: 1px; height: 1px; overflow: hidden; }}
  .list tr {{ border-bottom: 1px solid {HAIRLINE}; padding: 0.4em 0; }}
  .list th, .list td {{ display: inline-block; border: 0; padding: 0 0.9em 0 0; text-align: left; }}
  .list th.figure, .list td.figure {{ white-space: normal; }}
  .list tbody th {{ font-weight: bold; }}
  .list th[data-head]::before, .list td::before {{ content: attr(data-head) " "; color: {QUIET}; }}
  .list td:empty {{ display: none; }}
  th.figure {{ white-space: normal; }}
  table.dense td, table.dense th {{ padding-right: 0.42em; overflow-wrap: normal; }}
  table.dense:not(.list) {{ font-size: 0.72em; }}
}}
@media print {{
  body {{ font-size: 8.8pt; line-height: 1.3; }}
  body.large {{ font-size: 10.5pt; line-height: 1.45; }}
  body.large svg {{ width: 65%; }}
  main {{ max-width: none; padding: 0; }}
  h1 {{ margin: 0 0 0.4em; }}
  h2 {{ margin: 1em 0 0.3em; }}
  p, ul {{ margin: 0.25em 0; }}
  figure {{ margin: 0.4em 0; }}
  .desk svg {{ width: 95%; }}
  h2, tr, figure, table:not(.dense) {{ break-inside: avoid; }}
  h2, p:has(+ figure) {{ break-after: avoid; }}
  .wide {{ overflow: visible; }}
  .note, figcaption, footer {{ font-size: 0.87em; }}
  footer {{ margin-top: 1em; }}
  table, table.dense {{ font-size: 0.87em; }}
  th, td {{ padding: 0.12em 0.5em 0.12em 0; }}
  table.dense td, table.dense th {{ padding-right: 0.3em; }}
  thead {{ display: table-header-group; }}
}}"""


def to_html(document: Document, paper: str = "A4") -> str:
    """Return `document` as a page, to be printed on `paper`, A4 or letter. Raises KeyError for another."""
    size = f"@page {{ size: {PAPERS[paper]}; margin: 12mm; }}"
    head = (
        "<!DOCTYPE html>",
        '<html lang="en">',
        "<head>",
        '<meta charset="utf-8">',
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        '<meta name="referrer" content="no-referrer">',
        f"<title>{clean(document.subject or document.title)}</title>",
        f"<style>\n{size}\n{_STYLE}\n</style>",
        "</head>",
        f"<body{_class('large' if document.large else '')}>",
        "<main>",
    )
    return "\n".join([*head, *_body(document), "</main>", "</body>", "</html>"]) + "\n"


def _class(name: str) -> str:
    return f' class="{name}"' if name else ""


def _body(document: Document) -> Iterator[str]:
    yield f"<h1>{clean(document.title)}</h1>"
    if document.facts:
        yield '<table class="facts"><tbody>'
        for name, value in document.facts:
            yield f'<tr><th scope="row">{clean(name)}</th><td>{clean(value)}</td></tr>'
        yield "</tbody></table>"
    for section in document.sections:
        yield from _section(section)
    yield f"<footer>{clean(document.foot)}</footer>"


def _section(section: Section) -> Iterator[str]:
    yield f"<section><h2>{clean(section.heading)}</h2>"
    yield from (f"<p>{clean(words)}</p>" for words in section.paragraphs)
    if section.points:
        yield f"<ul>{''.join(f'<li>{clean(point)}</li>' for point in section.points)}</ul>"
    if section.table is not None:
        yield from _tables(section.table, section.heading)
    yield from map(_figure, section.pictures)
    yield from (f'<p class="note">{clean(note)}</p>' for note in section.notes)
    yield "</section>"


def _tables(table: Table, name: str) -> Iterator[str]:
    """Yield a table; of one in halves two, beside each other where there is room, else under each other."""
    boxes = [_in_box(_table(part), name, wide=len(part.heads) > 2) for part in table.parts]
    yield boxes[0] if len(boxes) == 1 else f'<div class="halves">{"".join(boxes)}</div>'


def _in_box(inner: str, name: str, *, wide: bool) -> str:
    """Return `inner` in a box that is moved sideways where the screen is narrower than it, by keys too."""
    return f'<div class="wide" tabindex="0" role="region" aria-label="{clean(name)}">{inner}</div>' if wide else inner


def _figure(picture: Picture) -> str:
    """Return a picture; where it has another one for a phone, both: the style shows one of them."""
    shown = to_element(picture.drawing)
    if picture.narrow is not None:
        shown = f'<div class="desk">{shown}</div><div class="phone">{to_element(picture.narrow)}</div>'
    below = f"<figcaption>{clean(picture.caption)}</figcaption>" if picture.caption else ""
    return f"<figure>{shown}{below}</figure>"


def _table(table: Table) -> str:
    """Return a table. Of one that a phone shows row by row the parts say what they are: its style would hide that."""
    named = _role if table.is_list else _no_role
    rows = "\n".join(f"<tr{named('row')}>{''.join(_cells(row, table, 'row'))}</tr>" for row in table.rows)
    heads = "".join(_cells(table.heads, table, "col"))
    head = f"<thead{named('rowgroup')}><tr{named('row')}>{heads}</tr></thead>\n" if any(table.heads) else ""
    look = " ".join(name for name, is_so in (("dense", table.dense), ("list", table.is_list)) if is_so)
    body = f"<tbody{named('rowgroup')}>\n{rows}\n</tbody>"
    return f"<table{_class(look)}{named('table')}>{_columns(table.widths)}{head}{body}</table>"


def _role(name: str) -> str:
    return f' role="{name}"'


def _no_role(_name: str) -> str:
    return ""


def _columns(widths: tuple[float, ...]) -> str:
    """Return how wide the columns are, in parts of the table's; on a phone they are as wide as what stands in them."""
    if not widths:
        return ""
    columns = "".join(f'<col style="width: {100.0 * part:.4g}%">' for part in widths)
    return f"<colgroup>{columns}</colgroup>\n"


def _cells(cells: tuple[str, ...], table: Table, scope: str) -> Iterator[str]:
    named = _role if table.is_list else _no_role
    for place, cell in enumerate(cells):
        is_head = scope == "col" or place == 0
        look = _class("" if place < table.words else "figure")
        if is_head:
            role = named("columnheader" if scope == "col" else "rowheader")
            # what words begin a row need no head
            head = _head(table, 0) if scope == "row" and not table.words else ""
            yield f'<th scope="{scope}"{look}{head}{role}>{clean(cell)}</th>'
        else:
            head = _head(table, place)
            yield f"<td{look}{head}{named('cell')}>{clean(cell)}</td>"


def _head(table: Table, place: int) -> str:
    """Return the head of a column for a cell of it, where the style shows it before the cell."""
    return f' data-head="{clean(table.heads[place])}"' if table.is_list else ""
