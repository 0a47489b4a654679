"""Documents and pictures of a calibration: what is in them, with how many digits; nothing in them does harm."""

from __future__ import annotations

import io
import math
import re
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

from tests.unit.benches import Plate, make_record
from weightshare.metrology.evaluate import evaluate
from weightshare.metrology.found import Found
from weightshare.metrology.reading import BenchRecord, Mass
from weightshare.model import Calibration, ChannelCalibration
from weightshare.records.bench import Kept
from weightshare.records.change import changes
from weightshare.report.certificate import STATEMENT, make_certificate
from weightshare.report.document import Document
from weightshare.report.drawing import Drawing, Mark, Words, draw_mark
from weightshare.report.drawing import Path as Line
from weightshare.report.letter import runs
from weightshare.report.markdown import to_markdown, write_markdown
from weightshare.report.pdf import drawing_to_pdf, to_pdf
from weightshare.report.plot import residual_plot, spread_N
from weightshare.report.svg import to_svg

ID = "0011223344556677"
DAY = date(2026, 11, 2)
AT = datetime(2026, 11, 2, 10, 15, tzinfo=UTC)
HARM = '<script>alert(1)</script> [x](http://a.b) **b** `c` | d &amp; "q" \x01\x1b[2J\nnew # line'
SVG = "{http://www.w3.org/2000/svg}"


def kept_of(record: BenchRecord, found: Found, *, day: date = DAY, made_by: str = "the workshop") -> Kept:
    calibration = Calibration(ID, day, found.channels, day + timedelta(days=365), 9.81, found.worth)
    return Kept(calibration, Path(f"{ID}.json"), record, found, made_by, "weightshare 9.9", AT)


@pytest.fixture(scope="module")
def kept() -> Kept:
    record = make_record(Plate(curve=1e-6, scatter_N=tuple(0.03 * math.sin(7.0 * i) for i in range(60))))
    found = evaluate(replace(record, u_gravity_m_s2=2e-4, temperature_degC=21.5))
    return kept_of(replace(record, u_gravity_m_s2=2e-4, temperature_degC=21.5), found)


@pytest.fixture(scope="module")
def document(kept: Kept) -> Document:
    return make_certificate(kept)


def text_of(data: bytes) -> str:
    """Return the text of a PDF, all white space as one space."""
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(data)).pages).split())


def cells(document: Document, heading: str) -> dict[str, tuple[str, ...]]:
    (section,) = [section for section in document.sections if section.heading == heading]
    assert section.table is not None
    return {row[0]: row[1:] for row in section.table.rows}


def test_each_figure_has_two_digits_of_its_uncertainty(kept: Kept, document: Document) -> None:
    assert kept.found is not None
    rows = cells(document, "The left plate")
    assert len(rows) == len(kept.found.figures)
    (loop,) = [figure for figure in kept.found.figures if figure.name == "hysteresis"]
    assert 0.01 < loop.estimate.u < 0.02  # so that two digits are three decimals
    value, interval, unit, percent, limit = rows[f"hysteresis: {loop.about}"]
    assert value == f"{loop.estimate.value:.3f}".replace("-", "\u2212")
    assert interval == f"{loop.low:.3f} to {loop.high:.3f}".replace("-", "\u2212")
    assert (unit, limit) == (
        "N",
        "\u00b10.5: within",
    )  # e = 0.5 N; at half of 588.6 N, 588 e: one e (OIML R 76-1, table 6)
    assert float(percent.replace("\u2212", "-")) == pytest.approx(100 * loop.estimate.value / 588.6, abs=1e-4)


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        (-0.5, 0.5, "within"),
        (0.4, 0.6, "undecided"),
        (-0.6, 0.6, "undecided"),
        (0.51, 0.6, "beyond"),
        (-0.7, -0.6, "beyond"),
        (math.nan, math.nan, "undecided"),
    ],
)
def test_beside_a_class_limit_the_whole_interval_counts(kept: Kept, low: float, high: float, said: str) -> None:
    assert kept.found is not None
    figures = tuple(
        replace(figure, low=low, high=high) if figure.name == "hysteresis" else figure for figure in kept.found.figures
    )
    rows = cells(make_certificate(replace(kept, found=replace(kept.found, figures=figures))), "The left plate")
    (row,) = [row for name, row in rows.items() if name.startswith("hysteresis")]
    assert row[-1] == f"\u00b10.5: {said}"


def test_what_it_rests_on_is_said(document: Document) -> None:
    facts = dict(document.facts)
    assert facts["Scale"] == ID
    assert facts["Calibrated on"].startswith("2026-11-02")
    assert facts["Valid until"] == "2027-11-02"
    assert facts["Gravity taken"] == "9.81000 \u00b1 0.00040 (k = 2) m/s\u00b2"
    assert facts["Temperature"] == "21.5 \u00b0C"
    assert cells(document, "Masses")["20.0 kg"] == ("20.00000", "0.60", "1.2")
    assert cells(document, "Channels")["0"][:3] == ("left", "5000", "1.25011")


