"""The way from unpacked scales to practice: find, left and right, check, place, ready. No Qt; time is handed in."""

from __future__ import annotations

from weightshare.errors import WeightshareError
from weightshare.model import Side
from weightshare.practice import startwords as words
from weightshare.practice.startknown import Chosen, choose_known, choose_tried, find_known
from weightshare.practice.startmeter import plates_of
from weightshare.practice.startpress import Feel, PressWatch
from weightshare.practice.starttrial import BLINK_MS, Plate, Trial
from weightshare.practice.startview import StartStep
from weightshare.records.pair import Footwear, Pair
from weightshare.scales.finder import Finder, Found, Sort

STEPS = tuple(StartStep)
MOST_SCALES = 2
LET_GO_WITHIN_S = 4.0


class Start:
    """Goes from step to step. `keep_up` is called several times a second; keys are the other methods.

    `known`: the pair that is remembered; `straight`: it is to be practised on as soon as it is found. All of it is
    called from one thread, but `stop`.
    """

    def __init__(self, finder: Finder, known: Pair | None = None, *, straight: bool = False) -> None:
        self.step, self.cursor = StartStep.FIND, 0
        self.known, self.is_patients = known, False
        self.trouble = ""
        """Why what was just asked for cannot be, in words."""
        self.trials: dict[str, Trial] = {}
        """Those chosen, by source, in the order of choosing."""
        self.sides: dict[str, Side] = {}
        """Whose foot is on each of two scales, by source, once it is known."""
        self.by_hand = self.checked = self.recognised = False
        """Left and right were told by hand; by a press; the remembered pair was found again by itself."""
        self.swapped = False
        """The other plate of a board felt the press."""
        self.footwear = known.footwear if known is not None else Footwear()
        self.watch = PressWatch()
        self.finder = finder
        self.ready: Chosen | None = None
        """The remembered pair, all of it found, where it is to be practised on straight away."""
        self.straight, self._now_s = straight, 0.0
        self._shining: dict[str, float] = {}
        """Until when each scale was asked to show its light, by source."""
        self._let_go: list[Trial] = []
        self._meddled = False
        """Somebody chose by hand: nothing is chosen by itself any more."""

    def begin(self) -> None:
        """Begin to look for scales."""
        self.finder.start()

    def again(self) -> Start:
        """Return where this one stood, once more, for when it was stopped: the scales are connected anew."""
        new = Start(self.finder.again(), self.known)
        for source in self.trials:
            new._try(source)
        new._meddled, new.step, new.cursor, new.footwear = True, self.step, self.cursor, self.footwear
        new.sides, new.by_hand, new.checked = dict(self.sides), self.by_hand, self.checked
        return new

    @property
    def is_looking(self) -> bool:
        """Whether the remembered pair is being looked for, and nothing else."""
        return self.known is not None and not self._meddled

    @property
    def offered(self) -> tuple[Found, ...]:
        """What can be seen of scales, those without an answer left out."""
        return tuple(
            one for one in self.finder.found if one.sort is not Sort.NONE or not one.said.startswith("no scale")
        )

    @property
    def plates(self) -> tuple[Plate, ...]:
        """The plates of the scales chosen, as far as they have said who they are."""
        found = []
        for trial in self.trials.values():
            told = plates_of(trial.identity) if trial.identity is not None else ()
            found += [Plate(trial, place, side) for place, (side, _under) in enumerate(told)]
        return tuple(found)

    @property
    def is_board(self) -> bool:
        """Whether one scale was chosen, which reads both feet."""
        return len(self.trials) == 1

    def side_of(self, plate: Plate) -> Side | None:
        """Return whose foot stands on `plate`; None before it is known."""
        return plate.told if self.is_board else self.sides.get(plate.trial.source)

    @property
    def clash(self) -> str:
        """Why what was chosen is no pair, with the remedy; empty where it is one, or is not known yet."""
        if any(trial.identity is None for trial in self.trials.values()):
            return ""
        return words.count_words(len(self.plates), len(self.trials))

    @property
    def may_go(self) -> bool:
        """Whether the step is done."""
        if self.step is StartStep.FIND:
            return len(self.plates) == MOST_SCALES and not any(trial.is_refused for trial in self.trials.values())
        if self.step is StartStep.SIDES:
            return self.checked or self.by_hand
        if self.step in (StartStep.CHECK, StartStep.READY):
            return all(trial.is_sampling and trial.calibration is not None for trial in self.trials.values())
        return True

    def keep_up(self, now_s: float) -> None:
        """Do what goes by itself; `now_s` is the time of any clock, s."""
        self._now_s = now_s
        if not self._meddled and self.known is not None:
            self._recognise(self.known)
        for trial in self.trials.values():
            trial.keep_up(now_s)
        if self.step is StartStep.SIDES and not self.by_hand:
            self._feel(now_s)
        if self.recognised and self.step is StartStep.FIND and self.may_go:
            self.step = StartStep.READY
        if self.trouble == words.why_not(self.step, is_patients=self.is_patients) and self.may_go:
            self.trouble = ""

    def _recognise(self, known: Pair) -> None:
        """Choose the remembered pair once all of it was found."""
        found = [one for one in find_known(self.finder.found, known) if one is not None]
        if len(found) < len(known.scales):
            return
        if self.straight:
            self.ready = choose_known(found, known)
            return
        self._meddled = True
        for one in found:
            self._try(one.source)
        sides = {one.source: scale.side for one, scale in zip(found, known.scales, strict=True)}
        self.sides = {source: side for source, side in sides.items() if side is not None}
        self.recognised = self.checked = len(self.trials) == len(found)

    def others(self) -> None:
        """Choose other scales than those that are remembered, or were chosen."""
        for source in tuple(self.trials):
            self._release(source)
        self._meddled, self.straight, self.recognised = True, False, False
        self.step, self.cursor, self.trouble = StartStep.FIND, 0, ""

    def add(self, text: str) -> bool:
        """Look for a scale at the address `text` too; return whether it is one, else `trouble` says what is wrong."""
        try:
            self.finder.add(text)
        except WeightshareError:
            self.trouble = words.NO_ADDRESS
            return False
        self.trouble = ""
        return True

    def _feel(self, now_s: float) -> None:
        plates = self.plates
        if len(plates) != MOST_SCALES or self.checked:
            return
        feel = self.watch.push(now_s, [plate.seen for plate in plates])
        if feel is not Feel.FOUND or self.watch.found is None:
            return
        pressed = plates[self.watch.found]
        if self.is_board:
            self.swapped = pressed.told is Side.RIGHT
            self.checked = not self.swapped
            if self.swapped:
                self.watch.again()
            return
        self.swapped, self.checked = False, True
        self._name(pressed, Side.LEFT)

    def _name(self, plate: Plate, side: Side) -> None:
        for trial in self.trials.values():
            self.sides[trial.source] = side if trial is plate.trial else side.other

    def move(self, by: int) -> None:
        """Move the mark by so many rows."""
        rows = len(self.offered) if self.step is StartStep.FIND else MOST_SCALES
        self.cursor = max(0, min(rows - 1, self.cursor + by))

    def choose(self) -> None:
        """Choose what the mark is on, or let it go; nothing but at the first step."""
        if self.step is not StartStep.FIND or self.is_looking or not self.offered:
            return
        self._meddled, self.recognised, self.trouble = True, False, ""
        one = self.offered[min(self.cursor, len(self.offered) - 1)]
        if one.source in self.trials:
            self._release(one.source)
        elif one.sort in (Sort.SCALE, Sort.VIRTUAL):
            virtual = [source for source in self.trials if (source.startswith("rig:")) or one.sort is Sort.VIRTUAL]
            for source in virtual:
                # nobody stands with one foot on nothing
                self._release(source)
            if len(self.trials) == MOST_SCALES:
                self._release(next(iter(self.trials)))
            self._try(one.source)
        else:
            self.trouble = words.unwanted_words(one)

    def _try(self, source: str) -> None:
        try:
            trial = Trial(source)
        except WeightshareError as error:
            self.trouble = str(error)
            return
        self.trials[source] = trial
        self._unsettle()
        trial.start()

    def _release(self, source: str) -> None:
        trial = self.trials.pop(source)
        trial.ask_to_stop()
        self._let_go.append(trial)
        self._unsettle()

    def _unsettle(self) -> None:
        """What was known of left and right is of other scales."""
        self.sides.clear()
        self.by_hand = self.checked = self.swapped = False
        self.watch = PressWatch()
        self.finder.hold(self.trials)

    def go(self) -> bool:
        """Go on to the next step; return whether there is none, and practice may begin."""
        self.trouble = "" if self.may_go or self.is_looking else words.why_not(self.step, is_patients=self.is_patients)
        if not self.may_go:
            return False
        if self.step is StartStep.READY:
            return True
        self.step = STEPS[STEPS.index(self.step) + 1]
        self.cursor = 0
        if self.step is StartStep.SIDES and not self.checked:
            self.watch.again()
        return False

    def back(self) -> bool:
        """Go back a step; return whether there is one."""
        at = STEPS.index(self.step)
        self.step, self.cursor, self.recognised = STEPS[max(0, at - 1)], 0, False
        if self.step is StartStep.SIDES:
            self.by_hand = self.checked = self.swapped = False
            self.watch.again()
        return at > 0

    @property
    def marked_trial(self) -> Trial | None:
        """The scale that the mark is on, where it was chosen."""
        if self.step is StartStep.FIND:
            offered = self.offered
            return self.trials.get(offered[self.cursor].source) if self.cursor < len(offered) else None
        plates = self.plates
        return plates[self.cursor].trial if self.cursor < len(plates) else None

    def blink(self) -> None:
        """Have the marked scale show its light; one has to be chosen for that."""
        trial = self.marked_trial
        self.trouble = "" if trial is not None else words.CHOOSE_TO_BLINK
        if trial is not None:
            trial.blink()
            self._shining[trial.source] = self._now_s + BLINK_MS / 1000.0

    def is_shining(self, trial: Trial) -> bool:
        """Return whether it was asked to show its light, and does so still."""
        return trial.is_sampling and self._shining.get(trial.source, 0.0) > self._now_s

    def name(self, side: Side) -> None:
        """Say by hand that the marked one is the scale of the foot `side`; a board is as it says."""
        plates = self.plates
        if self.step is not StartStep.SIDES or len(plates) != MOST_SCALES:
            return
        plate = plates[min(self.cursor, MOST_SCALES - 1)]
        if self.is_board:
            self.by_hand = plate.told is side
            self.swapped = not self.by_hand
            return
        self.by_hand, self.swapped = True, False
        self._name(plate, side)

    def touch(self, side: Side, now_s: float) -> None:
        """Press with a virtual foot; on real scales nothing."""
        for trial in self.trials.values():
            trial.touch(side, now_s)

    def chosen(self) -> Chosen:
        """Return what to practise on, and what to remember."""
        return choose_tried(tuple(self.trials.values()), {} if self.is_board else self.sides, self.footwear)

    def stop(self) -> bool:
        """Let all scales go and wait for that, on a thread that may wait; return whether it was in time."""
        self.finder.ask_to_stop()
        trials = [*self.trials.values(), *self._let_go]
        for trial in trials:
            trial.ask_to_stop()
        late = [trial for trial in trials if not trial.join(LET_GO_WITHIN_S)]
        return self.finder.join(LET_GO_WITHIN_S) and not late
