"""coatrun what-if: what the shop would gain from one thing more."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from scheduler.cli.command import command
from scheduler.cli.exit_codes import ExitCode
from scheduler.cli.saved import shop_and_run
from scheduler.cli.talk import say, show, show_json
from scheduler.cli.text_table import text_table
from scheduler.cli.trying import tries

if TYPE_CHECKING:
    from scheduler.replan.savings import Helped, Saving

COLUMNS: Final = ("with", "days late", "saved", "proven", "packs and purges", "saved", "unit days", "saved", "time spent")
UNITS: Final = ("weighted days late", "packs", "unit days until they are back")
LEAST: Final = 0.05
"""Less is no gain worth a sentence."""


@command(
    "what-if",
    "Say what would help: one warmer, sprayer, Saturday or dry bay more, ranked by what it saves.",
    ("coatrun what-if my-shop", "coatrun what-if my-shop --moves 2000 --json"),
    "The saved plan is searched on first; from there the shop as it is and each shop with one thing more are searched twice, "
    "with the same moves and the same two seeds. Days late are weighted. A saving that is no larger than the difference of two "
    "searches is marked with a ~: it may be luck, and more moves tell. Under proven stands what holds for every plan, by bounds.",
)
@tries(moves=200)
def what_if(folder: Path, told: Path | None, moves: int, seed: int, as_json: bool) -> None:
    """Plan each variant and rank them."""
    from scheduler.cli.saved_plan import saved_plan
    from scheduler.replan.what_if import what_helps

    folder, told = shop_and_run(folder, told)
    saved = saved_plan(folder, told)
    plain, *rows = what_helps(saved.shop, saved.schedule, moves, seed, lambda says: say(f"trying {says}"))
    if as_json:
        show_json("what-if", ExitCode.DONE, {"moves": moves, "seed": seed, "rows": [_data(plain, row) for row in (plain, *rows)]})
        return
    show(text_table(COLUMNS, [_cells(plain, row) for row in (plain, *rows)]))
    show(_verdict(plain, rows))
    say(f"{moves} moves each time, {sum(row.took_s for row in (plain, *rows)):.1f} s in all.")


def _cells(plain: "Helped", row: "Helped") -> tuple[str, ...]:
    from scheduler.replan.savings import saving

    found, took = saving(plain, row), f"{row.took_s:.1f} s"
    if row.best is None or found is None:
        return row.says, "no plan found", "", "", "", "", "", "", took
    late, packs, days = (f"{value:{form}}" for value, form in zip(row.best.goals, ("g", ".2f", ".1f"), strict=True))
    if row is plain:
        return row.says, late, "", f"no plan below {plain.floor}", packs, "", days, "", took
    gains = [
        f"{'~' * found.may_be_luck(goal)}{saved:{form}}"
        for goal, (saved, form) in enumerate(zip(found.saved, ("g", ".2f", ".1f"), strict=True))
    ]
    return row.says, late, gains[0], _proven(found), packs, gains[1], days, gains[2], took


def _proven(found: "Saving") -> str:
    """What the bounds say of the days late that are saved."""
    if not found.at_most:
        return "saves none"
    return f"{f'at least {found.at_least}, ' if found.at_least else ''}at most {found.at_most}"


def _verdict(plain: "Helped", rows: Sequence["Helped"]) -> str:
    """What helps most, in a sentence or two: what is more than luck, or that nothing is."""
    from scheduler.replan.savings import saving

    pairs = [(found, row) for row in rows if (found := saving(plain, row)) is not None]
    if not pairs:
        return "No plan was found for any of them."
    for goal, unit in enumerate(UNITS):
        sure = [pair for pair in pairs if pair[0].saved[goal] >= LEAST and not pair[0].may_be_luck(goal)]
        if sure:
            return f"{_NOT_BEFORE[goal]}{_most(sure, goal, unit)}"
    for goal, unit in enumerate(UNITS):
        luck = [pair for pair in pairs if pair[0].saved[goal] >= LEAST]
        if luck:
            return _only_luck(luck, goal, unit)
    return "Nothing that was tried helps."


_NOT_BEFORE: Final = (
    "",
    "Nothing that was tried is sure to save days late. ",
    "Nothing that was tried is sure to save days late or packs. ",
)


def _most(pairs: "Sequence[tuple[Saving, Helped]]", goal: int, unit: str) -> str:
    """The largest saving, and the others that two searches do not tell from it."""
    best, row = max(pairs, key=lambda pair: (pair[0].at_least if goal == 0 else 0, pair[0].saved[goal]))
    text = f"Most helps {row.says}: {best.saved[goal]:.4g} {unit} less."
    near = [
        other for found, other in pairs if other is not row and best.saved[goal] - found.saved[goal] <= _noise(best, found, goal)
    ]
    if near and not (goal == 0 and best.at_least):
        text += f" No more than luck apart from it: {'; '.join(other.says for other in near)}."
    return text


def _noise(one: "Saving", other: "Saving", goal: int) -> float:
    return max(one.luck[goal], other.luck[goal])


def _only_luck(pairs: "Sequence[tuple[Saving, Helped]]", goal: int, unit: str) -> str:
    """That no saving is larger than what two searches of one shop differ by."""
    best, _ = max(pairs, key=lambda pair: pair[0].saved[goal])
    says = f"What was found saves up to {best.saved[goal]:.4g} {unit}, no more than two searches of the same shop differ by"
    return f"{says} ({best.luck[goal]:.4g}): it may be luck. More --moves tell."


def _data(plain: "Helped", row: "Helped") -> dict[str, object]:
    from scheduler.replan.savings import saving

    found, goals = saving(plain, row), (None, None, None) if row.best is None else row.best.goals
    saved, luck = ((None,) * 3, (None,) * 3) if found is None else (found.saved, found.luck)
    names = ("lateness", "packs", "unit_days")
    return {
        "name": row.name,
        "with": row.says,
        **dict(zip(names, goals, strict=True)),
        **{f"{name}_saved": value if value is None else round(value, 6) for name, value in zip(names, saved, strict=True)},
        **{f"{name}_luck": value if value is None else round(value, 6) for name, value in zip(names, luck, strict=True)},
        "lateness_floor": row.floor,
        "lateness_saved_at_least": None if found is None else found.at_least,
        "lateness_saved_at_most": None if found is None else found.at_most,
        "took_s": round(row.took_s, 3),
    }
