"""From where the setting-up stands to what is shown of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from weightshare.model import Side
from weightshare.practice import startwords as words
from weightshare.practice.message import retell
from weightshare.practice.screen import Shape
from weightshare.practice.start import Start
from weightshare.practice.startknown import find_known
from weightshare.practice.startpress import Feel
from weightshare.practice.starttrial import Plate, Trial
from weightshare.practice.startview import StartRow, StartStep, StartView
from weightshare.records.pair import Pair, PairedScale
from weightshare.scales.finder import Found, Sort, Way
from weightshare.scales.link import Phase
from weightshare.tongue import say


def start_screen(start: Start) -> StartView:
    """Return what is shown now."""
    if start.is_looking and start.known is not None:
        return _looking(start, start.known)
    compose: dict[StartStep, Callable[[Start], StartView]] = {
        StartStep.FIND: _find,
        StartStep.SIDES: _sides,
        StartStep.CHECK: _check,
        StartStep.PLACE: _place,
        StartStep.READY: _ready,
    }
    view = compose[start.step](start)
    rows = tuple(replace(row, marked=place == start.cursor) for place, row in enumerate(view.rows))
    return replace(view, step=start.step, rows=rows, trouble=retell(start.trouble) or view.trouble)


def _looking(start: Start, known: Pair) -> StartView:
    found = find_known(start.finder.found, known)
    rows = tuple(_known_row(start, scale, one) for scale, one in zip(known.scales, found, strict=True))
    by_air = any(words.way_of(scale.source) is Way.AIR for scale in known.scales)
    return StartView(
        headline=say(words.KNOWN_LOOKING),
        words=tuple(map(say, words.KNOWN_STRAIGHT_WORDS if start.straight else words.KNOWN_LOOKING_WORDS)),
        rows=rows,
        trouble=words.no_air(start.finder.trouble) if by_air else "",
        hint=say(words.LOOKING_HINT),
        looking=True,
    )


def _known_row(start: Start, scale: PairedScale, one: Found | None) -> StartRow:
    name = scale.name or scale.device_id or scale.source
    title = words.side_title(scale.side, name) if scale.side is not None else name
    if one is not None:
        return StartRow(title, (words.DOT.join((words.way_words(one), say(words.KNOWN_FOUND))),), Shape.DISC)
    way = words.way_of(scale.source)
    asked = next((other for other in start.finder.found if other.source == scale.source), None)
    # that nobody answers is told with its remedy; what else is wrong is told as it is
    other = asked.said if asked is not None and not asked.said.startswith("no scale") else ""
    missing = words.NOT_YET.get(way, words.NOT_YET[Way.CABLE]) if start.finder.has_looked else words.LOOKED_FOR
    said = retell(other) or say(missing)
    return StartRow(title, (f"{say(way)}{words.DOT}{said}",), Shape.RING)


def _find(start: Start) -> StartView:
    rows = tuple(_found_row(start, one) for one in start.offered)
    notes = words.no_air(start.finder.trouble), words.passed_over(start.finder.found)
    real = any(one.sort is not Sort.VIRTUAL for one in start.offered)
    looked = say(words.NONE_FOUND) if start.finder.has_looked else say(words.LOOKING)
    return StartView(
        headline=say(words.FIND_HEADLINE),
        words=tuple(map(say, words.FIND_WORDS)) if real else (looked,),
        rows=rows,
        notes=tuple(note for note in notes if note),
        trouble=retell(start.clash),
        key=say(words.GO_ON) if start.may_go else "",
        hint=say(words.FIND_HINT),
    )


def _found_row(start: Start, one: Found) -> StartRow:
    trial = start.trials.get(one.source)
    identity = trial.identity if trial is not None else None
    how = [words.way_words(one), words.kind_words(one, identity)]
    if trial is None:
        shape = Shape.CROSS if one.sort is Sort.NONE else Shape.RING
        state = ""
    else:
        said = _link_words(trial), words.battery_words(trial.seen()), _light(start, trial)
        shape, state = _link_mark(trial), words.DOT.join(filter(None, said))
    bars = words.signal_of(one.signal_dBm)[0]
    lines = tuple(line for line in (words.DOT.join(part for part in how if part), state) if line)
    wanted = one.sort in (Sort.SCALE, Sort.VIRTUAL)
    name = say("Virtual scales") if one.sort is Sort.VIRTUAL else one.name
    return StartRow(name, lines, shape, bars, trial is not None, wanted=wanted)


def _link_mark(trial: Trial) -> Shape:
    if trial.is_sampling:
        return Shape.DISC
    return Shape.CROSS if trial.status.fault else Shape.RING


def _link_words(trial: Trial) -> str:
    if trial.is_sampling:
        return say("connected")
    return (
        retell(trial.status.words)
        if trial.status.phase is not Phase.CONNECTING or trial.status.fault
        else say("connecting \u2026")
    )


def _light(start: Start, trial: Trial) -> str:
    return say(words.SHINING) if start.is_shining(trial) else ""


def _sides(start: Start) -> StartView:
    headline, said = words.press_words(start.watch.feel)
    told = [plate.told for plate in start.plates]
    if start.swapped:
        headline, said = say(words.SWAPPED), say(words.SWAPPED_WORDS)
    elif start.checked or start.by_hand:
        headline, said = _decided(start)
    same = not start.is_board and len(told) == 2 and told[0] is not None and told[0] is told[1]
    notes = (say(words.SAME_SIDE, side=told[0]),) if same else ()
    sitting = () if start.checked or start.by_hand else (say(words.SIT),)
    virtual = any(trial.is_virtual for trial in start.trials.values())
    return StartView(
        headline=headline,
        words=(*sitting, said, *notes),
        rows=tuple(_side_row(start, plate) for plate in start.plates),
        trouble=_lost(start),
        key=say(words.GO_ON) if start.may_go else "",
        hint=(say(words.VIRTUAL_HINT) if virtual else "") + say(words.SIDES_HINT),
        pressing=start.watch.feel is Feel.WAITING and not (start.checked or start.by_hand or start.swapped),
    )


def _decided(start: Start) -> tuple[str, str]:
    """Return which one is the left, and where that is not what the scale says of itself."""
    left = next((plate for plate in start.plates if start.side_of(plate) is Side.LEFT), None)
    name = _name(left.trial) if left is not None else ""
    headline = say("Left is left") if start.is_board else say("The left one is {name}", name=name)
    said = say(words.BY_HAND) if start.by_hand else say("The left foot was felt on it, and on it alone.")
    if left is not None and not start.is_board and left.told is Side.RIGHT:
        said = f"{said} {say(words.RENAMED, said=Side.RIGHT, side=Side.LEFT)}"
    return headline, said


def _side_row(start: Start, plate: Plate) -> StartRow:
    side = start.side_of(plate)
    title = (
        words.side_title(side, _name(plate.trial))
        if side is not None
        else say("Left or right? {name}", name=_name(plate.trial))
    )
    seen = plate.seen
    load = say("{load:.0f} N on it", load=max(0.0, seen.level)) if seen.in_newtons and seen.level is not None else ""
    said = _link_words(plate.trial), load, _light(start, plate.trial)
    known = start.checked or start.by_hand
    shape = Shape.CROSS if not plate.trial.is_sampling else Shape.DISC if known else Shape.RING
    return StartRow(title, (words.DOT.join(filter(None, said)),), shape)


def _name(trial: Trial) -> str:
    if trial.identity is None:
        return trial.source
    return trial.identity.name or trial.identity.device_id


def _lost(start: Start) -> str:
    """Return which scale is not heard any more, in words; empty where all are."""
    lost = [trial for trial in start.trials.values() if not trial.is_sampling]
    return f"{_name(lost[0])}: {retell(lost[0].status.words)}" if lost else ""


def _check(start: Start) -> StartView:
    rows = tuple(_check_row(start, plate) for plate in _in_order(start))
    well = all(row.shape is Shape.DISC for row in rows)
    return StartView(
        headline=say(words.ALL_WELL) if well else say(words.CHECK_HEADLINE),
        words=tuple(map(say, words.CHECK_WORDS)),
        rows=rows,
        trouble=_lost(start),
        key=say(words.GO_ON) if start.may_go else "",
        hint=say(words.PATIENT_HINT if start.is_patients else words.CHECK_HINT),
    )


def _in_order(start: Start) -> list[Plate]:
    return sorted(start.plates, key=lambda plate: start.side_of(plate) is Side.RIGHT)


def _check_row(start: Start, plate: Plate) -> StartRow:
    trial, seen = plate.trial, plate.trial.seen()
    found = next((one for one in start.finder.found if one.source == trial.source), None)
    bars, signal = words.signal_of(found.signal_dBm if found is not None else None)
    kept = trial.calibration, trial.calibration_trouble
    usable, valid, calibrated = words.calibration_words(*kept, date.today(), is_patients=start.is_patients)
    quiet, noise = words.noise_words(plate.seen)
    steady, rate = words.rate_words(seen)
    faults = words.fault_words(seen)
    usable, well = usable and trial.is_sampling, valid and quiet and steady and not faults
    side = start.side_of(plate) or plate.told
    title = words.side_title(side, _name(trial)) if side is not None else _name(trial)
    first = words.DOT.join(part for part in (words.battery_words(seen), signal, faults) if part)
    if trial.status.phase is Phase.LOST:
        # battery, signal, noise and rate are those of before, and would look as if they were of now
        return StartRow(title, (say(words.LINK_LOST), calibrated), Shape.CROSS)
    shape = Shape.CROSS if not usable else Shape.DISC if well else Shape.DIAMOND
    return StartRow(title, (first, words.DOT.join((noise, rate)), calibrated, trial.told), shape, bars)


def _place(start: Start) -> StartView:
    return StartView(
        headline=say(words.PLACE_HEADLINE),
        words=tuple(map(say, words.PLACEMENT)),
        key=say(words.GO_ON),
        hint=say(words.PLACE_HINT),
    )


def _ready(start: Start) -> StartView:
    virtual = any(trial.is_virtual for trial in start.trials.values())
    said = words.VIRTUAL_WORDS if virtual else words.KNOWN_WORDS if start.recognised else words.READY_WORDS
    return StartView(
        headline=say(words.KNOWN_HEADLINE) if start.recognised else say(words.READY_HEADLINE),
        words=tuple(map(say, said)),
        rows=tuple(_check_row(start, plate) for plate in _in_order(start)),
        trouble=_lost(start),
        key=say(words.PRACTISE) if start.may_go else "",
        hint=say(words.PATIENT_HINT if start.is_patients else words.READY_HINT),
    )
