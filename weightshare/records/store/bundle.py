"""One patient as a file to take away: a zip archive that is a Frictionless data package.

datapackage.json            what is in it: tables with their schemas, each file's size and SHA-256
patient.json                code, side, day; the name only where that was asked for
decisions.json              what the clinician decided, each decision tied to the one before it
data/*.csv                  sessions, repetitions, events, figures, what was said, as tables
sessions/RECORD/...         the sessions themselves, whole: raw record, trace, settings, calibration, analysis, diary,
                            and what was corrected of it
readings/MARK.txt           settled readings of store-bought scales, as they were kept
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from weightshare import __version__
from weightshare.errors import StoreError
from weightshare.records.current import read_current
from weightshare.records.diary import read_diary
from weightshare.records.export.column import Row
from weightshare.records.export.dictionary import to_bytes
from weightshare.records.export.text import to_csv
from weightshare.records.figure import figures_of
from weightshare.records.manifest import Entry, verify
from weightshare.records.seal import sealed
from weightshare.records.session import CSV_NAME
from weightshare.records.setting import read_head
from weightshare.records.store.backup import whole_archive
from weightshare.records.store.envelope import seal_file
from weightshare.records.store.joining import RULINGS_NAME, tell_rulings
from weightshare.records.store.package import TABLES, path_of, trace_schema, visit_rows
from weightshare.records.store.parcel import Packer
from weightshare.records.store.patient import Patient
from weightshare.records.store.settled import list_readings
from weightshare.records.store.store import Store, Tell, quiet
from weightshare.records.store.trail import note_trail
from weightshare.records.store.visit import Visit, kept_files, list_visits, opened, unlay
from weightshare.records.value import to_plain
from weightshare.records.whole import FOLDER_MODE, naming

SCHEMA = "weightshare.bundle/1"
LIST_NAME, PATIENT_NAME = "datapackage.json", "patient.json"

Described = dict[str, Any]


def write_bundle(
    store: Store,
    patient: Patient,
    target: Path,
    *,
    with_name: bool = False,
    passphrase: str | None = None,
    tell: Tell = quiet,
) -> int:
    """Write the sessions of `patient` to the new file `target`, sealed where a passphrase is given; return how many.

    Where it fails nothing is left. Raises StoreError where there is such a file or no session, RecordError where one
    was altered, and OSError.
    """
    visits = list_visits(store, patient)
    if target.exists():
        raise StoreError(f"{target}: there is such a file already; give another name")
    if not visits:
        raise StoreError(f"the patient {patient.code} has no sessions yet: there is nothing to export")
    with TemporaryDirectory(prefix="weightshare-") as name, whole_archive(target) as part:
        # what is to be sealed is not laid down open where it is taken away
        plain = part if passphrase is None else Path(name) / "bundle.zip"
        with naming(plain), plain.open("wb") as file, Packer(file) as packer:
            _pack(store, patient, visits, packer, tell, with_name=with_name)
        if passphrase is not None:
            seal_file(plain, part, passphrase)
    words = f"{_many(visits)} to {target.name}{', with the name' if with_name else ''}"
    note_trail(store, "exported", patient.id, words)
    return len(visits)


def write_sessions(store: Store, patient: Patient, target: Path, tell: Tell = quiet) -> int:
    """Copy the sessions of `patient` into the new folder `target`, each as it was recorded; return how many.

    They are laid down open, sealed store or not, and the folder is there only once all are in it. Raises StoreError
    where there is such a folder or no session, RecordError where one was altered, and OSError.
    """
    visits = list_visits(store, patient)
    if target.exists():
        raise StoreError(f"{target}: there is such a folder already; give another name")
    if not visits:
        raise StoreError(f"the patient {patient.code} has no sessions yet: there is nothing to export")
    part = target.with_name(target.name + ".part")
    if part.exists():
        shutil.rmtree(part)
    with naming(target):
        try:
            part.mkdir(mode=FOLDER_MODE)
            for done, (name, visit) in enumerate(_named(visits)):
                tell(done, len(visits))
                (part / name).mkdir(mode=FOLDER_MODE)
                unlay(store, visit, part / name)
                verify(part / name)
            part.replace(target)
        except BaseException:
            shutil.rmtree(part, ignore_errors=True)
            raise
    note_trail(store, "exported", patient.id, f"{_many(visits)} to the folder {target.name}")
    return len(visits)


def _many(visits: Sequence[Visit]) -> str:
    return "1 session" if len(visits) == 1 else f"{len(visits)} sessions"


def _named(visits: Sequence[Visit]) -> Iterator[tuple[str, Visit]]:
    """Yield each session with a folder's name of its own, after the instant at which it began."""
    taken: set[str] = set()
    for visit in visits:
        stamp = "session-" + re.sub(r"[^0-9-]", "", visit.started_at[:19].replace("T", "-"))
        names = (stamp if number == 1 else f"{stamp}-{number}" for number in count(1))
        name = next(one for one in names if one not in taken)
        taken.add(name)
        yield name, visit