def test_the_lower_limit_factor_is_of_the_residuals(kept: Kept, document: Document) -> None:
    assert kept.found is not None
    factor = 2.4 * kept.found.fits[0].residual_sd_N  # ASTM E74
    said = cells(document, "Beside it, for information")["left"]
    assert float(said[0]) == pytest.approx(factor, rel=0.02)
    assert float(said[2]) == pytest.approx(400 * factor, abs=0.5)


def test_both_forms_say_the_same(document: Document) -> None:
    text, _pictures = to_markdown(document, "c")
    paper = text_of(to_pdf(document))
    for section in document.sections:
        for row in section.table.rows if section.table is not None else ():
            for cell in filter(None, row):
                assert cell in text
                assert cell in paper
        for words in (*section.paragraphs, *section.points, *section.notes, section.heading):
            assert words in text.replace("\\", "")
            assert words in paper
    assert STATEMENT in text
    assert STATEMENT in paper


@pytest.mark.parametrize(("paper", "width_pt"), [("A4", 595.28), ("letter", 612.0)])
def test_a_pdf_is_the_same_twice_and_says_what_it_is(document: Document, paper: str, width_pt: float) -> None:
    data = to_pdf(document, paper)
    assert data == to_pdf(document, paper)
    reader = PdfReader(io.BytesIO(data))
    assert reader.metadata is not None
    assert reader.metadata.title == "Calibration record"
    assert reader.metadata.subject == f"Calibration of the scale {ID} on 2026-11-02"
    assert float(reader.pages[0].mediabox.width) == pytest.approx(width_pt, abs=0.01)
    total = len(reader.pages)
    for number, page in enumerate(reader.pages, 1):
        assert f"page {number} of {total}" in page.extract_text()


def test_every_font_travels_in_the_file(document: Document) -> None:
    reader = PdfReader(io.BytesIO(to_pdf(document)))
    resources: list[Any] = [page["/Resources"] for page in reader.pages]
    fonts = [font.get_object() for one in resources for font in one["/Font"].values()]
    used = [font for font in fonts if "/FontDescriptor" in font]
    assert used
    assert all("/FontFile2" in font["/FontDescriptor"] for font in used)


@pytest.mark.parametrize("name", ["Łucja", "Zoë Ångström-Öz", "Ř. Dvořák", "Ω", "Жанна", "中村", "a\u0301 \U0001f44d"])
def test_no_letter_of_a_name_is_lost(kept: Kept, name: str) -> None:
    paper = text_of(to_pdf(make_certificate(replace(kept, made_by=name))))
    lost = [letter for letter in name if letter not in paper and f"[U+{ord(letter):04X}]" not in paper]
    assert lost == []


def test_a_name_longer_than_a_page_is_split(kept: Kept) -> None:
    name = "word " * 3000
    paper = text_of(to_pdf(make_certificate(replace(kept, made_by=name))))
    assert paper.count("word") == 3000
    unbroken = text_of(to_pdf(make_certificate(replace(kept, made_by="w" * 9000))))
    assert sum(len(piece) for piece in re.findall("w{5,}", unbroken)) == 9000


def test_letters_that_every_machine_has_stay_letters() -> None:
    assert [piece for _font, piece in runs("ÄÖÜß é ø ± ² − ≤ ×")] == ["ÄÖÜß é ø ± ² − ≤ ×"]


def test_a_name_does_no_harm_in_markdown(kept: Kept) -> None:
    record = kept.record
    assert record is not None
    harmful = replace(kept, made_by=HARM, record=replace(record, masses=(Mass(HARM, 1.0, 0.1), *record.masses[1:])))
    text, _pictures = to_markdown(make_certificate(harmful), "c")
    (row,) = [line for line in text.splitlines() if line.startswith("| Made by")]
    assert re.search(r"(?<!\\)[<>`*\[\]&]", row) is None
    assert len(re.findall(r"(?<!\\)\|", row)) == 3
    assert "://" not in row
    assert not any(ord(letter) < 32 for letter in text if letter != "\n")
    assert "\nnew" not in text


@pytest.mark.parametrize("words", ["1. one", "- one", "+ one", "= one", "# one"])
def test_a_paragraph_stays_a_paragraph(words: str) -> None:
    document = Document("t", (("a", "b"),), (replace(make_section(), paragraphs=(words,)),), "f")
    text, _pictures = to_markdown(document)
    (line,) = [line for line in text.splitlines() if line.endswith(" one")]
    assert line.replace("\\", "") == words
    assert "\\" in line


def make_section() -> Any:
    from weightshare.report.document import Section

    return Section("s")


