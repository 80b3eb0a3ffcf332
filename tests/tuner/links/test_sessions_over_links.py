# SPDX-License-Identifier: BSD-3-Clause
"""Brain and session over a real terminal and a real broker: tuned, stopped, lost, found again, whatever fails."""

import random
import time

import pytest

from ringwright.errors import StorageError
from ringwright.tuner.brain import FindReference, GoTo, Phase, Release, Tune
from ringwright.tuner.journal import read_journal
from ringwright.tuner.journal_file import JournalOnDisk
from ringwright.tuner.links.address import Access, BrokerAddress, SerialAddress
from ringwright.tuner.links.open import open_link
from ringwright.tuner.parts import JournalInMemory
from tests.tuner.links.far_ends import PASSWORD, USER, Broker, BrokerEnd, TwinAtTheFarEnd, until
from tests.tuner.links.far_sessions import FarSession, OnACable, PersonAtTheFarEnd, far_parts


@pytest.fixture
def cable(tmp_path):
    made = OnACable(tmp_path)
    yield made
    made.close()


@pytest.fixture
def begin(cable):
    """Begin a session on the cable."""
    made: list[FarSession] = []

    def begin_one(**more):
        link = open_link(Access(SerialAddress(str(cable.place.port))))
        made.append(FarSession(link, cable.person, **more))
        return made[-1]

    yield begin_one
    for each in made:
        each.session.close()


def resting(one):
    one.until(lambda: one.phase is Phase.RESTING and one.session.state.contact.is_limited)


def going(one, cable, frequency=5.36e6):
    one.until(lambda: one.session.state.is_sure and not cable.board.is_moving())
    one.session.ask(GoTo(frequency), viewer=one.me)
    one.until(cable.board.is_moving)


def test_tuned_stopped_pulled_and_found_again_over_a_cable(cable, begin):
    one = begin()
    resting(one)
    one.do(Tune(10.125e6), "tuned")
    assert "key low" in one.words()
    going(one, cable)
    one.session.stop()
    one.until(lambda: not cable.board.is_moving() and one.phase is Phase.STOPPED)
    one.do(Release(), "released")
    going(one, cable)
    cable.place.cut()
    one.until(lambda: "link lost" in one.words())
    until(lambda: not cable.board.is_moving())  # by itself: it hears nobody
    assert cable.board.stopped_by() == "heartbeat"
    cable.place.mend()
    one.until(lambda: one.phase is Phase.RESTING)
    one.do(GoTo(10.125e6), "arrived")
    assert cable.board.world.monitor.acts == {}


@pytest.mark.needs("mosquitto", "mosquitto_passwd")
def test_tuned_stopped_and_found_again_through_a_broker_that_is_killed(tmp_path):
    broker = Broker(tmp_path)
    broker.start()
    world, twin = far_parts()
    ends: list[BrokerEnd] = []
    board = TwinAtTheFarEnd(world, say=lambda line: ends[0].publish(line) if ends else None)
    ends.append(BrokerEnd(broker.port, "ring", hear=board.hear))
    where = BrokerAddress(host="127.0.0.1", port=broker.port, user=USER, name="ring", is_tls=False)
    one = FarSession(open_link(Access(where, PASSWORD)), PersonAtTheFarEnd(board, twin))
    try:
        resting(one)
        one.do(Tune(5.36e6), "tuned")
        one.until(lambda: one.session.state.is_sure)
        one.session.ask(GoTo(10.125e6), viewer=one.me)
        one.until(board.is_moving)
        one.session.stop()
        one.until(lambda: not board.is_moving() and one.phase is Phase.STOPPED)
        one.do(Release(), "released")
        one.session.ask(GoTo(10.125e6), viewer=one.me)
        one.until(board.is_moving)
        broker.kill()
        one.until(lambda: one.phase is Phase.AWAY)
        until(lambda: not board.is_moving())
        assert board.stopped_by() == "heartbeat"
        broker.start()
        one.until(lambda: one.phase is Phase.RESTING)
        one.do(GoTo(10.125e6), "arrived")
        assert world.monitor.acts == {}
    finally:
        one.session.close()
        ends[0].leave(politely=True)
        board.close()
        broker.kill()


def test_a_board_that_starts_anew_in_a_move_makes_the_position_doubtful_until_the_end_stop(cable, begin):
    one = begin()
    resting(one)
    going(one, cable)
    cable.board.do(lambda world: world.fail_supply())
    one.until(lambda: "board restarted" in one.words())
    assert not one.session.state.is_sure
    one.until(lambda: one.phase is Phase.RESTING and one.session.state.contact.is_limited)
    one.do(FindReference(), "referenced")
    assert one.session.state.is_sure
    assert cable.board.world.monitor.acts == {}


def test_garbage_between_the_lines_harms_nothing(cable, begin):
    one = begin()
    resting(one)
    rng = random.Random(8)
    one.session.ask(GoTo(10.125e6), viewer=one.me)

    def is_there():
        if rng.random() < 0.05:  # a tenth of the statuses is spoilt
            cable.place.write(bytes(rng.randrange(256) for _ in range(rng.randrange(60))))
            cable.board.hear("".join(chr(rng.randrange(1, 300)) for _ in range(rng.randrange(60))))
        time.sleep(0.003)
        return "arrived" in one.words()

    one.until(is_there)
    assert not set(one.words()) & {"stuck", "steps lost", "position doubted"}
    assert one.session.state.is_sure
    assert cable.board.world.monitor.acts == {}


def test_a_wall_clock_set_back_is_caught_up_with(cable, begin):
    """The board obeys only numbers above all that it has seen, and they begin at the wall clock's."""
    first = begin()
    resting(first)
    first.session.close()
    second = begin(wall=1_000_000)  # 1970
    second.until(lambda: second.session.state.contact.is_limited and second.phase is Phase.RESTING)
    second.do(GoTo(10.125e6), "arrived")


class FullDisk(JournalInMemory):
    """Keeps nothing while it is full."""

    is_full = False

    def append(self, line):
        if self.is_full:
            raise StorageError("drives/terrace.journal: the position cannot be kept: No space left on device")
        super().append(line)


def test_on_a_full_disk_nothing_moves_and_that_is_said_once(cable, begin):
    disk = FullDisk()
    one = begin(journal=disk)
    resting(one)
    disk.is_full = True
    one.session.ask(GoTo(10.125e6), viewer=one.me)
    one.until(lambda: any("No space left" in note for note in one.notes()))
    one.until(lambda: one.phase is Phase.STOPPED)
    assert not cable.board.is_moving()
    one.do(Release(), "released")
    one.do(GoTo(10.125e6), "stopped")  # still full
    assert not cable.board.is_moving()
    assert len(one.notes()) == 1
    disk.is_full = False
    one.do(Release(), "released")
    one.session.ask(GoTo(10.125e6), viewer=one.me)
    one.until(lambda: "arrived" in one.words())


def test_what_the_journal_on_disk_says_is_where_the_drive_rests(cable, begin, tmp_path):
    path = tmp_path / "ring.journal"
    one = begin(journal=JournalOnDisk(path))
    resting(one)
    one.do(GoTo(10.125e6), "arrived")
    rest = cable.board.world.board.at
    kept = read_journal(path.read_bytes()).kept
    assert kept is not None
    assert (kept.at, kept.to, kept.is_sure) == (rest, None, True)
    going(one, cable)
    kept = read_journal(path.read_bytes()).kept
    assert kept is not None
    assert kept.at == rest
    assert kept.to is not None  # on its way: a power cut now leaves a doubt
