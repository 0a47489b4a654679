"""What calibration/ and the documents say of the commands is what the commands have."""

from __future__ import annotations

import argparse
import html
import re
import shlex
from collections.abc import Iterator
from pathlib import Path

import pytest

from weightshare import cli
from weightshare.errors import CalibrationError
from weightshare.records.points import read_points


def ways() -> dict[str, argparse.ArgumentParser]:
    (commands,) = _subparsers(cli.build_parser())
    (calibrate,) = _subparsers(commands.choices["calibrate"])
    return dict(calibrate.choices)


def _subparsers(parser: argparse.ArgumentParser) -> list[argparse._SubParsersAction[argparse.ArgumentParser]]:
    return [action for action in parser._actions if isinstance(action, argparse._SubParsersAction)]


def test_the_document_has_every_option_of_every_way(checkout: Path) -> None:
    told = (checkout / "docs" / "commands.md").read_text(encoding="utf-8")
    assert len(ways()) >= 4
    untold = []
    for name, parser in ways().items():
        section = re.split(r"\n##+ ", told.partition(f"### `calibrate {name}`\n")[2])[0]
        table = "\n".join(line for line in section.splitlines() if line.startswith("| `"))
        options = {option for action in parser._actions for option in action.option_strings if option[:2] == "--"}
        said = set(re.findall(r"--[a-z-]+", " ".join(re.split(r"(?<!\\)\|", row)[1] for row in table.splitlines())))
        untold += [f"{name}: {option} is not told" for option in options - {"--help"} - said]
        untold += [f"{name}: {option} is told, and is not there" for option in said - options]
    assert untold == []


def examples(checkout: Path) -> Iterator[tuple[str, str]]:
    """Yield each example of `weightshare calibrate` with where it stands; lines that go on are put together."""
    pages = [*(checkout / "calibration").rglob("*.md"), checkout / "docs" / "how-to-calibrate.md"]
    for page in [*pages, checkout / "docs" / "commands.md"]:
        text = re.sub(r" \\\n\s*", " ", page.read_text(encoding="utf-8"))
        for line in re.findall(
            r"^ {4,}(weightshare calibrate .+)$|`(weightshare calibrate [^`]+)`", text, re.MULTILINE
        ):
            yield page.name, line[0] or line[1]


def test_every_example_can_be_typed(checkout: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = [(page, example) for page, example in examples(checkout) if len(example.split()) > 3]
    assert len(found) >= 12
    for page, example in found:
        parser = cli.build_parser()
        try:
            parser.parse_args(shlex.split(example)[1:])
        except SystemExit:
            pytest.fail(f"{page}: {example}: {capsys.readouterr().err}")


@pytest.mark.parametrize(("name", "column"), [("POINTS.csv", "counts"), ("POINTS-xy.csv", "x")])
def test_a_blank_sheet_of_points_is_refused_until_it_is_filled(
    checkout: Path, tmp_path: Path, name: str, column: str
) -> None:
    sheet = checkout / "calibration" / "worksheets" / name
    with pytest.raises(CalibrationError, match=f"line 2, column {column}: is empty"):
        read_points(sheet)
    header, *rows = sheet.read_text(encoding="utf-8").splitlines()
    filled = [",".join(field or "1" for field in row.split(",")) for row in rows]
    if name == "POINTS.csv":
        # what may be left out stays out
        filled = [row.replace(",,", f",{1000 + 80 * number},", 1) for number, row in enumerate(rows)]
    copy = tmp_path / name
    copy.write_text("\n".join([header, *filled]) + "\n", encoding="utf-8")
    (points,) = read_points(copy)
    assert points.x.size == len(rows)


def test_the_page_to_print_has_what_the_worksheet_has(checkout: Path) -> None:
    folder = checkout / "calibration" / "worksheets"
    page = html.unescape((folder / "calibration.html").read_text(encoding="utf-8"))
    cells = re.findall(r"<t[hd]>(.*?)</t[hd]>", page)
    rows = [line for line in (folder / "calibration.md").read_text(encoding="utf-8").splitlines() if line[:1] == "|"]
    wanted = [
        cell.strip() for row in rows if not re.fullmatch(r"[|\s-]+-[|\s-]*", row) for cell in row[1:-1].split("|")
    ]
    assert len(wanted) > 80 and cells == wanted
