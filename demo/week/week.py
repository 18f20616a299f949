"""Play a week on the demo: what is recorded, the choices of the re-plan, what moves, and that every schedule passes the checker.

python demo/week/week.py [--out DIR] [--moves N]

Every line is typed as a person would type it; only the clock is the demo's.
"""

import argparse
import shlex
import sys
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from shutil import copytree, rmtree
from textwrap import fill
from typing import Any

import click

sys.path.insert(0, str(Path(__file__).parents[2]))  # runs from a clone that nobody has installed

from scheduler.check.check import check_schedule
from scheduler.cli.app import app
from scheduler.cli.text_table import text_table
from scheduler.record.events_file import read_events
from scheduler.record.progress import progress_of
from scheduler.record.shop_now import shop_now
from scheduler.record.standing import standing
from scheduler.rules import RULES
from scheduler.schedule.schedule import Schedule
from scheduler.schedule.store import read_schedule
from scheduler.shop.methods import FILM_STEPS
from scheduler.shop.moments import at_site
from scheduler.shop.needs import needs_of
from scheduler.shop.read import read_shop
from scheduler.shop.shop import Shop

HERE = Path(__file__).parent
COUNTY = HERE.parent / "county"
WIDE = 100


@dataclass(frozen=True)
class Week:
    """Folders of the week, and how long each search may be."""

    shop: Path
    run: Path
    moves: int

    def now(self, scene: Mapping[str, Any]) -> datetime:
        """The clock of a scene."""
        return at_site(datetime.fromisoformat(scene["now"]), read_shop(self.shop).site.tz)

    def state(self, now: datetime) -> tuple[Shop, Schedule]:
        """The shop as it stands, and the schedule that people have."""
        schedule = read_schedule(self.run / "schedule.json")
        return shop_now(read_shop(self.shop), schedule, read_events(self.run).events, now), schedule

    def types(self, line: str) -> None:
        """Type a command; one that fails ends the week."""
        print(f"\n$ coatrun {line}\n")
        try:
            code = app.main(args=shlex.split(line), standalone_mode=False)
        except click.exceptions.Exit as end:
            code = end.exit_code
        if code:
            sys.exit(f"coatrun {line}: exit code {code}")

    def last_film(self, now: datetime) -> str:
        """Film step that was finished last on a unit that has not left its bay."""
        shop = read_shop(self.shop)
        runs = progress_of(standing(read_events(self.run).events), now).runs
        found = []
        for unit in shop.units:
            ended = {name: run.ended_at for (unit_id, name), run in runs.items() if unit_id == unit.unit_id and run.ended_at}
            under_way = any(unit_id == unit.unit_id and run.ended_at is None for (unit_id, _), run in runs.items())
            films = [need.name for need in needs_of(shop, unit.unit_id) if need.step in FILM_STEPS and need.name in ended]
            if films and not under_way and "move_out-coat" not in ended:
                found.append((ended[films[-1]], f"{unit.unit_id}/{films[-1]}"))
        return max(found)[1]


def play(week: Week) -> list[tuple[str, ...]]:
    """Play every scene; return a row of figures for each."""
    week.types(f"plan {week.shop} --out {week.run} --moves {week.moves} --workers 1")
    rows = [_figures(week, "the plan", read_shop(week.shop).site.plan_from)]
    for scene in tomllib.loads((HERE / "week.toml").read_text("utf-8"))["scene"]:
        print(f"\n{'=' * WIDE}\n{scene['title']}\n{'=' * WIDE}\n{fill(scene['says'].strip(), WIDE)}")
        for table, lines in scene.get("rows", {}).items():
            with (week.shop / f"{table}.csv").open("a", encoding="utf-8", newline="") as file:
                file.writelines(f"{line}\n" for line in lines)
        for table in scene.get("emptied", ()):
            path = week.shop / f"{table}.csv"
            path.write_text(path.read_text("utf-8").partition("\n")[0] + "\n", "utf-8")
        now = week.now(scene)
        for line in scene["commands"]:
            said = line.format(
                run=week.run, shop=week.shop, out=week.run.parent, film=week.last_film(now) if "{film}" in line else ""
            )
            week.types(said + _clock(said, scene["now"], week.moves))
        rows.append(_figures(week, scene["title"].partition(":")[0], now))
        print(f"\nThe checker on the schedule at the end of {rows[-1][0]}: {rows[-1][-1]}.")
    return rows


def _clock(line: str, now: str, moves: int) -> str:
    """What a line needs so that the clock is the demo's and the search as long as it is told."""
    command = line.split(maxsplit=1)[0]
    return {"record": f" --now {now}", "replan": f" --now {now} --moves {moves}"}.get(command, "")


def _figures(week: Week, title: str, now: datetime) -> tuple[str, ...]:
    """Check the schedule against the shop as it stood when it was made, and give its figures."""
    shop, schedule = week.state(now)
    if shop.site.plan_from > schedule.plan_from:  # nothing was planned again in this scene
        verdict = "no new plan"
    else:
        report = check_schedule(shop, schedule)
        verdict = f"all {len(RULES)} rules hold" if report.ok else "; ".join(b.says for b in report.breaches[:3])
        if not report.ok:
            sys.exit(f"{title}: the checker refuses the schedule: {verdict}")
    goals = {goal.name: goal.value for goal in schedule.goals}
    events = read_events(week.run).events
    done = sum(run.ended_at is not None for run in progress_of(standing(events), now).runs.values())
    return (
        title,
        str(len(events)),
        str(done),
        f"{goals['lateness']:g}",
        f"{goals['material']:g}",
        verdict,
    )


def main() -> None:
    """Play the week in a folder of its own."""
    parser = argparse.ArgumentParser(description="Play a week on the demo.")
    parser.add_argument("--out", type=Path, default=Path("reports") / "demo-week")
    parser.add_argument("--moves", type=int, default=1000, help="length of each search")
    asked = parser.parse_args()
    out = asked.out
    rmtree(out, ignore_errors=True)
    copytree(COUNTY, out / "shop")
    rows = play(Week(out / "shop", out / "run", asked.moves))
    print(f"\n{'=' * WIDE}\n")
    print(text_table(("scene", "events", "steps done", "late, weighted", "packs", "checker"), rows))
    print(f"\nThe shop folder is {out / 'shop'}, the last schedule and all events are in {out / 'run'}.")
    pages = sorted(out.glob("choices-*.html"), key=lambda page: page.stat().st_mtime)
    print(f"The choices of each re-plan side by side: {', '.join(map(str, pages))}.")
    print(f"Open {out / 'run' / 'index.html'} for the report, with what changed last.")


if __name__ == "__main__":
    main()
