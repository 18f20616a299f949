"""Several shops as a command plans them: read all, plan somewhere, write each report as it comes, sum up."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.failed import Failed, failure_of
from scheduler.cli.no_plan import no_schedule, refused
from scheduler.cli.planning import write_run
from scheduler.cli.report_place import place_for_report
from scheduler.cli.saved import report_folder
from scheduler.cli.talk import say
from scheduler.cli.text_table import text_table
from scheduler.many import Answer, Backend, Cluster, End, MissingExtraError, Processes, plan_many
from scheduler.many.cluster import NoClusterError
from scheduler.search.settings import Settings
from scheduler.shop.faults import BadInputError

COLUMNS = ("shop", "ended", "weighted days late", "bound", "report")


@dataclass(frozen=True)
class Shop:
    """A shop among the many: its answer, and its report or why there is none."""

    name: str
    answer: Answer
    report: Path | None
    failed: Failed | None


def run_many(folders: Sequence[Path], out: Path, jobs: int, cluster: str | None, settings: Settings) -> list[Shop]:
    """Plan the shops and write the report of each as soon as it is planned.

    Raises
    ------
    Failed
        If two shops would have the same report, a folder of a report holds something else, or there is no cluster.
    """
    reports = [out / report_folder(folder).name for folder in folders]
    _refuse(folders, reports)
    done: dict[int, Shop] = {}

    def finish(number: int, answer: Answer) -> None:
        done[number] = _finished(folders[number], reports[number], answer)

    shops = "1 shop" if len(folders) == 1 else f"{len(folders)} shops"
    say(f"planning {shops}, {jobs} at a time" if cluster is None else f"planning {shops} on {cluster}")
    backend: Backend = Processes(jobs) if cluster is None else Cluster(cluster)
    try:
        plan_many(folders, settings, backend, finish)
    except (MissingExtraError, NoClusterError) as error:
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {error}") from error
    return [done[number] for number in range(len(folders))]


def _refuse(folders: Sequence[Path], reports: Sequence[Path]) -> None:
    """Refuse before a long search what could not be written after it."""
    twice = sorted({str(path) for path in reports if reports.count(path) > 1})
    if twice:
        names = ", ".join(str(folder) for folder, path in zip(folders, reports, strict=True) if str(path) in twice)
        raise Failed(ExitCode.BAD_INPUT, f"coatrun: {names} would have the same report {', '.join(twice)}; plan them apart")
    for path in reports:
        place_for_report(path)


def _finished(folder: Path, report: Path, answer: Answer) -> Shop:
    failed = _failed(answer)
    if answer.plan is not None:
        try:
            write_run(answer.plan, folder, report, None)
        except Exception as error:
            failed = failure_of(error)
    if failed is not None:
        say(f"{folder}: {failed.says}")
        return Shop(str(folder), answer, None, failed)
    say(f"{folder}: planned, {report}")
    return Shop(str(folder), answer, report, None)


def _failed(answer: Answer) -> Failed | None:
    """Why there is no plan, said as ``coatrun plan`` says it."""
    if answer.end is End.PLANNED:
        return None
    if answer.faults:
        return failure_of(BadInputError(answer.faults))
    if answer.outcome is not None:
        return no_schedule(answer.outcome)
    if answer.report is not None:
        return refused(answer.report)
    codes = {End.BAD_INPUT: ExitCode.BAD_INPUT, End.STOPPED: ExitCode.INTERRUPTED}
    return Failed(codes.get(answer.end, ExitCode.INTERNAL), f"coatrun: {answer.says}")


def exit_code(shops: Sequence[Shop]) -> ExitCode:
    """Exit code of the first shop that failed."""
    return next((shop.failed.code for shop in shops if shop.failed is not None), ExitCode.DONE)


def shops_table(shops: Sequence[Shop]) -> str:
    """One line a shop."""
    return text_table(COLUMNS, [_cells(shop) for shop in shops])


def _cells(shop: Shop) -> tuple[str, ...]:
    plan = shop.answer.plan
    if plan is None or shop.report is None:
        return shop.name, shop.answer.end.value if plan is None else "not written", "", "", ""
    value, bound = plan.schedule.goals[0].value, plan.schedule.goals[0].bound
    return shop.name, plan.schedule.provenance.status.value, f"{value:g}", "" if bound is None else f"{bound:g}", str(shop.report)


def shops_data(shops: Sequence[Shop]) -> list[dict[str, object]]:
    """The same for a machine."""
    return [_data(shop) for shop in shops]


def _data(shop: Shop) -> dict[str, object]:
    head: dict[str, object] = {"shop": shop.name, "ended": shop.answer.end.value}
    if shop.failed is not None:
        return {**head, "exit_code": int(shop.failed.code), **shop.failed.data}
    assert shop.answer.plan is not None  # it would have failed
    schedule = shop.answer.plan.schedule
    goals = [goal.model_dump(mode="json") for goal in schedule.goals]
    return {**head, "exit_code": 0, "status": schedule.provenance.status.value, "goals": goals, "report": str(shop.report)}
