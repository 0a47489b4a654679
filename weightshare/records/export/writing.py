"""Sessions into a folder, in one of the forms that others read: whole or not at all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from weightshare.errors import OptionError, RecordError
from weightshare.records.export.dictionary import DICTIONARY_NAME, Filed, dictionary_of, to_bytes
from weightshare.records.export.folder import Folder, whole_folder
from weightshare.records.export.lab import Size
from weightshare.records.export.saved import SavedSession, without_words

FORMS = ("csv", "parquet", "json", "c3d", "fhir", "package")


@dataclass(frozen=True, slots=True)
class Request:
    """What is asked of an export.

    with_name, with_notes: a name, and the words of notes, go along. size: how large the plates are, for C3D.
    """

    form: str = "csv"
    with_name: bool = False
    with_notes: bool = False
    size: Size | None = None

    def __post_init__(self) -> None:
        if self.form not in FORMS:
            raise OptionError(f"--as {self.form} is out of range: it may be {', '.join(FORMS)}")


@dataclass(frozen=True, slots=True)
class Written:
    """What came of it: how many sessions, which files, and what a reader has to know."""

    sessions: int
    files: tuple[str, ...]
    notes: tuple[str, ...]


def write_export(sessions: Iterable[SavedSession], out: Path, request: Request, *, replace: bool = False) -> Written:
    """Write `sessions`, one after the other, into the new folder `out`; replace: an earlier export there gives way.

    Nothing is left where it fails. Raises OptionError where something else is at `out`, InputError where a library is
    missing, RecordError where a session cannot be written so, and OSError.
    """
    counted = _Counted(sessions, request)
    notes: list[str] = []
    with whole_folder(out, replace=replace) as folder:
        filed = _write(counted, folder, request, notes)
        if not counted.count:
            raise RecordError("there is no session to export")
        if request.form == "package":
            from weightshare.records.export.tabular import PACKAGE_NAME, package_of

            folder.put(PACKAGE_NAME, package_of(filed, folder.entries, counted.virtual))
        told = dictionary_of(request.form, filed, tuple(folder.entries), counted.virtual)
        folder.put(DICTIONARY_NAME, to_bytes(told))
    return Written(counted.count, tuple(entry.name for entry in folder.entries), tuple(notes))


class _Counted:
    """The sessions without words that nobody asked for, and how many there were, virtual ones among them."""

    def __init__(self, sessions: Iterable[SavedSession], request: Request) -> None:
        self._sessions, self._request = sessions, request
        self.count = self.virtual = 0

    def __iter__(self) -> Iterator[SavedSession]:
        with_name, with_notes = self._request.with_name, self._request.with_notes
        for session in self._sessions:
            self.count += 1
            self.virtual += session.origin.is_virtual
            yield without_words(session, with_name=with_name, with_notes=with_notes)


def _write(sessions: Iterable[SavedSession], folder: Folder, request: Request, notes: list[str]) -> list[Filed]:
    more = request.with_name or request.with_notes
    if request.form == "json":
        from weightshare.records.export.document import write_document

        return write_document(sessions, folder, more=more)
    if request.form == "c3d":
        from weightshare.records.export.c3d import write_recordings

        return write_recordings(sessions, folder, request.size, notes)
    if request.form == "fhir":
        from weightshare.records.export.fhir import write_bundle

        return write_bundle(sessions, folder)
    from weightshare.records.export.tabular import write_tables

    return write_tables(sessions, folder, request.form, more=more)
