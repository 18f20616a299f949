"""coatrun record: what a foreman types, what is refused, what is shown."""

import json
import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import pytest

from scheduler.cli.exit_codes import ExitCode
from scheduler.schedule.store import read_schedule
from scheduler.shop.day_words import moment_text

from .conftest import Planned, Run


class Foreman:
    """Types reports into the folder of a run."""

    def __init__(self, run: Run, planned: Planned) -> None:
        self.run, self.report = run, planned.report
        self.schedule = read_schedule(planned.schedule)
        self.work = sorted((w for w in self.schedule.work if w.unit_id == "U1"), key=lambda w: w.start)
        self.now = f"{self.work[-1].end:%Y-%m-%dT%H:%M}"

    def types(self, *words: object, now: str | None = None) -> tuple[int, str, str]:
        """Exit code, standard output and standard error."""
        result = self.run("record", self.report, *words, "--now", now or self.now)
        return result.exit_code, result.stdout, result.stderr

    def events(self) -> list[dict[str, object]]:
        """What stands in the file."""
        path = self.report / "events.jsonl"
        return [json.loads(line) for line in path.read_text("utf-8").splitlines()] if path.exists() else []


@pytest.fixture
def foreman(run: Run, planned: Planned) -> Foreman:
    """A foreman at the planned shop."""
    return Foreman(run, planned)


def _at(moment: object) -> str:
    return f"{moment:%Y-%m-%dT%H:%M}"


def test_a_step_is_started_and_finished(foreman: Foreman) -> None:
    """Two lines in the file, and the state shows what is under way in between."""
    receive = foreman.work[0]
    assert foreman.types("started", "U1/receive", "--at", _at(receive.start))[0] == 0
    shown = foreman.types(now=_at(receive.start + timedelta(minutes=5)))[1]
    assert "U1/receive" in shown
    assert "under way" in shown
    code, out, _ = foreman.types("finished", "U1/receive", "--at", _at(receive.end), "--by", "Zoë")
    assert (code, out[:9]) == (0, "recorded ")
    assert [(e["kind"], e["by"]) for e in foreman.events()] == [("started", ""), ("finished", "Zoë")]
    assert foreman.events()[0]["people"] == [p.person_id for p in receive.people]


def test_a_reading_is_on_the_record_of_its_unit_at_once(foreman: Foreman) -> None:
    """The page that goes with the unit has it without a new plan, and loses it when it is taken back."""
    page = foreman.report / "units.html"
    film = next(work for work in foreman.work if work.product_id)
    code, out, err = foreman.types("reading", "U1", "--at", _at(film.start), "--air", "21.25", "--steel", "19.5", "--by", "Zoë")
    assert code == 0, err
    assert "21.2\u202f°C" in page.read_text("utf-8")
    assert "Zoë" in page.read_text("utf-8")
    assert foreman.types("correct", out.split()[1], "--withdraw")[0] == 0
    assert "Zoë" not in page.read_text("utf-8")


