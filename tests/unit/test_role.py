"""Whose turn it is at the screen: unlocked, locked, and locked by itself."""

from __future__ import annotations

from weightshare.practice.role import FREE_TRIES, IDLE_S, REST_S, Keeper, Role


def role(keeper: Keeper) -> Role:
    return keeper.role


def test_without_a_passphrase_everybody_sets_everything() -> None:
    keeper = Keeper(is_set=False)
    assert keeper.role is Role.OPEN and keeper.may_set
    assert not keeper.follow(10.0 * IDLE_S) and keeper.role is Role.OPEN


def test_with_one_it_begins_with_the_patient() -> None:
    keeper = Keeper(is_set=True)
    assert role(keeper) is Role.PATIENT and not keeper.may_set
    keeper.take_try(5.0, right=True)
    assert role(keeper) is Role.CLINICIAN and keeper.may_set
    keeper.lock()
    assert not keeper.may_set


def test_a_clinician_who_went_away_is_followed_by_the_patient() -> None:
    keeper = Keeper(is_set=True)
    keeper.take_try(0.0, right=True)
    assert not keeper.follow(IDLE_S - 1.0)
    keeper.touch(IDLE_S - 1.0)
    assert not keeper.follow(IDLE_S + 1.0), "a key was pressed meanwhile"
    assert keeper.follow(2.0 * IDLE_S)
    assert keeper.role is Role.PATIENT and not keeper.follow(2.0 * IDLE_S + 1.0), "told once"


def test_practice_without_a_key_is_no_absence() -> None:
    keeper = Keeper(is_set=True)
    keeper.take_try(0.0, right=True)
    assert not keeper.follow(2.0 * IDLE_S, busy=True)
    assert not keeper.follow(2.0 * IDLE_S + 1.0)
    assert keeper.follow(3.0 * IDLE_S + 1.0)


def test_guessing_has_to_wait() -> None:
    keeper = Keeper(is_set=True)
    for number in range(FREE_TRIES):
        assert keeper.wait_s(number) == 0.0
        keeper.take_try(float(number), right=False)
    last_s = FREE_TRIES - 1.0
    assert keeper.wait_s(last_s) == REST_S and keeper.role is Role.PATIENT
    assert keeper.wait_s(last_s + REST_S) == 0.0
    keeper.take_try(last_s + REST_S, right=False)
    assert keeper.wait_s(last_s + REST_S) == REST_S, "one more, one more rest"
    keeper.take_try(last_s + 2.0 * REST_S, right=True)
    assert keeper.wait_s(last_s + 2.0 * REST_S) == 0.0
