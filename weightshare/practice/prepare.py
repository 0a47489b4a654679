"""The screens before practice: link, zero, weighing, the check of left and right."""

from __future__ import annotations

import math
from enum import Enum

from weightshare.metrology.balance import Balance
from weightshare.metrology.balance import Verdict as BalanceVerdict
from weightshare.model import Side
from weightshare.practice import words
from weightshare.practice.balance import COMPARING, step_soles, step_words
from weightshare.practice.check import STANDING_PART, SideCheck, Verdict
from weightshare.practice.coach import is_warming_up
from weightshare.practice.frame import Frame, broken_words, hints, shape_of, trouble_words, warnings, worst_link
from weightshare.practice.screen import Screen, Shape, Soles, Step
from weightshare.practice.view import LinkState, LiveView
from weightshare.state import Snapshot, State
from weightshare.task import Settings
from weightshare.tongue import mark, say

EXCHANGED = mark("Left and right are exchanged. A moment, please."), mark("measuring anew")
SWAP_NOTE = mark(
    "If so, press X: left and right are exchanged, and asked again. If you went to the {foot}, just press Space."
)


WARM_UP = mark("warm-up stand")
WARM_UP_ON = mark("Stand evenly on both feet, {seconds} s more.")
WARM_UP_LIMITED = mark("Stand still as you are, {seconds} s more.")
WARM_UP_NOTE = mark("The warm-up stand: on both feet, as you stand by yourself.")


class Exchange(Enum):
    """Whether the feet of two separate scales can be exchanged."""

    NONE = "none"
    OFFERED = "offered"
    """They were found to lie the wrong way round."""
    GOING = "going"
    """They were exchanged: what was recorded so far is measured anew."""


def prepare_screen(
    view: LiveView,
    frame: Frame,
    step: Step,
    check: SideCheck | None = None,
    balance: Balance | None = None,
    *,
    exchange: Exchange = Exchange.NONE,
) -> Screen:
    """Return the screen of the steps before practice: link, zero, weighing, the checks of left and right.

    `balance` is what came of comparing the two plates; None while they are compared.
    """
    link = worst_link(view)
    trouble = trouble_words(link, LinkState.REFUSED, LinkState.LOST)
    if view.stale and (step is not Step.CONNECT or trouble):
        (headline, state), note = broken_words(link, step), ""
        shape, soles = Shape.CROSS, Soles()
    else:
        headline, state, note, shape = _prepare_words(view.snapshot, step, check, frame.settings)
        soles = _soles(view.snapshot, step, check)
        if step is Step.BALANCE and view.checkup is not None:
            headline, note = step_words(view.checkup, balance, words.limit_words(frame.settings))
            state, soles = say(COMPARING), step_soles(view.checkup, balance)
            shape = Shape.towards(view.checkup.toward) if balance is None else Shape.CROSS
    if exchange is Exchange.OFFERED and check is not None and not view.stale:
        note = say(SWAP_NOTE, foot=check.named.other)
    if exchange is Exchange.GOING and view.stale and not trouble:
        headline, state, shape = *map(say, EXCHANGED), Shape.RING
    swapped = check is not None and check.verdict is Verdict.SWAPPED and step is Step.CHECK and not view.stale
    return Screen(
        step=step,
        headline=say(words.ASK_TO_END) if frame.asking else headline,
        state=state,
        shape=shape,
        injured=frame.settings.injured,
        soles=soles,
        blank=view.stale,
        note=note,
        hint=_prepare_hint(view, frame, step, bool(trouble)),
        warnings=() if trouble else warnings(view, frame),
        source=words.source_words(frame.source),
        key=say(words.GO_ON) if frame.asking else say(words.CHECK_AGAIN) if swapped else _balance_key(step, balance),
        trouble=trouble,
        age_s=view.age_s,
    )


def _prepare_words(
    snapshot: Snapshot, step: Step, check: SideCheck | None, settings: Settings
) -> tuple[str, str, str, Shape]:
    if step is Step.CONNECT:
        return words.practise_headline(State.WAITING, Side.LEFT), say(State.WAITING), "", Shape.RING
    if step is Step.ZERO:
        load_N = snapshot.zero_load_N
        note = "" if load_N is None else words.zero_load(load_N)
        return words.practise_headline(State.ZEROING, Side.LEFT), say(State.ZEROING), note, Shape.RING
    if step is Step.CHECK and check is not None:
        seated = _is_lean_too_much(snapshot)
        headline, note = words.check_words(check.verdict, check.named, words.limit_words(settings), seated=seated)
        shape = Shape.CROSS if check.verdict is Verdict.SWAPPED else Shape.towards(check.named)
        return headline, say(words.CHECKING), note, Shape.RING if check.verdict is Verdict.SETTLING else shape
    return _stand_words(snapshot, settings)


def _stand_words(snapshot: Snapshot, settings: Settings) -> tuple[str, str, str, Shape]:
    """Return what is said in the warm-up stand: while weighing, and for what is asked of it beyond that."""
    headline, note = words.weigh_words(snapshot.state, settings)
    if is_warming_up(snapshot):
        # half of body weight may be more than a ceiling allows
        asked = WARM_UP_ON if settings.ceiling is None else WARM_UP_LIMITED
        headline = say(asked, seconds=math.ceil(snapshot.stand_left_s))
        return headline, say(WARM_UP), words.limit_words(settings) or say(WARM_UP_NOTE), Shape.RING
    if snapshot.state is State.WEIGHING:
        note = note or say(WARM_UP_NOTE)
    return headline, words.state_words(snapshot.state), note, shape_of(snapshot.state, Side.LEFT)


def _balance_key(step: Step, balance: Balance | None) -> str:
    if step is not Step.BALANCE or balance is None:
        return ""
    return say(words.GO_ON) if balance.verdict is BalanceVerdict.UNEVEN else say(words.CHECK_AGAIN)


def _is_lean_too_much(snapshot: Snapshot) -> bool:
    """Return whether the injured foot may bear so little that leaning off it could not be told while standing."""
    limit_N, weight_N = snapshot.ceiling_N, snapshot.body_weight_N
    # the lean takes half of the change from one foot, and puts it on the other
    return limit_N is not None and weight_N is not None and limit_N < STANDING_PART / 2 * weight_N


def _soles(snapshot: Snapshot, step: Step, check: SideCheck | None) -> Soles:
    if step is Step.CHECK and check is not None:
        named = check.named if check.verdict in (Verdict.ASKING, Verdict.SWAPPED) else None
        part = int(20 * check.progress) / 20
        return Soles(True, True, named, part, swapped=check.verdict is Verdict.SWAPPED)
    return Soles(feet=step is Step.WEIGH, standing=snapshot.state is State.WEIGHING or is_warming_up(snapshot))


def _prepare_hint(view: LiveView, frame: Frame, step: Step, trouble: bool) -> str:
    if trouble:
        return say(words.RETRY_HINT)
    others = [say(words.SKIP_HINT)] if step in (Step.CHECK, Step.BALANCE) else []
    if step in (Step.WEIGH, Step.CHECK, Step.BALANCE):
        others += [say(words.ZERO_HINT)] if view.snapshot.zero_taken is False else []
    return hints(frame, *others)