def test_the_same_report_twice_is_recorded_once_and_said(foreman: Foreman) -> None:
    """Exit code 0: it is no fault."""
    words = ("arrived", "U1", "--at", foreman.now)
    assert foreman.types(*words)[0] == 0
    code, out, err = foreman.types(*words)
    assert (code, out) == (0, "")
    assert "known already" in err
    assert len(foreman.events()) == 1


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("finished", "U9/receive"), "there is no such unit"),
        (("finished", "U1/recieve"), "write receive if that is meant"),
        (("finished", "U1"), "write UNIT/STEP"),
        (("finished", "U1/wash"), "receive, move_in-prepare of the unit are not recorded"),
        (("stopped", "U1/receive"), "add --why"),
        (("stopped", "U1/receive", "--why", "rain"), "is not under way"),
        (("stopped", "U1/receive", "--why", "rain", "--done", "101"), "--done '101': must be 100 or less"),
        (("stopped", "U1/receive", "--why", "rain", "--done", "half"), "--done 'half': not a number"),
        (("failed", "U1/receive", "--cause", "dents"), "is not recorded as finished"),
        (("started", "U1/receive", "--at", "2031-01-01T08:00"), "lies in the future"),
        (("started", "U1/receive", "--at", "2021-01-01T08:00"), "lies before the plan begins"),
        (("started", "U1/receive", "--at", "half past"), "not a time"),
        (("started", "U1/receive", "--ml", "3"), "does not go with started"),
        (("away", "Alma", "--at", "08:00", "--until", "12:00"), "say with --from when it began"),
        (("finished", "U1/receive", "--at", "2026-03-03T08:00", "--from", "2026-03-03T09:00"), "but was started at"),
        (("away", "W99", "--until", "tomorrow"), "there is no such person"),
        (("away", "W1", "--from", "2026-03-04", "--until", "2026-03-03"), "ends before it begins"),
        (("away", "W1", "--until", "2026-10-25T02:30"), "2026-10-25T02:30+02:00 or 2026-10-25T02:30+01:00"),
        (("away", "W1", "--until", "2026-03-29T02:30"), "there is no 02:30 on 2026-03-29"),
        (("down", "C9", "--until", "tomorrow"), "the shop has no such thing"),
        (("down", "G#2", "--until", "tomorrow"), "give the piece a row of its own"),
        (("used", "L1#001", "--ml", "1501"), "more than L1#001 holds, 1500 mL"),
        (("used", "L1#001", "--ml", "many"), "not a number"),
        (("used", "L1#9999", "--ml", "9"), "name one up to L1#"),
        (("delivered", "L1", "--packs", "3", "--expires", "2020-01-01"), "is over since before it came"),
        (("delivered", "L1", "--packs", "3", "--expires", "2099-01-01"), "L1 is on the shelf, good until"),
        (("failed", "U1/coat-1", "--cause", "runs", "--share", "0"), "--share '0'"),
        (("used", "L1#001", "--ml", "9", "--left", "open"), "not a word that is known here"),
        (("delivered", "L9", "--packs", "3", "--expires", "2027-01-01"), "a new lot needs its product"),
        (("delivered", "L9", "--packs", "0", "--expires", "2027-01-01", "--product", "lining"), "must be 1 or more"),
        (("rejected", "L9"), "there is no such lot"),
        (("reading", "U1"), "nothing was measured"),
        (("reading", "U1", "--steel", "200"), "--steel '200': must be 120 or less"),
        (("reading", "U1", "--dft", "80 thin"), "--dft 'thin': not a number"),
        (("forecast", "--from", "2026-03-03T08:00", "--air", "99"), "--air '99.0': must be 60 or less"),
        (("forecast", "--from", "2026-03-03T08:00", "--rain", "much"), "--rain 'much': not a number"),
        (("forecast",), "nothing is said of it"),
        (("correct", "12345678", "--withdraw"), "there is no such event"),
        (("sang",), "not a word that is known here"),
    ],
)
def test_what_cannot_be_is_refused_with_the_cure(foreman: Foreman, words: tuple[str, ...], says: str) -> None:
    """One line for each fault, exit code 3, and nothing is recorded."""
    code, out, err = foreman.types(*words)
    assert code == ExitCode.BAD_INPUT, out + err
    assert says in err
    assert "Cure:" in err
    assert not foreman.events()


def test_a_day_that_went_as_planned_is_one_report(foreman: Foreman) -> None:
    """All but what is excepted, and what hangs on it; a second time there is nothing more."""
    until = foreman.work[3].end
    code, _, _ = foreman.types("as-planned", "--until", _at(until), "--except", "U2")
    assert code == 0
    assert {e["unit_id"] for e in foreman.events()} == {"U1"}
    done = [e["step"] for e in foreman.events() if e["kind"] == "finished"]
    assert done == [w.name for w in foreman.work if w.end <= until]
    count = len(foreman.events())
    assert "nothing more until then" in foreman.types("as-planned", "--until", _at(until), "--except", "U2")[2]
    assert len(foreman.events()) == count


def test_a_correction_is_a_report_too(foreman: Foreman) -> None:
    """The time is put right, then the whole withdrawn; nothing in the file is changed, and an old id says what to do."""
    receive = foreman.work[0]
    foreman.types("finished", "U1/receive", "--at", _at(receive.end))
    first = str(foreman.events()[0]["id"])
    before = (foreman.report / "events.jsonl").read_bytes()
    assert foreman.types("correct", first, "--at", _at(receive.end + timedelta(minutes=5)))[0] == 0
    assert (foreman.report / "events.jsonl").read_bytes().startswith(before)
    second = str(foreman.events()[1]["id"])
    assert f"correct {second}" in foreman.types("correct", first, "--withdraw")[2]
    assert foreman.types("correct", second, "--withdraw")[0] == 0
    code, out, _ = foreman.types("--json")
    state = json.loads(out)
    assert (code, state["standing"], len(state["events"])) == (0, [], 3)
    assert "corrected" in foreman.types("--list")[1]


