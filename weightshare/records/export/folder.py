"""The folder that an export is written into: there whole or not at all, and never over what nobody gave up."""

from __future__ import annotations

import contextlib
import hashlib
import json
import shutil
from collections.abc import Iterator
from pathlib import Path

from weightshare.errors import OptionError
from weightshare.records.export.dictionary import DICTIONARY_NAME, SCHEMA
from weightshare.records.manifest import Entry
from weightshare.records.whole import FILE_MODE, FOLDER_MODE, naming, new_file, sync_folder, write_all

_BLOCK = 1 << 20


class Folder:
    """A folder while it is filled. `entries` are the files so far, in order."""

    def __init__(self, place: Path) -> None:
        """`place`: where it lies while it is filled."""
        self.place = place
        self.entries: list[Entry] = []

    def put(self, name: str, data: bytes) -> None:
        """Write a file that only its owner may read. Raises OSError."""
        with new_file(self.place / name) as file:
            write_all(file, data)
        self.entries.append(Entry(name, len(data), hashlib.sha256(data).hexdigest()))

    def keep(self, name: str) -> None:
        """Take a file that somebody else wrote there. Raises OSError."""
        path, found = self.place / name, hashlib.sha256()
        path.chmod(FILE_MODE)
        with path.open("rb") as file:
            while block := file.read(_BLOCK):
                found.update(block)
        self.entries.append(Entry(name, path.stat().st_size, found.hexdigest()))


@contextlib.contextmanager
def whole_folder(target: Path, *, replace: bool = False) -> Iterator[Folder]:
    """Hand out a folder to fill, which becomes `target` once all is in it; where that fails nothing is left.

    replace: an earlier export at `target` gives way. Raises OptionError where something else is there, and OSError.
    """
    require_room(target, replace=replace)
    part, old = (target.with_name(target.name + end) for end in (".part", ".old"))
    for left in (part, old):
        if left.exists():
            shutil.rmtree(left)
    with naming(target):
        try:
            part.mkdir(mode=FOLDER_MODE)
            yield Folder(part)
            sync_folder(part)
            if target.exists():
                target.replace(old)
            part.replace(target)
            sync_folder(target.absolute().parent)
        except BaseException:
            shutil.rmtree(part, ignore_errors=True)
            if old.exists() and not target.exists():
                old.replace(target)
            raise
    shutil.rmtree(old, ignore_errors=True)


def require_room(target: Path, *, replace: bool = False) -> None:
    """Raise OptionError where an export cannot be laid at `target`."""
    if not target.absolute().parent.is_dir():
        raise OptionError(f"--out {target}: there is no folder {target.absolute().parent}; make it first")
    if not target.exists():
        return
    if not replace:
        raise OptionError(f"--out {target}: is there already; give another name, or --replace for an earlier export")
    more = _not_ours(target)
    if more:
        raise OptionError(f"--out {target}: {more}, which no export wrote; nothing was replaced, give another name")


def _not_ours(target: Path) -> str:
    """Return what at `target` is no file of an earlier export; empty where all are."""
    if not target.is_dir() or target.is_symlink():
        return "is no folder"
    try:
        content = json.loads((target / DICTIONARY_NAME).read_bytes())
        names = {str(one["name"]) for one in content["files"]} | {DICTIONARY_NAME}
        is_export = content["schema"] == SCHEMA
    except (OSError, ValueError, TypeError, KeyError):
        return f"has no {DICTIONARY_NAME}"
    more = sorted(path.name for path in target.iterdir() if path.name not in names or not path.is_file())
    return f"has {more[0]}" if more else "" if is_export else f"has another {DICTIONARY_NAME}"
