"""Reports of units, people, bays, equipment, stock and weather as events.

Each function takes the reader of the report and what the report is about, and raises ``ObjectionError`` where the two do not fit
the shop.
"""

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Final

from scheduler.record import events as e
from scheduler.record.desk import Desk
from scheduler.record.new_forecast import forecast_hours
from scheduler.record.reader import Made, Reader
from scheduler.record.report import Objection, ObjectionError
from scheduler.shop.day_words import day_and_year_text
from scheduler.shop.faults import choose

_FATES: Final[Mapping[str, e.Fate]] = {fate.value.replace("_", "-"): fate for fate in e.Fate}


def used(r: Reader, about: str) -> Made:
    """Material was taken from a pack."""
    opened = next((pack.lot_id for pack in r.desk.shop.opened if pack.pack_id == about), None)
    lot_id = opened or r.lot(about.partition("#")[0])
    of_step = dict(zip(("unit_id", "step"), r.step(r.said["for"]), strict=True)) if "for" in r.said else {}
    fate = r.choice("left", _FATES, e.Fate.EMPTIED.value)
    return e.Used, {"cartridge_id": about, "lot_id": lot_id, "ml": r.said["ml"], "fate": fate, "happened_at": r.at(), **of_step}


def reading(r: Reader, about: str) -> Made:
    """Something was measured on a unit or in a bay."""
    where = {"bay_id": about} if about in r.desk.shop.bay_by_id else {"unit_id": r.unit(about)}
    names = {"air": "air_c", "steel": "steel_c", "dew": "dew_point_c", "rh": "rh_pct"}
    values = {field: r.said[name] for name, field in names.items() if name in r.said}
    dft = tuple(r.words("dft"))
    if not values and not dft:
        raise ObjectionError(Objection("reading", None, "nothing was measured", "add --air, --steel, --dew, --rh or --dft"))
    return e.Reading, {**where, **values, "dft_um": dft, "happened_at": r.at()}


def arrived(r: Reader, about: str) -> Made:
    """A unit is there, or will be."""
    return e.Arrived, {"unit_id": r.unit(about), "happened_at": r.at(ahead=True)}


def away(r: Reader, about: str) -> Made:
    """Somebody is not there for a time."""
    times = {"happened_at": r.at("from", ahead=True), "until": r.at("until", ahead=True)}
    return e.Away, {"person_id": r.person(about), **times, **r.only("why")}


def down(r: Reader, about: str) -> Made:
    """A bay or a piece of equipment is out of service for a time."""
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


def delivered(r: Reader, about: str) -> Made:
    """Packs of a lot came."""
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
    _check_expiry(r, about, r.desk.shop.local(r.at()).date())
    return e.Delivered, {"lot_id": about, "product_id": product_id, **fields}


def _check_expiry(r: Reader, lot_id: str, day: date) -> None:
    """Refuse a lot that was over as it came, or that is known with another last day; what is no date is found later."""
    text = r.said["expires"]
    there = next((lot.expires_on for lot in r.desk.shop_now.lots if lot.lot_id == lot_id and lot.arrives_on < day), None)
    try:
        expires = date.fromisoformat(text)
    except ValueError:
        return
    if expires < day:
        raise ObjectionError(
            Objection("--expires", text, f"is over since before it came, {day_and_year_text(day)}", "correct the date")
        )
    if there is not None and there != expires:
        problem = f"{lot_id} is on the shelf, good until {there.isoformat()}"
        raise ObjectionError(Objection("--expires", text, problem, "correct the date, or give the new packs a lot of their own"))


def rejected(r: Reader, about: str) -> Made:
    """What is left of a lot may not be used."""
    return e.Rejected, {"lot_id": r.lot(about), "happened_at": r.at(), **r.only("why")}


def forecast(r: Reader, _about: str) -> Made:
    """Hours of the forecast are replaced."""
    begin = r.at("from", ahead=True)
    end = r.at("until", ahead=True) if "until" in r.said else begin + timedelta(hours=1)
    return e.Forecast, {"happened_at": r.at(), "hours": forecast_hours(r.desk.shop_now, r.said, begin, end)}