def test_a_file_of_reports_is_taken_whole_or_not_at_all(foreman: Foreman, tmp_path: Path) -> None:
    """Both faults are told with their rows; with --keep-good the good rows are recorded."""
    receive = foreman.work[0]
    rows = [
        "what,about,at,cause,steel",
        f"finished,U1/receive,{_at(receive.end)},,",
        f"finished,U7/receive,{_at(receive.end)},,",
        f"reading,U1,{_at(receive.end)},,14.5",
        f"failed,U1/coat-1,{_at(receive.end)},runs,",
    ]
    path = tmp_path / "monday.csv"
    path.write_text("\n".join(rows) + "\n", "utf-8")
    code, _, err = foreman.types("--from-file", path)
    assert code == ExitCode.BAD_INPUT
    assert "2 faults" in err
    assert "Nothing was recorded" in err
    assert not foreman.events()
    code, out, _ = foreman.types("--from-file", path, "--keep-good", "--json")
    answer = json.loads(out)
    assert code == ExitCode.BAD_INPUT
    assert [(fault["file"], fault["row"]) for fault in answer["faults"]] == [("monday.csv", 3), ("monday.csv", 5)]
    assert [e["kind"] for e in foreman.events()] == ["finished", "reading"]


def test_a_plan_made_again_keeps_what_was_recorded(foreman: Foreman, planned: Planned) -> None:
    """The events stay in the folder of the run when its report is replaced."""
    foreman.types("arrived", "U1", "--at", foreman.now)
    again = foreman.run("plan", planned.shop, "--out", planned.report, "--moves", 5, "--workers", 1)
    assert again.exit_code == 0, again.stderr
    assert [e["kind"] for e in foreman.events()] == ["arrived"]


def test_a_bay_holds_no_more_than_its_places(foreman: Foreman) -> None:
    """U2 is brought where U1 still is, or into a bay that is for something else."""
    move = next(work for work in foreman.work if work.name == "move_in-prepare")
    bay = next(stay for stay in foreman.schedule.stays if stay.unit_id == "U1" and stay.stage == "prepare").bay_id
    foreman.types("as-planned", "--until", _at(move.end), "--except", "U2")
    assert foreman.types("finished", "U2/receive", "--at", _at(move.end), "--from", _at(move.start))[0] == 0
    after = _at(move.end + timedelta(minutes=15))
    code, _, err = foreman.types("finished", "U2/move_in-prepare", "--at", after, "--bay", "C1")
    assert (code, "prepare is not done there" in err) == (ExitCode.BAD_INPUT, True), err
    places = json.loads((foreman.report / "run.json").read_text("utf-8"))["shop"]
    rows = (foreman.report / places / "bays.csv").read_text("utf-8").splitlines()
    room = int(next(row for row in rows if row.startswith(f"{bay},")).split(",")[3])
    code, _, err = foreman.types("finished", "U2/move_in-prepare", "--at", after, "--bay", bay)
    assert (code, "it has room for 1, and U1 is there" in err) == ((ExitCode.BAD_INPUT, True) if room == 1 else (0, False)), err


def test_what_is_under_way_ends_as_it_was_expected(foreman: Foreman, planned: Planned) -> None:
    """Also after a new plan, in which it is history: begun in one report of the day, finished in the next."""
    receive = foreman.work[0]
    half = _at(receive.start + (receive.end - receive.start) / 2)
    assert foreman.types("as-planned", "--except", "U2", now=half)[0] == 0
    again = foreman.run("replan", planned.shop, "--told", planned.report, "--take", "best", "--now", half, "--moves", 5)
    assert again.exit_code == 0, again.stderr
    foreman.types("as-planned", "--until", _at(receive.end), "--except", "U2")
    assert [(e["kind"], e["step"]) for e in foreman.events()][:2] == [("started", "receive"), ("finished", "receive")]


@pytest.mark.parametrize(
    ("said", "says"),
    [
        (("--done", "60%"), "has no rate over its area"),
        (("--done", "100"), "record that it was finished"),
        (("--ml", "100"), "sprays nothing"),
    ],
)
def test_no_share_of_a_move_can_be_done(foreman: Foreman, said: tuple[str, ...], says: str) -> None:
    """It was stopped, and is planned again as a whole."""
    receive = foreman.work[0]
    foreman.types("started", "U1/receive", "--at", _at(receive.start))
    code, _, err = foreman.types("stopped", "U1/receive", "--at", _at(receive.end), "--why", "rain", *said)
    assert (code, says in err, "Cure:" in err) == (ExitCode.BAD_INPUT, True, True), err
    assert foreman.types("stopped", "U1/receive", "--at", _at(receive.end), "--why", "rain")[0] == 0


