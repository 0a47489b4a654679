"""How the two sides of one session compare, on a patient's page: each measure with what its index is worth."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QListWidgetItem, QVBoxLayout, QWidget

from weightshare.metrology.estimate import Estimate
from weightshare.metrology.index import Index
from weightshare.practice.message import retell
from weightshare.records.store.patient import Patient
from weightshare.records.store.store import Store
from weightshare.records.store.trail import note_trail
from weightshare.records.store.visit import Visit, opened
from weightshare.records.symmetry import indices_of
from weightshare.report.account import account_of_visit
from weightshare.report.digit import plus_minus
from weightshare.tongue import chosen, mark, number, say
from weightshare.window.patienttable import TaskList

CHOOSE = mark("Choose a session first (Alt+S).")
READING = mark("The session is computed again from its raw record \u2026")
NOTHING = mark("Nothing in this session has a value for each side.")
METHOD = mark(
    "Index: injured side in percent of the other. \u00b1: expanded uncertainty, k = 2. No index is a permission: the"
    " treating clinician decides."
)
INDENT = "    "
FOR_COMMANDS = " (--repeats, or a patient's code)"


def compare_sides(store: Store, patient: Patient, visit: Visit) -> tuple[Index, ...]:
    """Return how the two sides compare in each measure of the session `visit`, with how far this patient strays.

    The session is computed again; the trail notes it. Raises RecordError, StoreError.
    """
    with opened(store, visit) as folder:
        account = account_of_visit(store, patient, visit, folder)
    note_trail(store, "compared the sides of a session", patient.id, visit.started_at)
    trace, own = account.replayed.trace, account.strays()
    return indices_of(account.appraisal, trace, both_injured=account.both_injured, own=own)


class SidesTab(QWidget):
    """A list of measures; under each both values, the index or why there is none, how far it varies, and cautions."""

    def __init__(self) -> None:
        super().__init__()
        self.said, self.list, self.method = QLabel(say(CHOOSE)), TaskList(), QLabel(say(METHOD))
        self.method.setObjectName("hint")
        self.list.setWordWrap(True)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for widget in (self.said, self.list, self.method):
            column.addWidget(widget, 1 if widget is self.list else 0)
        for label in (self.said, self.method):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)

    def wait_for(self, which: str) -> None:
        """Show nothing yet, of the session `which`; empty: none is chosen."""
        self.list.clear()
        self.said.setText(f"{which}: {say(READING)}" if which else say(CHOOSE))

    def show_indices(self, which: str, found: Sequence[Index]) -> None:
        """Show how the sides of the session `which` compare."""
        self.list.clear()
        self.said.setText(which if found else f"{which}: {say(NOTHING)}")
        for one in found:
            title, *rest = say_index(one)
            item = QListWidgetItem(title)
            font = item.font()
            font.setBold(True)
            item.setFont(font)
            self.list.addItem(item)
            self.list.addItems([f"{INDENT}{words}" for words in rest])
        self.list.fit_rows()


def say_index(one: Index) -> Iterator[str]:
    """Yield the measure with both values, its indices or why there is none, how far it varies, and its cautions."""
    unit = one.kind.unit
    injured, other = _say(one.injured, unit), _say(one.uninjured, unit)
    yield say("{measure:C}: injured {injured}, other {other}", measure=retell(one.kind), injured=injured, other=other)
    names = (
        (mark("limb symmetry index"), one.limb_symmetry_index),
        (mark("symmetry index"), one.symmetry_index),
        (mark("symmetry angle"), one.symmetry_angle),
    )
    told = [f"{say(name)} {_say(value, '%')}" for name, value in names if value is not None]
    if told:
        yield ", ".join(told)
    if one.reason:
        yield say("No index: {why}.", why=retell(one.reason))
    yield say("Varies from day to day: {words}.", words=_varies(one))
    yield from (say("Caution: {words}.", words=retell(words)) for words in one.cautions)


def _varies(one: Index) -> str:
    # what the command line is told to do has no place here
    words, known = one.reliability.words.replace(FOR_COMMANDS, ""), one.reliability.mdc_percent
    if known is None or not one.reliability.is_published:
        return retell(words)
    # a published change of share is told of this index too
    return say("{words}; of this index some {percent} %", words=retell(words), percent=number(known, ".0f"))


def _say(one: Estimate | None, unit: str) -> str:
    """Return a value with its expanded uncertainty (k = 2), where that is known."""
    if one is None:
        return say("not measured")
    return f"{plus_minus(one.value, 2.0 * one.u).replace('.', chosen().decimal)} {unit}".strip()
