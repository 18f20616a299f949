"""coatrun goal-costs: what each goal of a plan costs the one after it."""

from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from scheduler.cli.command import command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.saved import shop_and_run
from scheduler.cli.talk import say, show, show_json
from scheduler.cli.text_table import text_table
from scheduler.cli.trying import tries

if TYPE_CHECKING:
    from scheduler.replan.goal_costs import Tried

GOAL_NAMES: Final = {
    "lateness": "lateness",
    "material": "packs",
    "cost": "overtime and hire",
    "finish": "hand-over",
    "even_load": "even load",
}


@command(
    "goal-costs",
    "Say what each goal of a saved plan costs the one after it.",
    ("coatrun goal-costs my-shop", "coatrun goal-costs my-shop --moves 5000 --json"),
    "The saved plan is searched on with its goals in their order, which is the first row, and then with each goal put before the "
    "one that it follows, with the same moves and seed. What the one in front gains is what the other costs it. It is what was "
    "found, not the most there is: more moves tell smaller differences apart.",
)
@tries(moves=1000)
def goal_costs(folder: Path, told: Path | None, moves: int, seed: int, as_json: bool) -> None:
    """Exchange two goals at a time and set the figures beside each other."""
    from scheduler.cli.saved_plan import saved_plan
    from scheduler.documents.words.goal_words import GOAL_WORDS
    from scheduler.replan.goal_costs import NoStandError, what_goals_cost

    folder, told = shop_and_run(folder, told)
    saved = saved_plan(folder, told)
    try:
        rows = what_goals_cost(saved.shop, saved.schedule, moves, seed, lambda pair: say(f"trying {in_words(pair)}"))
    except NoStandError as fault:
        raise click.ClickException(f"{fault}; coatrun replan {folder} makes one that does") from fault
    if as_json:
        show_json("goal-costs", ExitCode.DONE, {"moves": moves, "seed": seed, "rows": [_data(row) for row in rows]})
        return
    names = [goal.name for goal in rows[0].goals]
    show(text_table(("goals", *(GOAL_WORDS[name] for name in names), "time spent"), [_cells(row, names) for row in rows]))
    show("")
    for row in rows[1:]:
        show(sentence(rows[0], row))
    say(f"{moves} moves each, {sum(row.took_s for row in rows):.1f} s in all.")


def in_words(pair: tuple[str, str]) -> str:
    """Say which goal is put before which."""
    return f"{GOAL_NAMES[pair[0]]} before {GOAL_NAMES[pair[1]]}"


def sentence(plain: "Tried", row: "Tried") -> str:
    """Say what a goal costs the one that it goes before in the plan."""
    front, back = row.pair or ("", "")
    name, other = GOAL_NAMES[front], GOAL_NAMES[back]
    loss, saved = plain.of(front) - row.of(front), row.of(back) - plain.of(back)
    kept = f"Keeping {other} before {name}"
    if loss <= 0:
        return f"{kept} costs nothing that was found."
    cost = f"{kept} costs {loss:.4g} of {name} ({plain.of(front):g}, not {row.of(front):g})"
    saves = f" and saves {saved:.4g} of {other} ({plain.of(back):g}, not {row.of(back):g})" if saved > 0 else ""
    return f"{cost}{saves}."


def _cells(row: "Tried", names: list[str]) -> tuple[str, ...]:
    first = "as planned" if row.pair is None else in_words(row.pair)
    return first, *(f"{row.of(name):g}" for name in names), f"{row.took_s:.1f} s"


def _data(row: "Tried") -> dict[str, object]:
    return {
        "in_front": row.pair and row.pair[0],
        "before": row.pair and row.pair[1],
        "goals": {goal.name: goal.value for goal in row.goals},
        "took_s": round(row.took_s, 3),
    }
