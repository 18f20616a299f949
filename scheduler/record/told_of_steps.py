"""Reports of a step of a unit as events, with what the plan knows filled in.

Each function takes the reader of the report and what the report is about, ``UNIT/STEP``, and raises ``ObjectionError`` where
the two do not fit the shop.
"""

from typing import Final

from scheduler.record import events as e
from scheduler.record.planned import planned_end, planned_ml, planned_start
from scheduler.record.reader import Fields, Made, Reader
from scheduler.record.report import Objection, ObjectionError
from scheduler.record.taken import taken_from_plan
from scheduler.shop.faults import choose


def _where_and_who(r: Reader, unit_id: str, step: str) -> Fields:
    """Bay, people and tools as they are said, else as they are planned."""
    work = r.desk.works.get((unit_id, step))
    people = tuple(r.person(word) for word in r.words("people")) or (tuple(p.person_id for p in work.people) if work else ())
    tools = tuple(r.words("tools")) or (work.tools if work else ())
    for tool in tools:
        r.equipment(tool.partition("#")[0])
    bay_id = r.said.get("bay") or (work.bay_id if work else None)
    if bay_id is not None and bay_id not in r.desk.shop.bay_by_id:
        raise ObjectionError(
            Objection("--bay", bay_id, "there is no such bay", choose(bay_id, r.desk.shop.bay_by_id, "use a bay of the shop"))
        )
    return {"unit_id": unit_id, "step": step, "bay_id": bay_id, "people": people, "tools": tools, "taken": taken_from_plan(work)}


def started(r: Reader, about: str) -> Made:
    """A step was begun; where, by whom and with what as said, else as planned."""
    unit_id, step = r.step(about)
    start = r.at()
    fields = _where_and_who(r, unit_id, step)
    return e.Started, {**fields, "happened_at": start, "planned_end": planned_end(r.desk, unit_id, step, start)}


def finished(r: Reader, about: str) -> Made:
    """A step was finished; its start as said, as reported before, else as planned."""
    unit_id, step = r.step(about)
    end, run = r.at(), r.desk.run_of(unit_id, step)
    begun = run is not None and run.ended_at is None
    start = r.at("from") if "from" in r.said else None if begun else planned_start(r.desk, unit_id, step, end)
    fields = _where_and_who(r, unit_id, step)
    if begun:  # as at its start, but for what is said now
        fields |= {name: fields[name] if option in r.said else empty for option, name, empty in _AS_BEGUN}
    return e.Finished, {**fields, "happened_at": end, "started_at": start}


_AS_BEGUN: Final = (("bay", "bay_id", None), ("people", "people", ()), ("tools", "tools", ()), ("", "taken", ()))


def stopped(r: Reader, about: str) -> Made:
    """A step was broken off; what is done of it as said, by share or by what had been used of its material."""
    unit_id, step = r.step(about)
    done = {"done_pct": r.said["done"].rstrip("% ")} if "done" in r.said else {}
    fields = {"unit_id": unit_id, "step": step, "happened_at": r.at(), "planned_ml": planned_ml(r.desk, unit_id, step)}
    return e.Stopped, {**fields, **done, **r.only("why", "ml")}


def failed(r: Reader, about: str) -> Made:
    """A finished step turned out bad, all of it or a share."""
    unit_id, step = r.step(about)
    share = {"share_pct": r.said["share"].rstrip("% ")} if "share" in r.said else {}
    return e.Failed, {"unit_id": unit_id, "step": step, "happened_at": r.at(), **r.only("cause"), **share}


def loaded(r: Reader, about: str) -> Made:
    """Cartridges were put into a warmer; lot and count as said, else as planned."""
    unit_id, step = r.step(about)
    taken = taken_from_plan(r.desk.works.get((unit_id, step)))
    planned = {"lot": taken[0].lot_id if taken else None, "cartridges": len(taken) or None}
    warmers = [row.equipment_id for row in r.desk.shop.equipment if row.kind.value == "warmer"]
    said = {**planned, "warmer": warmers[0] if len(warmers) == 1 else None, **r.only("warmer", "lot", "cartridges")}
    lacking = [Objection(f"--{n}", None, f"the plan says nothing of {about}", f"add --{n}") for n, v in said.items() if v is None]
    if lacking:
        raise ObjectionError(*lacking)
    r.equipment(str(said["warmer"]).partition("#")[0])
    fields = {"warmer_id": said["warmer"], "lot_id": r.lot(str(said["lot"])), "cartridges": said["cartridges"]}
    return e.Loaded, {"unit_id": unit_id, "step": step, "happened_at": r.at(), **fields}
