"""Plan many shops: one interface over every place where they may be planned."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from scheduler.many.answer import Answer, End
from scheduler.many.backend import Backend, Serial
from scheduler.many.one_shop import Job
from scheduler.search.settings import Settings
from scheduler.shop.faults import BadInputError
from scheduler.shop.read import read_shop
from scheduler.shop.shop import Shop


def plan_many(
    shops: Sequence[Path | Shop],
    settings: Settings,
    backend: Backend | None = None,
    on_answer: Callable[[int, Answer], None] = lambda _number, _answer: None,
) -> tuple[Answer, ...]:
    """Plan many shops.

    With counted moves the schedules are the same in every backend, bit for bit.

    Parameters
    ----------
    shops : sequence of Path or Shop
        Shop folders, workbooks, or shops that have been read.
    settings : Settings
        The same for each; where several are planned at a time, each has one core.
    backend : Backend, optional
        Where they are planned; one after the other in this process if not given.
    on_answer : callable
        Told of the number of each shop and its answer as soon as it is there.

    Returns
    -------
    tuple of Answer
        In the order of ``shops``. A shop that fails is answered as failed, and the others are planned all the same.
    """
    if backend is not None and not isinstance(backend, Serial):
        settings = replace(settings, cores=1)
    answers: dict[int, Answer] = {}
    jobs: dict[int, Job] = {}
    for number, shop in enumerate(shops):
        read = _job(number, shop, settings)
        if isinstance(read, Job):
            jobs[number] = read
        else:
            answers[number] = read
            on_answer(number, read)
    numbers = list(jobs)
    for place, answer in (backend or Serial()).answers(list(jobs.values())) if jobs else ():
        answers[numbers[place]] = answer
        on_answer(numbers[place], answer)
    return tuple(answers[number] for number in range(len(shops)))


def _job(number: int, shop: Path | Shop, settings: Settings) -> Job | Answer:
    if isinstance(shop, Shop):
        return Job(f"{number + 1} {shop.site.name}", shop, settings)
    try:
        return Job(str(shop), read_shop(shop), settings)
    except BadInputError as error:
        says = f"{len(error.faults)} fault{'' if len(error.faults) == 1 else 's'}; the first: {error.faults[0].text()}"
        return Answer(str(shop), End.BAD_INPUT, says, faults=tuple(error.faults))
    except OSError as error:
        return Answer(str(shop), End.BAD_INPUT, f"{error.filename or shop}: {error.strerror}")
