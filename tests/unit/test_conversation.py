"""The host's side of the protocol, as transcripts: each byte said is expected, and bytes left over fail the test."""

from __future__ import annotations

import struct
import zlib

import numpy as np

from weightshare.model import Channel, Chunk, Condition, Identity, Quantity, Side
from weightshare.scales.conversation import Conversation, Judge, Playback, Stage
from weightshare.scales.message import Message, Reply, Result

MS = 1_000_000
SCALE = Identity("0011223344556677", (1, 2, 3), 5, 1_000_000, 80.0, (Channel(Quantity.FORCE, Side.LEFT),), "left")
RESTARTED = Identity("0011223344556677", (1, 2, 3), 6, 1_000_000, 80.0, (Channel(Quantity.FORCE, Side.LEFT),), "left")
OTHER = Identity("00000000000000ff", (1, 2, 3), 5, 1_000_000, 80.0, (Channel(Quantity.FORCE, Side.LEFT),), "other")
# From the protocol's page, as they go over a byte stream.
GOLDEN_PING = bytes.fromhex("0a 85 04 03 02 01 e5 b3 31 77 00")
GOLDEN_START = bytes.fromhex("09 82 09 20 03 3b ef 48 65 00")


def stream(body: bytes) -> bytes:
    """A frame as on a stream, by the definition: CRC-32 after the body, each zero replaced by the way to the next."""
    frame = body + struct.pack("<I", zlib.crc32(body))
    return b"".join(bytes([len(part) + 1]) + part for part in frame.split(b"\0")) + b"\0"


def who(token: int) -> bytes:
    return stream(bytes([0x81, token]))


def start(token: int) -> bytes:
    return stream(bytes([0x82, token, 0, 0]))


def stop(token: int) -> bytes:
    return stream(bytes([0x83, token]))


def ping(nonce: int) -> bytes:
    return stream(struct.pack("<BI", 0x85, nonce))


def samples() -> Chunk:
    return Chunk(
        np.zeros(1, np.uint16),
        np.zeros(1, np.uint32),
        np.full(1, 12_500, np.uint32),
        np.zeros(1, np.int64),
        np.zeros((1, 4, 1), np.int32),
    )


class Script:
    """Leads a conversation through time; every byte that it says has to be expected by `says`."""

    def __init__(self, judge: Judge | None = None, kind: type[Conversation] = Conversation) -> None:
        self.now_ns = 7_000 * MS
        self.talk = kind(self.now_ns, judge)
        self.said = b""

    def at(self, milliseconds: int) -> Script:
        """Go on to so many ms after the start, asking at each instant that the conversation itself names."""
        end_ns = 7_000 * MS + milliseconds * MS
        self.said += self.talk.due(self.now_ns)
        while (next_ns := self.talk.next_ns()) is not None and next_ns <= end_ns:
            assert next_ns >= self.now_ns
            self.now_ns = next_ns
            before = len(self.said)
            self.said += self.talk.due(next_ns)
            assert len(self.said) > before or self.talk.next_ns() != next_ns, "it asks to be asked, and says nothing"
        self.now_ns = end_ns
        self.said += self.talk.due(end_ns)
        return self

    def hears(self, message: Message) -> Script:
        self.talk.note_bytes(10)
        self.talk.hear(message, self.now_ns)
        self.said += self.talk.due(self.now_ns)
        return self

    def says(self, *expected: bytes) -> Script:
        assert self.said == b"".join(expected)
        self.said = b""
        return self

    def until_sampling(self) -> Script:
        self.at(0).says(who(1)).hears(SCALE).says(start(2)).hears(Reply(0x82, 2, Result.DONE)).says(ping(1))
        return self.hears(samples()).says()


def test_the_golden_frames_are_what_this_encoder_makes() -> None:
    assert ping(0x01020304) == GOLDEN_PING
    assert stream(bytes([0x82, 9]) + struct.pack("<H", 800)) == GOLDEN_START


