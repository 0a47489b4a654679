"""What the commands on the store of patients share: where it is, who opens it, and its passphrase."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from weightshare.records.store.store import Store

_PASSPHRASE_BYTES = 4096


def add_store_options(parser: argparse.ArgumentParser) -> None:
    """Add the options that say which store, and who opens it."""
    group = parser.add_argument_group("the store of patients")
    group.add_argument("--store", type=Path, metavar="DIR", help="its folder (default: the user's own)")
    group.add_argument(
        "--passphrase-file",
        type=Path,
        metavar="FILE",
        help="a sealed store's passphrase, its first line (else: asked for)",
    )
    group.add_argument("--by", metavar="NAME", help="who does this, for the trail (default: the user of this computer)")


def place_of(args: argparse.Namespace) -> Path:
    """Return the folder of the store."""
    from weightshare.records.place import store_place

    return args.store or store_place()


def who(args: argparse.Namespace) -> str:
    """Return who stands in the trail."""
    from weightshare.records.store.trail import user_name

    return " ".join(str(args.by).split()) if args.by else user_name()


def clock() -> datetime:
    """Return local time with its offset."""
    return datetime.now().astimezone()


def open_kept(args: argparse.Namespace) -> Store:
    """Open the store, with its passphrase where it is sealed. Raises StoreError."""
    from weightshare.records.store.latch import needs_passphrase
    from weightshare.records.store.store import open_store

    place = place_of(args)
    passphrase = read_passphrase(args.passphrase_file, f"passphrase of {place}") if needs_passphrase(place) else None
    return open_store(place, who(args), clock, passphrase)


def read_passphrase(path: Path | None, what: str, *, twice: bool = False) -> str:
    """Return a passphrase: the first line of the file at `path`, or as it is typed, unseen; `what` is asked for.

    twice: a new one, which is typed again. Raises StoreError where nobody can be asked, or the two differ.
    """
    from weightshare.errors import StoreError

    if path is not None:
        return _read_line(path)
    if not sys.stdin.isatty():
        raise StoreError(f"the {what} is needed, and nobody can be asked: give --passphrase-file FILE")
    from getpass import getpass

    typed = getpass(f"{what}: ")
    if twice and getpass("the same again: ") != typed:
        raise StoreError("the two passphrases differ; nothing was done")
    return typed


def _read_line(path: Path) -> str:
    from weightshare.errors import StoreError

    try:
        with path.open("rb") as file:
            line = file.readline(_PASSPHRASE_BYTES).decode("utf-8-sig").rstrip("\r\n")
    except (OSError, UnicodeDecodeError) as error:
        words = getattr(error, "strerror", None) or "is not UTF-8 text"
        raise StoreError(f"--passphrase-file {path}: cannot be read: {words}") from error
    if not line:
        raise StoreError(f"--passphrase-file {path}: its first line is empty")
    return line


def count_of(number: int, what: str) -> str:
    """Return `number` with `what`, in the plural where it is not one."""
    return f"{number} {what}{'' if number == 1 else 's'}"


def progress(what: str) -> Callable[[int, int], None]:
    """Return what shows how far long work is, where stderr is a terminal."""

    def tell(done: int, of: int) -> None:
        if sys.stderr.isatty():
            print(f"\r{what}: {done + 1} of {of}", end="\n" if done + 1 == of else "", file=sys.stderr, flush=True)

    return tell
