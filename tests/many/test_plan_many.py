"""Many shops at once: the same schedules wherever they are planned, and one that fails takes no other with it."""

import threading
from collections.abc import Iterator, Sequence
from datetime import timedelta
from pathlib import Path
from queue import SimpleQueue
from typing import cast

import pytest

from scheduler.check import check_schedule
from scheduler.many import Answer, Backend, Cluster, End, MissingExtraError, Processes, Serial, plan_many, processes
from scheduler.many.cluster import NoClusterError
from scheduler.many.one_shop import Job, lost
from scheduler.search.settings import Settings
from scheduler.shop.shop import Shop
from scheduler.shop.write import write_shop
from tests.many.work import dies_on_the_second, raises
from tests.random_shop import random_shop

COUNTED = Settings(seed=4, moves=6, time_limit_s=3600, workers=1)


@pytest.fixture(scope="module")
def shops() -> tuple[Shop, ...]:
    """Three small shops."""
    return tuple(random_shop(seed, 2) for seed in (3, 5, 8))


def body(answer: Answer) -> str:
    """A schedule without its provenance, which tells the clock and the machine."""
    assert answer.plan is not None, answer.says
    return answer.plan.schedule.model_dump_json(exclude={"provenance"})


@pytest.mark.parametrize("backend", [Processes(2), Cluster(count=2)], ids=["processes", "cluster"])
def test_schedules_are_those_of_the_serial_run_bit_for_bit(backend: Backend, shops: tuple[Shop, ...]) -> None:
    """Counted moves give the same in two processes, on two workers and here; each passes the checker here."""
    serial = plan_many(shops, COUNTED, Serial())
    elsewhere = plan_many(shops, COUNTED, backend)
    assert [body(answer) for answer in elsewhere] == [body(answer) for answer in serial]
    assert [answer.name for answer in elsewhere] == [f"{n} {shop.site.name}" for n, shop in enumerate(shops, start=1)]
    for shop, answer in zip(shops, elsewhere, strict=True):
        assert answer.plan is not None
        assert check_schedule(shop, answer.plan.schedule).ok


def test_a_shop_that_fails_takes_no_other_with_it(tmp_path: Path, shops: tuple[Shop, ...]) -> None:
    """A folder with a fault, one that is not there, and a shop without a schedule are told beside those that are planned."""
    write_shop(shops[0], tmp_path / "good")
    write_shop(shops[0], tmp_path / "broken")
    (tmp_path / "broken" / "units.csv").write_bytes(b"")
    unit = shops[1].units[0]
    hurried = unit.model_copy(update={"must_leave_by": unit.available_from + timedelta(hours=1)})
    hopeless = shops[1].model_copy(update={"units": (hurried, *shops[1].units[1:])})
    told: list[tuple[int, End]] = []
    answers = plan_many(
        [tmp_path / "broken", tmp_path / "good", tmp_path / "absent", hopeless],
        COUNTED,
        on_answer=lambda number, answer: told.append((number, answer.end)),
    )
    assert [answer.end for answer in answers] == [End.BAD_INPUT, End.PLANNED, End.BAD_INPUT, End.NO_SCHEDULE]
    assert sorted(told) == [(number, answer.end) for number, answer in enumerate(answers)]
    assert any(fault.file == "units.csv" for fault in answers[0].faults)
    assert answers[3].outcome is not None
    assert answers[3].outcome.clash is not None
    assert hopeless.orders[0].order_id in answers[3].outcome.clash.orders


def test_a_process_that_dies_loses_its_own_shop_only(shops: tuple[Shop, ...]) -> None:
    """The second process is gone with no word; the shops before and after it are planned."""
    answers = plan_many(shops, COUNTED, Processes(1, dies_on_the_second))
    assert [answer.end for answer in answers] == [End.PLANNED, End.LOST, End.PLANNED]


def test_an_exception_in_a_process_is_an_answer(shops: tuple[Shop, ...]) -> None:
    """What nobody expected is told in a line."""
    (answer,) = plan_many(shops[:1], COUNTED, Processes(1, raises))
    assert answer.end is End.FAULT
    assert "ZeroDivisionError" in answer.says


def test_ctrl_c_keeps_what_is_there_and_tells_what_was_not_begun(
    shops: tuple[Shop, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Stopped in the second of three: the first is kept, the others are answered as stopped."""

    def plan_or_stop(job: Job) -> Answer:
        if job.name.startswith("2 "):
            raise KeyboardInterrupt
        return Answer(job.name, End.PLANNED)

    monkeypatch.setattr("scheduler.many.backend.plan_one", plan_or_stop)
    answers = plan_many(shops, COUNTED, Serial())
    assert [answer.end for answer in answers] == [End.PLANNED, End.STOPPED, End.STOPPED]


def test_a_process_that_ctrl_c_has_ended_is_no_loss(shops: tuple[Shop, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    """Its process dies, and a moment later this one hears of Ctrl-C too: the shop was stopped, not lost."""

    class Dying:
        def run(self, job: Job) -> Answer:
            threading.Timer(0.05, stop.set).start()
            return lost(job.name)

    stop, lanes = threading.Event(), SimpleQueue[Dying]()
    lanes.put(Dying())
    job = Job("1", shops[0], COUNTED)
    assert processes._in_a_lane(cast("SimpleQueue[processes._Lane]", lanes), job, stop).end is End.STOPPED
    monkeypatch.setattr(processes, "PATIENCE_S", 0.01)
    stop.clear()
    monkeypatch.setattr(Dying, "run", lambda _self, job: lost(job.name))
    assert processes._in_a_lane(cast("SimpleQueue[processes._Lane]", lanes), job, stop).end is End.LOST


def test_an_answer_is_told_as_soon_as_it_is_there(shops: tuple[Shop, ...]) -> None:
    """Answers come in the order of the work and go out in the order of the shops."""

    class Backwards:
        def answers(self, jobs: Sequence[Job]) -> Iterator[tuple[int, Answer]]:
            for number in reversed(range(len(jobs))):
                yield number, Answer(jobs[number].name, End.STOPPED)

    told: list[int] = []
    answers = plan_many(shops, COUNTED, Backwards(), lambda number, _answer: told.append(number))
    assert told == [2, 1, 0]
    assert [answer.name[0] for answer in answers] == ["1", "2", "3"]


def test_nothing_to_plan_needs_no_process() -> None:
    """No shops, no answers."""
    assert plan_many([], COUNTED, Processes(2)) == ()


def test_no_process_is_refused() -> None:
    """Nothing can be planned by nobody."""
    with pytest.raises(ValueError, match="give 1 or more"):
        Processes(0)


def test_without_the_extra_its_name_is_told(shops: tuple[Shop, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    """A missing library is answered with what to install."""
    monkeypatch.setitem(__import__("sys").modules, "distributed", None)
    with pytest.raises(MissingExtraError, match=r"coatrun\[cluster\]"):
        plan_many(shops, COUNTED, Cluster())


def test_an_address_where_nobody_answers_is_told(shops: tuple[Shop, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    """No endless wait for a scheduler that is not there."""
    monkeypatch.setattr("scheduler.many.cluster.PATIENCE_S", 0.3)
    with pytest.raises(NoClusterError, match="dask worker"):
        plan_many(shops, COUNTED, Cluster("tcp://127.0.0.1:9"))