def test_a_coat_is_stopped_with_a_share_of_it_done_and_the_rest_reported(foreman: Foreman, planned: Planned) -> None:
    """By what had been used; what was stopped is over, what is left has a name, and a correction of the share counts."""
    coat = next(work for work in foreman.work if work.product_id)
    foreman.types("as-planned", "--until", _at(coat.start), "--except", "U2", now=_at(coat.start))
    at, later = coat.start + (coat.end - coat.start) / 2, coat.end + timedelta(days=1)
    ml = f"{sum(d.purge_ml + d.sprayed_ml for d in coat.draws) / 4:.0f}"
    code, out, err = foreman.types("stopped", coat.work_id, "--at", _at(at), "--why", "hose", "--ml", ml)
    assert (code, "25 % of it is done" in out) == (0, True), out + err
    assert f"what is left of it is {coat.name}-r1" in foreman.types("started", coat.work_id, "--at", _at(later))[2]
    last = str(foreman.events()[-1]["id"])
    assert "50 % of it is done" in foreman.types("correct", last, "--done", "50%")[1]
    again = foreman.run("replan", planned.shop, "--told", planned.report, "--take", "repair", "--now", _at(at), "--moves", 5)
    assert again.exit_code == 0, again.stderr
    rest = next(work for work in read_schedule(planned.schedule).work if work.name == f"{coat.name}-r1")
    assert rest.volume_ml == pytest.approx(coat.volume_ml / 2)
    code, out, err = foreman.types("finished", rest.work_id, "--at", _at(later), "--from", _at(later - timedelta(hours=1)))
    assert (code, f"{rest.work_id} finished" in out) == (0, True), out + err


def test_what_was_withdrawn_counts_again_when_it_is_told_behind_the_withdrawal(foreman: Foreman) -> None:
    """The report alone is known already, and it is said why it does not stand; a withdrawal cannot be withdrawn or changed."""
    said = ("finished", "U1/receive", "--at", _at(foreman.work[0].end))
    foreman.types(*said)
    first = str(foreman.events()[0]["id"])
    foreman.types("correct", first, "--withdraw")
    withdrawal = str(foreman.events()[1]["id"])
    code, _, err = foreman.types(*said)
    assert (code, f"withdrawn since, by {withdrawal}" in err, len(foreman.events())) == (0, True, 2), err
    assert "withdrew an event itself" in foreman.types("correct", withdrawal, "--withdraw")[2]
    assert "tell the whole event anew" in foreman.types("correct", withdrawal, "--at", _at(foreman.work[0].end))[2]
    assert foreman.types("correct", withdrawal, *said)[0] == 0
    last = str(foreman.events()[2]["id"])
    assert json.loads(foreman.types("--json")[1])["standing"] == [last]
    assert f"has been corrected already, by {last}" in foreman.types("correct", withdrawal, "--withdraw")[2]


def test_a_step_cannot_begin_while_another_was_under_way_that_has_ended_since(foreman: Foreman) -> None:
    """Told out of order: both times are named."""
    receive, move = foreman.work[:2]
    foreman.types("finished", "U1/receive", "--from", _at(receive.start), "--at", _at(receive.end))
    foreman.types("started", move.work_id, "--at", _at(move.start))
    foreman.types("finished", move.work_id, "--at", _at(move.end))
    code, _, err = foreman.types("started", foreman.work[2].work_id, "--at", _at(move.start + timedelta(minutes=5)))
    assert (code, "correct one of the times" in err) == (ExitCode.BAD_INPUT, True), err
    assert f"to {moment_text(move.end)}" in err


def test_two_who_record_at_the_same_moment_are_both_heard(foreman: Foreman) -> None:
    """Six processes, each with a report of its own: six whole lines, one after the other."""
    said = ("--now", foreman.now, "reading", "U1", "--steel")
    command = [sys.executable, "-m", "scheduler.cli", "record", str(foreman.report), *said]
    running = [subprocess.Popen([*command, str(10 + n)], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE) for n in range(6)]
    errors = [process.communicate(timeout=60)[1] for process in running]
    assert [process.returncode for process in running] == [0] * 6, errors
    assert sorted(float(str(event["steel_c"])) for event in foreman.events()) == [10, 11, 12, 13, 14, 15]


def test_a_half_written_line_and_a_line_that_was_changed_lose_nothing_else(foreman: Foreman) -> None:
    """The end goes aside when the next report comes; both are named with their line, and what stood before them stands."""
    for steel in (11, 12, 13):
        foreman.types("reading", "U1", "--steel", steel)
    path = foreman.report / "events.jsonl"
    lines = path.read_text("utf-8").splitlines(keepends=True)
    path.write_text(lines[0] + lines[1].replace("12.0", "21.0") + lines[2] + lines[0][:30], "utf-8")
    code, out, err = foreman.types("--json")
    assert (code, len(json.loads(out)["standing"])) == (0, 2)
    assert "line 2 of events.jsonl does not count: it was changed by hand" in err
    assert "torn line of 30 bytes" in err
    assert foreman.types("reading", "U1", "--steel", 14)[0] == 0
    assert len(json.loads(foreman.types("--json")[1])["standing"]) == 3
    assert (foreman.report / "events.torn").read_text("utf-8").strip() == lines[0][:30]
