"""The window in another language: German is complete, every text on its pages is marked, and longer words fit in."""

from __future__ import annotations

import importlib.util
import string
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest
from PySide6.QtCore import QLocale, QTranslator
from PySide6.QtWidgets import QAbstractButton, QLabel, QWidget

from tests.shown import snapshot
from tests.unit.pasts import save
from tests.unit.test_programme_reading import HEAD, STAGE, TEN
from tests.window.benching import asking
from tests.window.clinic import come_in, few, see
from tests.window.conftest import GOAL, SETTINGS, SOURCE, Bench, fresh
from tests.window.picture import look_for_faults
from tests.window.pseudo import plain_words, texts_of, tongue_of
from tests.window.test_bench import Table
from tests.window.test_keyboard import Key, press
from tests.window.test_sets import RESTING, UNDER_WAY, lifting, practising, show
from tests.window.walking import open_window, page_of
from weightshare.exercise import Phase
from weightshare.model import Side
from weightshare.practice import words
from weightshare.practice.message import retell
from weightshare.practice.past.shelf import Wanted
from weightshare.practice.screen import Step
from weightshare.programme.draft import CRITERIA, SOURCES, keys_of
from weightshare.programme.reading import check_text
from weightshare.records.place import passphrase_file
from weightshare.state import State
from weightshare.tongue import ENGLISH, choose, chosen, number, plural, say
from weightshare.window import language
from weightshare.window.bar import SettingsBar
from weightshare.window.choice import blind_of, ceiling_of, tempo_of
from weightshare.window.patientpage import SIDES, TRAIL
from weightshare.window.store import Store


@pytest.fixture(scope="module")
def tool(request: pytest.FixtureRequest) -> ModuleType:
    """Return docs/words.py as a module."""
    path = Path(str(request.config.rootpath)) / "docs" / "words.py"
    spec = importlib.util.spec_from_file_location("docs_words", path)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["docs_words"] = module
    spec.loader.exec_module(module)
    return module


