"""Each session of the store held against its files: by their seal, and by what the lists and figures have of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, replace

from weightshare.errors import WeightshareError
from weightshare.records.diary import read_diary
from weightshare.records.figure import Figure
from weightshare.records.store.correcting import check_corrected
from weightshare.records.store.patient import Patient
from weightshare.records.store.store import Store, Tell, quiet
from weightshare.records.store.trail import write_trail
from weightshare.records.store.visit import Visit, opened, read_visit
from weightshare.records.value import from_plain, to_plain

_ROWS = "SELECT id, body, figures FROM session WHERE patient = ?"


@dataclass(frozen=True, slots=True)
class Audit:
    """What came of one session. `visit`: as the list has it, None where that cannot be read; `faults` in words.

    anew: what its files say the list ought to have, where they are sound and the list differs.
    """

    ident: str
    patient: Patient
    visit: Visit | None
    faults: tuple[str, ...] = ()
    anew: tuple[Visit, tuple[Figure, ...]] | None = None

    @property
    def title(self) -> str:
        """Whose it is, and when it began."""
        return f"{self.patient.code}, {self.visit.started_at if self.visit else f'session {self.ident}'}"


def audit_sessions(store: Store, patients: Sequence[Patient], tell: Tell = quiet) -> Iterator[Audit]:
    """Yield what comes of each session of `patients`: a fault of one keeps from no other. Raises StoreError where the
    database cannot be read at all, and OSError."""
    with store.reading() as db:
        rows = [(patient, *row) for patient in patients for row in db.execute(_ROWS, (patient.id,)).fetchall()]
    for done, (patient, ident, body, figures) in enumerate(rows):
        tell(done, len(rows))
        try:
            visit = store.read(Visit, body, f"session {ident}")
            kept = tuple(from_plain(Figure, one) for one in store.open(figures, f"session {ident} figures"))
        except (WeightshareError, TypeError, ValueError) as error:
            words = error if isinstance(error, WeightshareError) else f"{store.database}: session {ident} was altered"
            yield Audit(ident, patient, None, (str(words),))
            continue
        yield _audit(store, Audit(ident, patient, visit), visit, kept)


def _audit(store: Store, blank: Audit, visit: Visit, kept: Sequence[Figure]) -> Audit:
    """Return `blank` with what is wrong with the files of `visit`, and what the list has otherwise than they.

    Raises OSError where the copy of a sealed session cannot be laid down.
    """
    faults: list[str] = []
    if not (place := store.sessions / visit.id).is_dir():
        return replace(blank, faults=(f"{place}: is missing; restore a backup",))
    try:
        with opened(store, visit) as folder:
            found, figures = read_visit(folder)
            found = replace(found, id=visit.id)
            read_diary(folder)
            faults += check_corrected(store, blank.patient, visit, folder)
    except (WeightshareError, OSError) as error:
        # that the copy of a sealed one found no room is no fault of its
        if isinstance(error, OSError) and not str(error.filename or "").startswith(str(store.sessions)):
            raise
        words = f"{error.filename}: {error.strerror}" if isinstance(error, OSError) else str(error)
        return replace(blank, faults=(" ".join(words.split()),))
    if (found.seal, found.record) != (visit.seal, visit.record):
        words = "its files are not those that were taken in; restore a backup"
        return replace(blank, faults=(*faults, f"{place}: {words}"))
    unlike = [*_unlike(visit, found), *_unlike_figures(kept, figures)]
    if unlike and not faults:
        words = f"the list has otherwise than the session's files: {'; '.join(unlike)}"
        return replace(blank, faults=(f"{store.database}: {words}; --mend takes it from those",), anew=(found, figures))
    return replace(blank, faults=tuple(faults))


def _unlike(kept: Visit, found: Visit) -> Iterator[str]:
    for field in fields(Visit):
        ours, theirs = getattr(kept, field.name), getattr(found, field.name)
        if ours != theirs:
            yield f"{field.name} {to_plain(ours)}, not {to_plain(theirs)}"


def _unlike_figures(kept: Sequence[Figure], found: Sequence[Figure]) -> Iterator[str]:
    ours, theirs = ({(one.name, one.unit, one.side): one for one in some} for some in (kept, found))
    for key in [*ours, *(key for key in theirs if key not in ours)]:
        mine, other = ours.get(key), theirs.get(key)
        if mine != other:
            name, unit, side = key
            told = " or ".join("none" if one is None else f"{one.value:.6g}" for one in (mine, other))
            yield f"{name}{f' ({side})' if side else ''} {told} {unit}".rstrip()


def mend_session(store: Store, one: Audit) -> None:
    """Have lists and figures of a session be what its files say. It stands in the trail. Raises StoreError."""
    if one.anew is None:
        return
    visit, figures = one.anew
    about = f"session {visit.id}"
    bodies = store.seal(to_plain(visit), about), store.seal(to_plain(figures), f"{about} figures")
    with store.writing() as db:
        db.execute("UPDATE session SET body = ?, figures = ? WHERE id = ?", (*bodies, visit.id))
        write_trail(store, db, "mended the list", one.patient.id, visit.started_at)