def test_it_asks_starts_and_pings() -> None:
    script = Script().until_sampling()
    assert script.talk.stage is Stage.SAMPLING
    assert script.talk.identity == SCALE
    assert script.talk.complaint(script.now_ns) == ""


def test_who_is_asked_again_each_half_second_and_silence_is_told_after_three() -> None:
    script = Script().at(1600).says(who(1), who(2), who(3), who(4))
    assert script.talk.complaint(script.now_ns) == ""
    script.at(3000).says(who(5), who(6), who(7))
    assert script.talk.complaint(script.now_ns).startswith("silent: ")
    script.hears(SCALE).says(start(8))
    assert script.talk.complaint(script.now_ns) == ""


def test_noise_is_told_from_silence() -> None:
    script = Script().at(2900)
    script.talk.note_bytes(500)
    script.at(3000)
    assert script.talk.complaint(script.now_ns).startswith("only noise comes; ")


def test_a_scale_that_does_not_say_which_it_is() -> None:
    script = Script().at(100).hears(Condition(0, 0, None, 0, 0)).at(3000)
    assert "does not say which it is" in script.talk.complaint(script.now_ns)


def test_another_protocol_version_is_refused_and_asked_again() -> None:
    newer = Identity("", (0, 0, 0), 0, 0, 0.0, (), protocol=2)
    script = Script().at(0).says(who(1)).hears(newer).says()
    assert script.talk.stage is Stage.REFUSED
    assert "protocol version 2, this program version 1" in script.talk.complaint(script.now_ns)
    assert script.talk.close() == b""
    script.at(4000).says(who(2), who(3)).hears(SCALE).says(start(4))
    assert script.talk.complaint(script.now_ns) == ""
    assert not script.talk.is_lost(script.now_ns)


def test_a_scale_that_the_judge_turns_down_is_not_started() -> None:
    script = Script(lambda identity: f"no calibration for {identity.device_id}").at(0).says(who(1)).hears(SCALE).says()
    assert script.talk.complaint(script.now_ns) == "no calibration for 0011223344556677"
    script.hears(samples()).at(1500).says()
    assert script.talk.stage is Stage.REFUSED


def test_another_scale_in_the_middle_is_judged_anew() -> None:
    script = Script(lambda identity: None if identity == SCALE else "another scale").until_sampling()
    script.hears(OTHER).says()
    assert script.talk.complaint(script.now_ns) == "another scale"


def test_start_is_said_three_times_and_then_who() -> None:
    script = Script().at(0).hears(SCALE).says(who(1), start(2))
    script.at(1600).says(start(2), start(2), who(3))
    script.hears(SCALE).says(start(4))
    script.at(4999)
    assert not script.talk.is_lost(script.now_ns)
    assert script.at(5000).talk.is_lost(script.now_ns)


def test_two_answers_to_who_start_it_once() -> None:
    script = Script().at(600).says(who(1), who(2)).hears(SCALE).hears(SCALE).says(start(3))
    script.hears(Reply(0x82, 3, Result.DONE)).says(ping(1)).hears(SCALE).says()


def test_a_reply_to_something_else_is_passed_over() -> None:
    script = Script().at(0).hears(SCALE).says(who(1), start(2))
    for reply in (Reply(0x82, 1, Result.DONE), Reply(0x81, 2, Result.DONE), Reply(0x83, 2, Result.UNKNOWN_COMMAND)):
        script.hears(reply).says()
    assert script.talk.stage is Stage.STARTING


def test_samples_stand_in_for_a_lost_reply() -> None:
    script = Script().at(0).hears(SCALE).says(who(1), start(2)).hears(samples()).says(ping(1))
    assert script.talk.stage is Stage.SAMPLING


def test_errors_in_a_reply_are_told_in_words() -> None:
    for result, words in (
        (Result.UNKNOWN_COMMAND, "does not know how to start"),
        (Result.WRONG_LENGTH, "too short or too long"),
        (Result.OUT_OF_RANGE, "no sampling rate of its own"),
    ):
        script = Script().at(0).hears(SCALE).says(who(1), start(2)).hears(Reply(0x82, 2, result)).says()
        assert words in script.talk.complaint(script.now_ns)
        assert script.talk.stage is Stage.REFUSED