def names(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


def test_german_is_complete(tool: ModuleType) -> None:
    """Whoever adds a text translates it: python docs/words.py, then weightshare/window/words/de.ts."""
    texts, german = tool.find_texts(), tool.read(tool.FOLDER / "de.ts")
    assert len(texts) > 1000
    assert sorted(text.source for text in texts - set(german.said)) == [], "run python docs/words.py"
    assert sorted(text.source for text in german.unfinished) == []
    empty = [text.source for text, forms in german.said.items() if not all(form.strip() for form in forms)]
    # a joint of words is a text too, and its spaces are kept
    assert [source for source in empty if source.strip()] == []


def test_a_translation_puts_in_what_its_text_puts_in(tool: ModuleType) -> None:
    german = tool.read(tool.FOLDER / "de.ts")
    other = [
        text.source for text, forms in german.said.items() for form in forms[-1:] if names(form) != names(text.source)
    ]
    assert other == []
    assert all(len(forms) == 2 for text, forms in german.said.items() if text.counted), "German has two forms"
    ends = [t.source for t, forms in german.said.items() if t.source[:1] == " " and forms[0][:1] != " "]
    assert ends == [], "a space that joins is lost"


def test_the_file_that_is_loaded_says_what_the_one_for_translators_says(tool: ModuleType) -> None:
    german, translator = tool.read(tool.FOLDER / "de.ts"), QTranslator()
    assert translator.load(str(language.FOLDER / "de.qm"))
    tongue = language.tongue_of(translator, ",")
    assert tongue.translator is not None
    for text, forms in german.said.items():
        for count, form in zip((1, 2) if text.counted else (-1,), forms, strict=True):
            assert tongue.translator(text.source, text.sense, count) == form, "run python docs/words.py"


def test_german_is_spoken_as_a_therapist_says_it(english_after: None) -> None:
    language.speak("de")
    assert say("More weight on your {injured} foot.", injured=Side.LEFT) == "Mehr Gewicht auf den linken Fuß."
    assert words.practise_headline(State.TOO_MUCH, Side.RIGHT) == "Nehmen Sie etwas Gewicht vom rechten Fuß."
    assert say(Side.LEFT) == "links" and say(State.IN_BAND) == "im Bereich"
    assert plural("{n} time", "{n} times", 2) == "2-mal"
    assert number(1.5) == "1,5" and words.load_kg(98.0665) == "10,0 kg"
    assert QLocale().decimalPoint() == ","
    language.speak("en")
    assert chosen() is ENGLISH and words.load_kg(98.0665) == "10.0 kg" and QLocale().decimalPoint() == "."


@pytest.mark.parametrize(
    ("told", "remembered", "system", "wanted"),
    [
        ("", "system", "en_GB", "en"),
        ("", "system", "de_AT", "de"),
        ("", "system", "fi_FI", "en"),
        ("", "de", "en_GB", "de"),
        ("en", "de", "de_DE", "en"),
        ("de_CH.UTF-8", "en", "en_GB", "de"),
        ("klingon", "de", "en_GB", "de"),
    ],
)
def test_the_language_is_that_of_the_environment_else_as_chosen_else_the_systems(
    monkeypatch: pytest.MonkeyPatch, told: str, remembered: str, system: str, wanted: str
) -> None:
    monkeypatch.setenv(language.VARIABLE, told)
    monkeypatch.setattr(language, "QLocale", _System(system))
    assert language.find_wanted(remembered) == wanted


class _System:
    """Stands for Qt's QLocale where the system's language is asked for: no test changes that of this computer."""

    def __init__(self, name: str) -> None:
        self._name = name

    def system(self) -> QLocale:
        return QLocale(self._name)

    def __call__(self, name: str) -> QLocale:
        return QLocale(name)


def test_a_language_is_chosen_where_the_cautions_stand_and_remembered(bench: Bench) -> None:
    window = bench.open(cautions_read=False)
    page, told = window.cautions, list[str]()
    assert not page.language.isVisible()
    page.offer_languages(language.languages(), "de")
    assert page.language.isVisible() and page.language.currentText() == "Deutsch"
    assert [page.language.itemText(row) for row in range(3)] == ["as on this computer", "English", "Deutsch"]
    page.language_chosen.connect(told.append)
    page.language.activated.emit(1)
    page.language.setCurrentIndex(1)
    page.language.activated.emit(1)
    assert told[-1] == "en"
    bench.store.language = "de"
    bench.store.flush()
    assert Store(bench.store._settings).language == "de"


def test_what_is_typed_is_understood_in_both_languages(english_after: None) -> None:
    language.speak("de")
    assert tempo_of("eigenes Tempo") is None and tempo_of("own pace") is None
    assert ceiling_of("keine") is None and ceiling_of("none") is None
    assert blind_of("2 und 3") == (2, 3) == blind_of("2 and 3") and blind_of("keine") == ()
    limit = ceiling_of("17,5 kg")
    assert limit is not None and limit.kg == 17.5


def mnemonics(texts: list[str]) -> list[str]:
    """Return the letters that Alt goes with."""
    return [text[place + 1].lower() for text in texts for place in range(len(text) - 1) if text[place] == "&"]


def test_each_setting_has_a_key_of_its_own_in_german(bench: Bench, english_after: None) -> None:
    language.speak("de")
    bar = SettingsBar()
    texts = [widget.text() for widget in bar.findChildren(QLabel) + bar.findChildren(QAbstractButton)]
    keys = mnemonics(texts)
    assert len(keys) > 15 and sorted(keys) == sorted(set(keys))
    assert set(bar.fields()) >= {"Target", "Tempo", "Source"}, "fields are found by their English names"
    bar.show_values(SETTINGS, GOAL, SOURCE)
    assert bar.settings(SETTINGS).injured is SETTINGS.injured
    bar.deleteLater()


@pytest.fixture
def longer(tool: ModuleType) -> Iterator[None]:
    choose(tongue_of({text.source for text in tool.find_texts()}))
    yield
    choose(ENGLISH)


NAMES = {"weightshare", "achilles", "even", "partial", "load", "raiser", "tcp", "Enter", "Esc", "toml", "json"}
"""What is called so in every language: files, virtual people, keys, the program itself."""


def left_over(page: QWidget, *also: str) -> list[str]:
    """Return the texts on `page` that nobody has marked; `also`: words that are data, and stand as they are."""
    data = NAMES | set(also)
    return [text for text in texts_of(page) if set(plain_words(text)) - data]


def test_the_disguise_finds_what_is_not_marked(longer: None) -> None:
    assert plain_words(say("Stop on pain.")) == [] and plain_words("Stop on pain.") == ["Stop", "on", "pain"]
    assert plain_words(f"{say('Set it  (Enter)')} now") == ["now"]
    label = QLabel("Stop on pain.")
    label.show()
    assert left_over(label) == ["Stop on pain."]
    label.close()
    label.deleteLater()


def test_no_text_of_a_session_escapes(bench: Bench, longer: None) -> None:
    window = bench.open(cautions_read=False)
    assert left_over(window.cautions) == []
    window.cautions.close_page()
    for state in State:
        share = 60.0 if state in (State.TOO_LITTLE, State.TOO_MUCH, State.IN_BAND) else None
        bench.feed.shown = fresh(snapshot(state, share))
        window.tick()
        assert left_over(window) == [], state
    window.bar.more.click()
    assert left_over(window.desk.sheet) == []


def test_no_text_of_a_set_escapes(bench: Bench, longer: None) -> None:
    window = practising(bench)
    for phase in Phase:
        show(bench, window, lifting(UNDER_WAY, phase))
        assert left_over(window) == [], phase
    show(bench, window, lifting(RESTING, Phase.BOTTOM))
    assert left_over(window) == []
    window.act(window.flow.escape())
    window.act(window.flow.escape())
    bench.until(lambda: window.runner.ended is not None)
    window.tick()
    assert window.flow.step is Step.DONE and left_over(window, "sessions", "one") == []


@pytest.mark.parametrize("key", [Key.Key_F2, Key.Key_F3, Key.Key_F4])
def test_no_text_of_the_clinicians_pages_escapes(bench: Bench, own_scales: None, longer: None, key: Key) -> None:
    window = bench.open()
    press(bench, key)
    page = {Key.Key_F2: "stage_page", Key.Key_F3: "lock_page"}.get(key)
    shown = window.ward.teller.page if page is None else getattr(window.ward, page)
    assert shown.is_open and left_over(shown, *plain_words(str(passphrase_file()))) == []


def test_no_text_of_the_editor_escapes(bench: Bench, own_scales: None, longer: None) -> None:
    window = bench.open()
    press(bench, Key.Key_F2)
    window.ward.stage_page.copy.click()
    window.ward.stage_page.edit.click()
    # what stands in a file is not translated: its keys, small beneath what they are called, and what is said under them
    names = [CRITERIA, SOURCES, *(key.name for stage in (0, None) for key in keys_of(stage))]
    data = {word for name in names for word in plain_words(name)}
    page, draft = window.ward.edit_page, window.ward.edit_page.draft
    assert draft is not None
    assert left_over(page, *data, *plain_words(draft.text)) == []


def test_every_mistake_of_a_programme_is_told_in_german(english_after: None) -> None:
    language.speak("de")
    torn = "Rest a little\nholds: 2\n[stages.sources\n[stages.criteria]\npain-after = at most 2\n[stages.criteria]\n"
    for text in (TEN, f'{HEAD}{STAGE}exercise = "hold"\n{torn}'):
        mistakes = check_text(text)[1]
        assert len(mistakes) > 5
        assert [one.words for one in mistakes if retell(one.words) == one.words] == []


def test_no_text_of_a_calibration_escapes(bench: Bench, longer: None) -> None:
    table = Table(bench)
    table.window.open_calibration()
    bench.until(lambda: table.page.is_open)
    assert left_over(table.page) == []
    press(bench, Key.Key_Return)
    bench.until(lambda: bool(table.told) and table.page.runner.view() is table.told[-1].shown)
    table.show(asking())
    assert left_over(table.page, *plain_words(asking().headline), *plain_words(asking().words)) == []


def test_no_text_of_looking_back_escapes(bench: Bench, longer: None, tmp_path: Path) -> None:
    window = bench.open()
    folder = save(tmp_path / "session-1")
    window.door.look_back(Wanted(tmp_path))
    page = window._annex.past
    bench.until(lambda: bool(page.list.entries))
    assert left_over(page, *plain_words(str(tmp_path))) == []
    page.back()
    window.door.look_back(Wanted(tmp_path, folder))
    bench.until(lambda: page.view is not None)
    assert left_over(page) == []


def test_no_text_of_getting_started_escapes(bench: Bench, own_scales: None, longer: None) -> None:
    window = open_window(bench)
    page = page_of(bench, window)
    bench.until(lambda: page.start is not None and bool(page.start.offered))
    # what the test's own radio says is no text of the program
    assert left_over(page, *plain_words("this computer has no Bluetooth")) == []


def test_no_text_of_the_patients_pages_escapes(bench: Bench, longer: None, own_place: None) -> None:
    few()
    _window, door = come_in(bench)
    assert left_over(door.list, "Demo", "One") == []
    see(bench, door, "a-1")
    for tab in range(door.page.tabs.count()):
        door.page.tabs.setCurrentIndex(tab)
        bench.until(lambda: not door.clerk.is_busy)
        assert plain_words(door.page.tabs.tabText(tab)) == []
        # who looked is kept in the words of the record, and shown so; these sessions have no raw record to compare
        assert tab in (TRAIL, SIDES) or left_over(door.page, "Demo", "One") == [], tab


def test_longer_words_fit_on_the_board(bench: Bench, longer: None) -> None:
    """What was cut with words a third longer would be cut in German."""
    window = bench.open()
    for state in (State.TOO_LITTLE, State.IN_BAND, State.NOBODY, State.WEIGHING, State.ELSEWHERE):
        bench.feed.shown = fresh(snapshot(state, 60.0 if state in (State.TOO_LITTLE, State.IN_BAND) else None))
        window.tick()
        look_for_faults(window.board, str(state))


def test_german_fits_in_a_set_and_its_rest(bench: Bench, english_after: None) -> None:
    language.speak("de")
    window = practising(bench)
    for phase in Phase:
        show(bench, window, lifting(UNDER_WAY, phase))
        look_for_faults(window.board, str(phase))
    show(bench, window, lifting(RESTING, Phase.BOTTOM))
    look_for_faults(window.board, "rest")
    assert window.width() == 1366 and window.board.headline.lines()[0].text == "Pause"
