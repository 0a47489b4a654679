"""Exercises in plain words, as reports name them."""

from __future__ import annotations

from datetime import date

from weightshare.exercise import Exercise, Surface
from weightshare.task import Settings

_NAMES = {
    None: "standing on two legs",
    Exercise.HOLD: "standing on two legs, held",
    Exercise.HEEL_HOLD: "heels raised and held, on two legs",
    Exercise.RAISE: "heel raises on two legs",
    Exercise.LOWERING: "heel raises: up evenly on two legs, down with more on the injured side",
    Exercise.SINGLE_LOWERING: "heel raises: up on two legs, down on one",
    Exercise.SINGLE_RAISE: "heel raises on one leg",
    Exercise.SQUAT: "squats on two legs",
    Exercise.SIT_TO_STAND: "standing up from a chair",
}


def name_of(settings: Settings) -> str:
    """Return what was done, in the words of a report."""
    step = ", on a step" if settings.surface is Surface.STEP else ""
    support = ", with support" if settings.is_supported else ""
    return f"{_NAMES[settings.exercise]}{step}{support}"


_DONE = {
    None: "You stood on both feet.",
    Exercise.HOLD: "You stood on both feet and held your weight.",
    Exercise.HEEL_HOLD: "You raised both heels and held them up.",
    Exercise.RAISE: "You raised and lowered your heels, on both feet.",
    Exercise.LOWERING: "You raised your heels evenly, and came down with more weight on your {injured} foot.",
    Exercise.SINGLE_LOWERING: "You raised your heels on both feet, and came down on one.",
    Exercise.SINGLE_RAISE: "You raised and lowered your heel on one leg.",
    Exercise.SQUAT: "You did squats on both feet.",
    Exercise.SIT_TO_STAND: "You stood up from a chair and sat down again.",
}


def say_done(settings: Settings) -> str:
    """Return what was done, said to whom it was done by."""
    return _DONE[settings.exercise].format(injured=settings.injured)


def count_of(number: int, what: str) -> str:
    """Return how many there are of what has its plural with an s: 1 day, 3 sessions."""
    return f"{number} {what}{'' if number == 1 else 's'}"


def times_of(number: int) -> str:
    """Return how often something was: once, twice, 3 times."""
    return {1: "once", 2: "twice"}.get(number, f"{number} times")


_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
           "December")  # fmt: skip


def say_date(day: date, *, year: bool = True) -> str:
    """Return a day as people say it: 2 March 2026."""
    return f"{day.day} {_MONTHS[day.month - 1]}{f' {day.year}' if year else ''}"


def say_short(day: date) -> str:
    """Return a day as briefly as it can be said: 2 Mar."""
    return f"{day.day} {_MONTHS[day.month - 1][:3]}"
