"""`weightshare calibrate certificate`: what a calibration found, as a document."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from weightshare.cli.option import add_command

if TYPE_CHECKING:
    from weightshare.report.document import Document

_EXAMPLE = "weightshare calibrate certificate --device 0011223344556677 --to calibration.pdf"
_FORMS = (".pdf", ".md")


def add_parser(subparsers: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the way `certificate` to the parser of `calibrate`."""
    summary = "a calibration as a document: PDF, or Markdown with its pictures beside it"
    parser = add_command(subparsers, "certificate", summary, _EXAMPLE)
    parser.add_argument("file", type=Path, nargs="?", metavar="FILE", help="a calibration file (default: your own)")
    parser.add_argument("--device", metavar="ID", help="the scale whose calibration it is, of those kept here")
    parser.add_argument("--to", type=Path, metavar="FILE", help="NAME.pdf or NAME.md (default: print Markdown)")
    parser.add_argument("--paper", choices=("A4", "letter"), default="A4", help="of the PDF (default A4)")
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write or print the document; return 0."""
    from weightshare.records.bench import read_kept
    from weightshare.report.certificate import make_certificate
    from weightshare.report.markdown import to_markdown

    to: Path | None = args.to
    _check(args)
    document = make_certificate(read_kept(args.file or _own_file(args.device)))
    if to is None:
        text, _pictures = to_markdown(document)
        print(text, end="")
        return 0
    for path in _write(document, to, args.paper):
        print(f"written: {path}", file=sys.stderr)
    return 0


def _check(args: argparse.Namespace) -> None:
    from weightshare.errors import OptionError

    if args.file is not None and args.device is not None:
        raise OptionError("give a calibration FILE or --device, not both")
    if args.to is not None and args.file is not None and args.to.absolute() == args.file.absolute():
        raise OptionError(f"--to {args.to}: this is the calibration itself; choose another name")
    if args.to is not None and args.to.suffix.lower() not in _FORMS:
        raise OptionError(f"--to {args.to}: its name has to end in .pdf or .md")
    if args.to is not None and not args.to.absolute().parent.is_dir():
        raise OptionError(f"--to {args.to}: there is no folder {args.to.absolute().parent}; make it first")


def _own_file(device: str | None) -> Path:
    from weightshare.records.bench import own_scale
    from weightshare.records.place import calibration_folder

    return calibration_folder() / f"{own_scale(device)}.json"


def _write(document: Document, to: Path, paper: str) -> tuple[Path, ...]:
    from weightshare.report.markdown import write_markdown
    from weightshare.report.pdf import write_pdf

    if to.suffix.lower() == ".md":
        return write_markdown(to, document)
    write_pdf(to, document, paper)
    return (to,)
