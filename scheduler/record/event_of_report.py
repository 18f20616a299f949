"""From a report as it was typed to an event, with what the plan knows filled in."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Final

from pydantic import ValidationError

from scheduler.record import events as e
from scheduler.record.desk import Desk
from scheduler.record.new_forecast import forecast_hours
from scheduler.record.planned import planned_end, planned_start
from scheduler.record.report import EVERYWHERE, FORMS, Objection, ObjectionError, Report
from scheduler.record.taken import taken_from_plan
from scheduler.record.typed_moment import typed_moment
from scheduler.shop.cell_errors import explain
from scheduler.shop.faults import choose

Fields = dict[str, Any]
_FATES: Final = {fate.value.replace("_", "-"): fate for fate in e.Fate}


def event_of(desk: Desk, report: Report) -> e.Plain:
    """Make an event of a report.

    Raises
    ------
    ObjectionError
        With all that is wrong with the report by itself; whether it fits what has been recorded is another matter.
    """
    wrong = list(_form_faults(report))
    if wrong:
        raise ObjectionError(*wrong)
    reader = _Reader(desk, report.said)
    model, fields = _MAKERS[report.what](reader, report.about)
    common = {"recorded_at": desk.now, "by": report.said.get("by", ""), "note": report.said.get("note", "")}
    try:
        return sealed_plain(model, common | fields)
    except ValidationError as error:
        raise ObjectionError(*(_objection(row) for row in error.errors(include_url=False))) from error


def sealed_plain(model: type[e.Plain], fields: Fields) -> e.Plain:
    """Event of a model with its id."""
    event = model.model_validate(fields)
    return event.model_copy(update={"id": e.fingerprint(event)})


def _form_faults(report: Report) -> list[Objection]:
    form = FORMS.get(report.what)
    if form is None:
        return [
            Objection("what happened", report.what, "not a word that is known here", choose(report.what, FORMS, "see --help"))
        ]
    wrong = []
    if form.about and not report.about:
        wrong.append(Objection("what it is about", None, f"{report.what} needs one", f"write {report.what} {form.about}"))
    if report.about and not form.about:
        wrong.append(Objection("what it is about", report.about, f"{report.what} is about nothing by itself", "leave it out"))
    allowed = (*form.needs, *form.takes, *EVERYWHERE)
    for name, value in report.said.items():
        if name not in allowed:
            cure = f"{report.what} takes {', '.join(f'--{word}' for word in allowed)}"
            wrong.append(Objection(f"--{name}", value, f"does not go with {report.what}", cure))
    wrong += [Objection(f"--{n}", None, f"{report.what} needs it", f"add --{n}") for n in form.needs if n not in report.said]
    return wrong


def _objection(row: Any) -> Objection:  # noqa: ANN401 - the library's own record
    place, value = ".".join(str(part) for part in row["loc"]) or "report", str(row.get("input", ""))
    problem, cure = explain(row["type"], row.get("ctx", {}), value, row["msg"])
    return Objection(place, value, problem, cure)


@dataclass(frozen=True)
class _Reader:
    """Reads what is said, and says where it is wrong."""

    desk: Desk
    said: Mapping[str, str]

    def at(self, name: str = "at", *, ahead: bool = False) -> datetime:
        """Moment of an option, now if it is not said."""
        text = self.said.get(name)
        return self.desk.now if text is None else self.moment(name, text, ahead=ahead)

    def moment(self, name: str, text: str, *, ahead: bool = False) -> datetime:
        """Moment in a text."""
        try:
            return typed_moment(text, self.desk.now, self.desk.shop.site.tz, ahead=ahead)
        except ValueError as error:
            problem, _, cure = str(error).partition("; ")
            raise ObjectionError(Objection(f"--{name}", text, problem, cure or "correct it")) from error

    def only(self, *names: str) -> Fields:
        """Those of the options that are said, as text."""
        return {name: self.said[name] for name in names if name in self.said}

    def words(self, name: str) -> list[str]:
        """Words of an option."""
        return self.said.get(name, "").replace(",", " ").split()

    def choice(self, name: str, known: Mapping[str, Any], otherwise: str) -> Any:  # noqa: ANN401
        """What a word of a list stands for."""
        text = self.said.get(name, otherwise)
        if text not in known:
            raise ObjectionError(
                Objection(f"--{name}", text, "not a word that is known here", choose(text, known, "leave it out"))
            )
        return known[text]


def _where_and_who(r: _Reader, unit_id: str, step: str) -> Fields:
    """Bay, people and tools as they are said, else as they are planned."""
    work = r.desk.works.get((unit_id, step))
    people = tuple(r.desk.person(word) for word in r.words("people")) or (tuple(p.person_id for p in work.people) if work else ())
    tools = tuple(r.words("tools")) or (work.tools if work else ())
    for tool in tools:
        r.desk.equipment(tool.partition("#")[0])
    bay_id = r.said.get("bay") or (work.bay_id if work else None)
    if bay_id is not None and bay_id not in r.desk.shop.bay_by_id:
        raise ObjectionError(
            Objection("--bay", bay_id, "there is no such bay", choose(bay_id, r.desk.shop.bay_by_id, "use a bay of the shop"))
        )
    return {"unit_id": unit_id, "step": step, "bay_id": bay_id, "people": people, "tools": tools, "taken": taken_from_plan(work)}


def _started(r: _Reader, about: str) -> tuple[type[e.Plain], Fields]:
    unit_id, step = r.desk.step(about)
    start = r.at()
    fields = _where_and_who(r, unit_id, step)
    return e.Started, {**fields, "happened_at": start, "planned_end": planned_end(r.desk, unit_id, step, start)}


def _finished(r: _Reader, about: str) -> tuple[type[e.Plain], Fields]:
    unit_id, step = r.desk.step(about)
    end, run = r.at(), r.desk.run_of(unit_id, step)
    begun = run is not None and run.ended_at is None
    start = r.at("from") if "from" in r.said else None if begun else planned_start(r.desk, unit_id, step, end)
    fields = _where_and_who(r, unit_id, step)
    if begun:  # as at its start, but for what is said now
        fields |= {name: fields[name] if option in r.said else empty for option, name, empty in _AS_BEGUN}
    return e.Finished, {**fields, "happened_at": end, "started_at": start}


_AS_BEGUN: Final = (("bay", "bay_id", None), ("people", "people", ()), ("tools", "tools", ()), ("", "taken", ()))


def _stopped(r: _Reader, about: str) -> tuple[type[e.Plain], Fields]:
    unit_id, step = r.desk.step(about)
    return e.Stopped, {"unit_id": unit_id, "step": step, "happened_at": r.at(), **r.only("why")}


def _failed(r: _Reader, about: str) -> tuple[type[e.Plain], Fields]:
    unit_id, step = r.desk.step(about)
    share = {"share_pct": r.said["share"].rstrip("% ")} if "share" in r.said else {}
    return e.Failed, {"unit_id": unit_id, "step": step, "happened_at": r.at(), **r.only("cause"), **share}


def _loaded(r: _Reader, about: str) -> tuple[type[e.Plain], Fields]:
    unit_id, step = r.desk.step(about)
    taken = taken_from_plan(r.desk.works.get((unit_id, step)))
    planned = {"lot": taken[0].lot_id if taken else None, "cartridges": len(taken) or None}
    warmers = [row.equipment_id for row in r.desk.shop.equipment if row.kind.value == "warmer"]
    said = {**planned, "warmer": warmers[0] if len(warmers) == 1 else None, **r.only("warmer", "lot", "cartridges")}
    lacking = [Objection(f"--{n}", None, f"the plan says nothing of {about}", f"add --{n}") for n, v in said.items() if v is None]
    if lacking:
        raise ObjectionError(*lacking)
    r.desk.equipment(str(said["warmer"]).partition("#")[0])
    fields = {"warmer_id": said["warmer"], "lot_id": r.desk.lot(str(said["lot"])), "cartridges": said["cartridges"]}
    return e.Loaded, {"unit_id": unit_id, "step": step, "happened_at": r.at(), **fields}


def _used(r: _Reader, about: str) -> tuple[type[e.Plain], Fields]:
    standing = {pack.pack_id: pack.lot_id for pack in (*r.desk.shop.opened, *r.desk.shop_now.opened)}
    lot_id = standing.get(about) or r.desk.lot(about.partition("#")[0])
    of_step = dict(zip(("unit_id", "step"), r.desk.step(r.said["for"]), strict=True)) if "for" in r.said else {}
    fate = r.choice("left", _FATES, e.Fate.EMPTIED.value)
    return e.Used, {"cartridge_id": about, "lot_id": lot_id, "ml": r.said["ml"], "fate": fate, "happened_at": r.at(), **of_step}


def _reading(r: _Reader, about: str) -> tuple[type[e.Plain], Fields]:
    where = {"bay_id": about} if about in r.desk.shop.bay_by_id else {"unit_id": r.desk.unit(about)}
    names = {"air": "air_c", "steel": "steel_c", "dew": "dew_point_c", "rh": "rh_pct"}
    values = {field: r.said[name] for name, field in names.items() if name in r.said}
    dft = tuple(r.words("dft"))
    if not values and not dft:
        raise ObjectionError(Objection("reading", None, "nothing was measured", "add --air, --steel, --dew, --rh or --dft"))
    return e.Reading, {**where, **values, "dft_um": dft, "happened_at": r.at()}


def _arrived(r: _Reader, about: str) -> tuple[type[e.Plain], Fields]:
    return e.Arrived, {"unit_id": r.desk.unit(about), "happened_at": r.at(ahead=True)}


def _away(r: _Reader, about: str) -> tuple[type[e.Plain], Fields]:
    times = {"happened_at": r.at("from", ahead=True), "until": r.at("until", ahead=True)}
    return e.Away, {"person_id": r.desk.person(about), **times, **r.only("why")}


def _down(r: _Reader, about: str) -> tuple[type[e.Plain], Fields]:
    bays = r.desk.shop.bay_by_id
    known = [*bays, *(row.equipment_id for row in r.desk.shop.equipment)]
    if about.partition("#")[0] not in known:
        cure = choose(about, known, "use a bay or a piece of equipment of the shop")
        raise ObjectionError(Objection("bay or equipment", about, "the shop has no such thing", cure))
    times = {"happened_at": r.at("from", ahead=True), "until": r.at("until", ahead=True)}
    which = about if about in bays else _whole_row(r.desk, about)
    return e.Down, {"what": "bay" if about in bays else "equipment", "which": which, **times, **r.only("why")}


def _whole_row(desk: Desk, text: str) -> str:
    """Row of equipment that is out of service; one piece of several alike cannot be shut by itself."""
    row_id, piece, _ = text.partition("#")
    count = next(row.count for row in desk.shop.equipment if row.equipment_id == row_id)
    if piece and count > 1:
        problem = f"{row_id} has {count} pieces alike in one row, which is in service or not as a whole"
        raise ObjectionError(
            Objection("equipment", text, problem, f"give the piece a row of its own in equipment.csv, or report {row_id}")
        )
    return row_id


def _delivered(r: _Reader, about: str) -> tuple[type[e.Plain], Fields]:
    known = {lot.lot_id: lot.product_id for lot in r.desk.shop.lots}
    product_id = r.said.get("product") or known.get(about)
    if product_id not in r.desk.shop.product_by_id:
        problem = "there is no such product" if product_id else "a new lot needs its product"
        raise ObjectionError(
            Objection("--product", product_id, problem, choose(product_id or "", r.desk.shop.product_by_id, "add --product"))
        )
    if about in known and known[about] != product_id:
        raise ObjectionError(
            Objection("--product", product_id, f"lot {about} is {known[about]}", "correct the lot or leave --product out")
        )
    fields = {"packs": r.said["packs"], "expires_on": r.said["expires"], "happened_at": r.at()}
    return e.Delivered, {"lot_id": about, "product_id": product_id, **fields}


def _rejected(r: _Reader, about: str) -> tuple[type[e.Plain], Fields]:
    return e.Rejected, {"lot_id": r.desk.lot(about), "happened_at": r.at(), **r.only("why")}


def _forecast(r: _Reader, _about: str) -> tuple[type[e.Plain], Fields]:
    begin = r.at("from", ahead=True)
    end = r.at("until", ahead=True) if "until" in r.said else begin + timedelta(hours=1)
    return e.Forecast, {"happened_at": r.at(), "hours": forecast_hours(r.desk.shop_now, r.said, begin, end)}


_MAKERS: Final[Mapping[str, Callable[[_Reader, str], tuple[type[e.Plain], Fields]]]] = {
    "started": _started,
    "finished": _finished,
    "stopped": _stopped,
    "failed": _failed,
    "loaded": _loaded,
    "used": _used,
    "reading": _reading,
    "arrived": _arrived,
    "away": _away,
    "down": _down,
    "delivered": _delivered,
    "rejected": _rejected,
    "forecast": _forecast,
}
