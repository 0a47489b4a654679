"""The figures beside the path: of a hold, of repetitions, and those that are missing while there are no data."""

from __future__ import annotations

import math
from dataclasses import replace

from weightshare.exercise import Phase
from weightshare.model import Side
from weightshare.pipeline.aim import EVEN_PERCENT
from weightshare.practice import words
from weightshare.practice.coach import own_repetitions
from weightshare.practice.frame import Frame
from weightshare.practice.gauge import doubt_now, evidence_lines, tenths
from weightshare.practice.path import settings_now
from weightshare.practice.prompt import name_of
from weightshare.practice.screen import Figures, Step
from weightshare.practice.support import load_figure
from weightshare.practice.view import LiveView
from weightshare.tongue import say

MOST_STONES = 30


def share_label(injured: Side) -> str:
    """Return what the share is of."""
    return say("on the {injured} foot", injured=injured)


def missing_figures(frame: Frame) -> Figures:
    """Return the figures without data: their names alone."""
    held = name_of(frame.settings) if frame.lifts else say("held")
    unit = "kg" if frame.settings.is_supported else "%"
    return Figures(share_unit=unit, share_label=share_label(frame.settings.injured), held_label=held)


def practise_figures(view: LiveView, frame: Frame, step: Step) -> Figures:
    """Return the figures of a fresh view."""
    snapshot, settings = view.snapshot, frame.settings
    share, injured_N, weight_N = snapshot.share_percent, snapshot.injured_N, snapshot.body_weight_N
    figures = replace(
        _count_lifts(view, frame, step) if frame.lifts else _count_holds(view, frame, step),
        share="" if share is None else words.whole_percent(share, settings_now(snapshot, settings)),
        share_label=share_label(settings.injured),
        aim=_aim(view, frame),
        load_label=say("load, {injured} foot", injured=settings.injured),
        load_kg="" if injured_N is None else words.load_kg(injured_N),
        load_percent="" if injured_N is None or not weight_N else words.body_percent(injured_N, weight_N),
    )
    if settings.is_supported:
        load = "" if injured_N is None else load_figure(injured_N, settings)
        return replace(figures, share=load, share_unit="kg", load_label="", load_kg="", load_percent="")
    return _with_evidence(figures, view, frame) if frame.clinical else figures


def _with_evidence(figures: Figures, view: LiveView, frame: Frame) -> Figures:
    """Return the figures with what they are worth beside them."""
    snapshot, share = view.snapshot, view.snapshot.share_percent
    settings = settings_now(snapshot, frame.settings)
    doubt = doubt_now(view.gauge, snapshot, frame.settings.filter_Hz)
    fine = "" if share is None else words.fine_percent(share, settings)
    return replace(
        figures,
        share=fine,
        share_doubt="" if doubt is None else f"\u00b1 {tenths(doubt.expanded_points)}",
        evidence=evidence_lines(view.gauge, snapshot, doubt, fine),
    )


def _aim(view: LiveView, frame: Frame) -> str:
    """Return the band in words: even until the top where the exercise turns, else the one that is asked for."""
    settings, phase = frame.settings, view.snapshot.phase
    even = settings.exercise is not None and settings.exercise.turns and phase in (Phase.BOTTOM, Phase.RISE)
    turned = even and settings.target_percent is not None
    return words.band_words(replace(settings, target_percent=EVEN_PERCENT) if turned else settings)


def _count_holds(view: LiveView, frame: Frame, step: Step) -> Figures:
    snapshot, goal = view.snapshot, frame.goal
    if not frame.settings.has_band:
        # without a band there is nothing to hold
        return Figures()
    held_s = snapshot.held_s if step is Step.PRACTISE else 0.0
    done = min(snapshot.holds_done(goal.hold_s), goal.holds) if step is Step.PRACTISE else 0
    return Figures(
        held=words.seconds(held_s),
        held_label=say("held"),
        held_goal=say("of {hold:g} s", hold=goal.hold_s),
        held_fraction=min(1.0, held_s / goal.hold_s),
        stones=min(MOST_STONES, math.ceil(goal.hold_s)),
        holds=say("{done} of {holds}", done=done, holds=goal.holds),
        holds_done=done,
        holds_asked=goal.holds,
    )


def _count_lifts(view: LiveView, frame: Frame, step: Step) -> Figures:
    """Return how many repetitions the set under way has, and which set that is; before practice none."""
    goal, span = frame.goal, view.sets.under_way if step is Step.PRACTISE else None
    count = 0 if span is None else len(own_repetitions(span, view.snapshot))
    ended = sum(one.to_s is not None for one in view.sets.spans)
    return Figures(
        held=str(count),
        held_label=name_of(frame.settings),
        held_unit="",
        held_goal="" if goal.to_exhaustion else say("of {repetitions}", repetitions=goal.repetitions),
        held_fraction=0.0 if goal.to_exhaustion else min(1.0, count / goal.repetitions),
        stones=0 if goal.to_exhaustion else min(MOST_STONES, goal.repetitions),
        holds=say("{done} of {holds}", done=1 if span is None else span.number, holds=goal.sets),
        holds_label=say("set"),
        holds_done=ended,
        holds_asked=goal.sets,
    )