def test_a_name_does_no_harm_in_a_picture() -> None:
    root = ElementTree.fromstring(to_svg(Drawing(10.0, 10.0, HARM, (Words(1.0, 2.0, HARM),))))
    assert {child.tag for child in root.iter()} == {f"{SVG}svg", f"{SVG}title", f"{SVG}rect", f"{SVG}text"}
    said = root.findtext(f"{SVG}text") or ""
    assert said.startswith("<script>alert(1)</script>")
    assert "\x1b" not in said


def test_a_name_does_no_harm_on_paper(kept: Kept) -> None:
    paper = text_of(to_pdf(make_certificate(replace(kept, made_by=HARM))))
    assert "<script>alert(1)</script>" in paper
    assert "&amp;" in paper


def test_pictures_lie_beside_the_markdown(tmp_path: Path, document: Document) -> None:
    files = write_markdown(tmp_path / "my scale.md", document)
    assert [path.name for path in files] == ["my scale.md", "my scale-residuals-left.svg"]
    assert "(my%20scale-residuals-left.svg)" in files[0].read_text(encoding="utf-8")
    assert ElementTree.parse(files[1]).getroot().tag == f"{SVG}svg"
    text, pictures = to_markdown(document)
    assert pictures == {}
    assert "![" not in text


def test_the_residuals_are_told_apart_by_shape(kept: Kept) -> None:
    found = kept.found
    assert found is not None
    drawing = residual_plot(found, found.fits[0])
    shapes = [part for part in drawing.parts if isinstance(part, Line) and part.closed and part.stroke == "#0b5cad"]
    kinds = {(len(part.points), part.fill == part.stroke) for part in shapes}
    assert kinds == {(3, True), (3, False), (4, False)}
    assert len(shapes) == len(found.residuals) + 3  # and the three of the legend


def test_marks_are_where_they_should_be(kept: Kept) -> None:
    found = kept.found
    assert found is not None
    one = replace(found, residuals=found.residuals[:1])
    fit = found.fits[0]
    drawing = residual_plot(one, fit)
    mark = [part for part in drawing.parts if isinstance(part, Line) and part.closed][-1]
    shade = next(part for part in drawing.parts if isinstance(part, Line) and part.stroke is None)
    low, high = shade.points[0][1], shade.points[2][1]
    middle = (low + high) / 2
    expected = middle - (low - high) / 2 * found.residuals[0].residual_N / spread_N(fit)
    reference = draw_mark(Mark.UP, 0.0, 0.0)
    assert mark.points[0][1] - reference.points[0][1] == pytest.approx(expected, abs=0.01)


def test_a_picture_is_the_same_on_paper_twice(kept: Kept) -> None:
    assert kept.found is not None
    drawing = residual_plot(kept.found, kept.found.fits[0])
    assert drawing_to_pdf(drawing) == drawing_to_pdf(drawing)
    assert "laid on" in text_of(drawing_to_pdf(drawing))


def test_a_calibration_from_elsewhere_says_what_it_knows() -> None:
    calibration = Calibration(ID, DAY, (ChannelCalibration(0, 8123.0, 0.00125, 0.0, 2.0, 2000.0),))
    document = make_certificate(Kept(calibration, Path("mine.json")))
    text, _pictures = to_markdown(document)
    assert "This file holds no readings" in text
    assert dict(document.facts)["Valid until"] == "not limited"
    assert cells(document, "Channels")["0"] == ("\u2013", "8123", "1.250000", "0", "2.0", "2000")
    assert STATEMENT in text_of(to_pdf(document))


def test_a_change_of_slope_comes_with_its_uncertainty(kept: Kept) -> None:
    assert kept.record is not None
    assert kept.found is not None
    more = 1.002
    plate = Plate(slopes=(0.00125 * more, 0.00124), zero_counts=5100.0, curve=1e-6)
    record = make_record(plate)
    then = kept_of(record, evaluate(record), day=DAY + timedelta(days=365))
    first, second = changes((kept, then))
    assert first.slope_percent.value == pytest.approx(0.2, abs=first.slope_percent.expanded())
    assert first.is_sure
    assert not second.is_sure
    parts = [
        next(f.estimate for f in one.found.figures if f.channel == 0) for one in (kept, then) if one.found is not None
    ]
    both = math.hypot(*(part.u / part.value for part in parts))
    assert first.slope_percent.u == pytest.approx(100 * both * (1 + first.slope_percent.value / 100), rel=1e-9)
    assert first.zero_N == pytest.approx(100 * 0.00125 * more, rel=1e-3)
    assert (first.since, first.until) == (DAY, DAY + timedelta(days=365))


def test_a_change_from_a_calibration_by_hand_has_no_uncertainty(kept: Kept) -> None:
    by_hand = replace(kept, found=None)
    first, _second = changes((by_hand, kept))
    assert first.slope_percent.value == 0.0
    assert math.isnan(first.slope_percent.u)
    assert not first.is_sure