def test_a_busy_scale_is_asked_again() -> None:
    script = Script().at(0).hears(SCALE).says(who(1), start(2)).hears(Reply(0x82, 2, Result.BUSY)).says()
    assert "busy" in script.talk.complaint(script.now_ns)
    script.at(500).says(start(2)).hears(Reply(0x82, 2, Result.DONE)).says(ping(1))
    assert script.talk.complaint(script.now_ns) == ""


def test_pings_are_quick_for_ten_seconds_and_then_slow() -> None:
    script = Script().until_sampling()
    for milliseconds in range(500, 20_501, 500):
        script.at(milliseconds).hears(samples())
    quick = [ping(nonce) for nonce in range(2, 42)]
    slow = [ping(nonce) for nonce in range(42, 47)]
    # at 250, 500 ... 10,000 ms, then at 12, 14, 16, 18 and 20 s, each a tenth of a second later at most
    script.says(*quick, *slow)


def test_a_blink_is_asked_for_once() -> None:
    script = Script().until_sampling()
    script.talk.blink(1500)
    script.at(1).says(stream(struct.pack("<BBH", 0x84, 3, 1500)))
    script.at(2).says()
    script.talk.blink(100_000)
    script.at(3).says(stream(struct.pack("<BBH", 0x84, 4, 65_535)))


def test_samples_that_stay_away_are_asked_after_and_then_the_link_is_lost() -> None:
    script = Script().until_sampling()
    script.at(999).says(ping(2), ping(3), ping(4))
    assert not script.talk.is_interrupted(script.now_ns)
    script.at(1000)
    assert script.talk.is_interrupted(script.now_ns)
    # nothing came that a PING could be timed by: it goes out a tenth of a second after its beat
    script.at(1099).says(who(3))
    script.at(1100).says(ping(5))
    script.at(4999)
    assert not script.talk.is_lost(script.now_ns)
    script.at(5000)
    assert script.talk.is_lost(script.now_ns)


def test_a_scale_that_stopped_by_itself_is_started_again() -> None:
    script = Script().until_sampling().at(1040)
    script.said = b""
    script.hears(SCALE).says(start(4)).hears(Reply(0x82, 4, Result.DONE)).hears(samples()).says()
    script.at(1249).says(ping(5))
    assert not script.talk.is_interrupted(script.now_ns)


def test_a_scale_that_answers_all_but_sends_nothing_is_lost_too() -> None:
    script = Script().until_sampling()
    for second in range(1, 5):
        script.at(second * 1000).hears(SCALE).hears(Reply(0x82, 2 + 2 * second, Result.DONE))
        assert script.talk.stage is Stage.SAMPLING
    assert script.at(5000).talk.is_lost(script.now_ns)


def test_a_restarted_scale_is_started_again_though_samples_are_fresh() -> None:
    script = Script().until_sampling().hears(RESTARTED).says(start(3))
    assert script.talk.identity == RESTARTED


def test_closing_says_stop_only_where_samples_may_come() -> None:
    script = Script().at(0).says(who(1))
    assert script.talk.close() == b""
    assert Script().until_sampling().talk.close() == stop(3)
    assert Script().at(0).hears(SCALE).talk.close() == stop(3)


def test_the_answer_to_stop_is_noted() -> None:
    script = Script().until_sampling()
    script.talk.close()
    assert not script.hears(Reply(0x83, 2, Result.DONE)).talk.stopped
    assert script.hears(Reply(0x83, 3, Result.DONE)).talk.stopped


def test_tokens_wrap() -> None:
    script = Script().at(255 * 500)
    assert script.said == b"".join(who((i + 1) & 0xFF) for i in range(256))


def test_a_played_back_record_is_only_listened_to() -> None:
    script = Script(kind=Playback).at(0).hears(SCALE).hears(samples()).at(60_000).says()
    assert script.talk.stage is Stage.SAMPLING
    assert not script.talk.is_lost(script.now_ns)
    assert script.talk.close() == b""