def _pack(
    store: Store, patient: Patient, visits: Sequence[Visit], packer: Packer, tell: Tell, *, with_name: bool
) -> None:
    rows: dict[str, list[Row]] = {table.name: [] for table in TABLES}
    resources: list[Described] = []
    for done, visit in enumerate(visits):
        tell(done, len(visits))
        with opened(store, visit) as folder:
            verify(folder)
            content = read_current(folder)
            # anew: an earlier version of the program may have kept less of them
            told = visit_rows(visit, read_head(folder), content, figures_of(content), read_diary(folder))
            for name, found in told.items():
                rows[name] += found
            resources += [_pack_file(packer, visit, path) for path in kept_files(folder)]
    tables = [_pack_table(packer, place, rows) for place in range(len(TABLES))]
    shown = patient if with_name else replace(patient, name="")
    beside = list(_pack_beside(store, patient, packer, to_bytes(to_plain(shown))))
    made_at = store.clock().isoformat(timespec="seconds")
    packer.add(LIST_NAME, to_bytes(_package(made_at, [*tables, *beside, *resources])))


def _pack_beside(store: Store, patient: Patient, packer: Packer, shown: bytes) -> Iterator[Described]:
    """Pack what belongs to no session, and describe each file of it; shown: who the patient is."""
    packer.add(PATIENT_NAME, shown)
    yield _describe(packer.entries[PATIENT_NAME], "patient", "whose sessions these are")
    if told := tell_rulings(store, patient):
        packer.add(RULINGS_NAME, told)
        yield _describe(packer.entries[RULINGS_NAME], "decisions", "what the clinician decided, as it was signed")
    for one in list_readings(store, patient):
        name = f"readings/{one.mark[:32]}.txt"
        packer.add(name, one.text.encode())
        yield _describe(packer.entries[name], f"readings-{one.mark[:32]}", f"settled readings of {one.began}")


def _pack_table(packer: Packer, place: int, rows: dict[str, list[Row]]) -> Described:
    table = TABLES[place]
    packer.add(path_of(table), to_csv(table, rows[table.name]))
    return _tabular(_describe(packer.entries[path_of(table)], table.name, table.words), table.schema())


def _pack_file(packer: Packer, visit: Visit, path: Path) -> Described:
    name = f"sessions/{visit.record}/{path.name}"
    packer.add_file(name, path)
    title = f"{path.stem}-{path.suffix[1:]}-{visit.record}".lower()
    found = _describe(packer.entries[name], title, f"{path.name} of the session of {visit.started_at}")
    return _tabular(found, trace_schema(path)) if path.name == CSV_NAME else found


def _describe(entry: Entry, name: str, words: str) -> Described:
    hashed = f"sha256:{entry.sha256}"
    return {"name": name, "path": entry.name, "description": words, "bytes": entry.bytes, "hash": hashed}


def _tabular(described: Described, schema: dict[str, Any]) -> Described:
    form = {"profile": "tabular-data-resource", "format": "csv", "mediatype": "text/csv", "encoding": "utf-8"}
    return {**described, **form, "schema": schema}


def _package(made_at: str, resources: list[Described]) -> dict[str, object]:
    return sealed(
        {
            "profile": "data-package",
            "name": "weightshare-bundle",
            "title": "Weight-share sessions of one patient",
            "created": made_at,
            "schema": SCHEMA,
            "program": f"weightshare {__version__}",
            "resources": resources,
        }
    )
