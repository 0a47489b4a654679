"""The evidence for the next stage on a patient's page, row by row, and below it the clinician's decision, signed."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from weightshare.errors import WeightshareError
from weightshare.practice.clinic.sight import make_decision
from weightshare.practice.message import retell
from weightshare.records.evidence import Evidence
from weightshare.records.store.patient import Patient
from weightshare.records.store.ruling import LONGEST_REASON, Choice, Ruling
from weightshare.tongue import mark, say
from weightshare.window import complaint
from weightshare.window.patienttable import Rows, Table
from weightshare.window.patientwords import EVIDENCE_HEADS, evidence_rows, say_evidence, say_line

CHOICES = {
    Choice.GO_ON: mark("goes on to the next stage"),
    Choice.STAY: mark("stays at this stage"),
    Choice.GO_BACK: mark("goes back one stage"),
}
WEIGHING = mark("Each session of the stage is computed again from its raw record \u2026")
SIGN, SIGN_NOW = mark("Si&gn \u2026"), mark("Sign it now (Alt+&G)")
ONCE = mark(
    "A decision is signed once and never changed; another one may follow it. It moves nobody and frees nothing."
)
NO_REASON, NO_NAME = mark("Give the reason, on one line."), mark("Sign it with name or initials.")
LAST = 5


class EvidenceTab(QWidget):
    """Shows the evidence; takes a decision in two steps, so that none is signed by mistake."""

    decided = Signal(object)
    """The Ruling, signed."""

    def __init__(self) -> None:
        super().__init__()
        self.evidence: Evidence | None = None
        self._patient: Patient | None = None
        self.ready: Ruling | None = None
        """What is signed when the key is pressed once more."""
        self.said, self.line, self.wrong = QLabel(say(WEIGHING)), QLabel(), QLabel()
        self.wrong.setObjectName("alert")
        rows = Rows([say(head) for head in EVIDENCE_HEADS], (LAST,))
        self.table = Table(rows, (0,), broken=True)
        self.choice, self.reason, self.by = QComboBox(), QLineEdit(), QLineEdit()
        self.sign, self.back = QPushButton(say(SIGN)), QPushButton(say("Not &yet"))
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        self.choice.addItems([say(words) for words in CHOICES.values()])
        self.choice.setCurrentIndex(list(CHOICES).index(Choice.STAY))
        self.reason.setMaxLength(LONGEST_REASON)
        self.by.setMaxLength(60)
        for label in (self.said, self.line, self.wrong):
            label.setWordWrap(True)
            label.setTextFormat(Qt.TextFormat.PlainText)
        self.line.setObjectName("hint")
        form = QHBoxLayout()
        parts = (
            (mark("Dec&ision"), self.choice, 0),
            (mark("&Reason"), self.reason, 3),
            (mark("Signed &by"), self.by, 1),
        )
        for text, box, stretch in parts:
            label = QLabel(say(text))
            label.setBuddy(box)
            form.addWidget(label)
            form.addWidget(box, stretch)
        form.addWidget(self.sign)
        form.addWidget(self.back)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        for widget in (self.said, self.table, self.line):
            column.addWidget(widget, 1 if widget is self.table else 0)
        column.addLayout(form)
        column.addWidget(self.wrong)

    def _connect(self) -> None:
        self.table.chosen.connect(self._show_line)
        self.sign.clicked.connect(lambda _checked: self._press())
        self.back.clicked.connect(lambda _checked: self.rest())
        self.choice.activated.connect(lambda _index: self.rest())
        for box in (self.reason, self.by):
            box.textEdited.connect(lambda _text: self.rest())
            box.returnPressed.connect(self._press)

    def open_for(self, patient: Patient) -> None:
        """Wait for the evidence of `patient`."""
        self._patient = patient
        self.show_evidence(None)
        self.reason.clear()
        self.by.clear()
        self.choice.setCurrentIndex(list(CHOICES).index(Choice.STAY))

    def show_evidence(self, evidence: Evidence | None, trouble: str = "") -> None:
        """Show it; None: it is not there yet, or `trouble` says why it will not be."""
        self.evidence = evidence
        self.said.setText(
            retell(trouble) or (say(WEIGHING) if evidence is None else say_evidence(evidence, self._patient))
        )
        self.table.show_rows([] if evidence is None else evidence_rows(evidence))
        self._show_line(self.table.row)
        for widget in (self.choice, self.reason, self.by, self.sign):
            widget.setEnabled(evidence is not None)
        self.rest()

    def _show_line(self, row: int) -> None:
        lines = () if self.evidence is None else self.evidence.lines
        self.line.setText(say_line(lines[row]) if 0 <= row < len(lines) else "")

    def rest(self) -> None:
        """Take back what was ready to be signed."""
        self.ready = None
        self.sign.setText(say(SIGN))
        self.back.hide()
        self.wrong.setText(say(ONCE) if self.evidence is not None else "")

    def _press(self) -> None:
        """The first time say what would be signed, the second time sign it."""
        if self.ready is not None:
            ruling = self.ready
            self.rest()
            self.reason.clear()
            self.decided.emit(ruling)
        elif self.evidence is not None:
            self._make_ready(self.evidence)

    def _make_ready(self, evidence: Evidence) -> None:
        choice = list(CHOICES)[self.choice.currentIndex()]
        for box, missing in ((self.reason, NO_REASON), (self.by, NO_NAME)):
            if not box.text().strip():
                box.setFocus()
                self.wrong.setText(say(missing))
                return
        try:
            ready = make_decision("", self.by.text(), choice, evidence, self.reason.text())
        except WeightshareError as error:
            self.wrong.setText(_plain(str(error)))
            return
        self.ready = ready
        code = "" if self._patient is None else self._patient.code
        self.wrong.setText(
            say(
                "{code} {what}, {stage_from} \u2192 {stage_to}: \u201c{reason}\u201d, signed {by}: press again to sign",
                code=code,
                what=ready.what,
                stage_from=ready.stage_from,
                stage_to=ready.stage_to,
                reason=ready.note,
                by=ready.by,
            )
        )
        self.sign.setText(say(SIGN_NOW))
        self.back.show()

    @property
    def holds(self) -> bool:
        """Whether something typed would be lost."""
        return bool(self.reason.text().strip())


def _plain(said: str) -> str:
    """Return what is wrong with a decision with the fields' own names."""
    for option, name in (("--by", mark("Signed by")), ("--reason", mark("Reason")), ("--decision", mark("Decision"))):
        said = said.replace(option, say(name))
    return complaint.plain(said)
