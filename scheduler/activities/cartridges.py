"""From placed films to named cartridges in numbered warmer slots: the ledger in wall-clock time."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from scheduler.activities.as_told import Told, places_told, with_names_told
from scheduler.activities.build import Built
from scheduler.activities.hand_out import Use, hand_out
from scheduler.activities.ledger_input import begun_of, films_at, lots_of
from scheduler.activities.network import Network
from scheduler.activities.placed import Placed
from scheduler.activities.resources import equipment_shut, item_id
from scheduler.material.best_ledger import WarmerRoom, best_ledger
from scheduler.material.entries import Entry
from scheduler.material.pack import UL_PER_ML
from scheduler.schedule.schedule import Draw
from scheduler.shop.resources import Kind
from scheduler.shop.shop import Shop


class NotEnoughError(RuntimeError):
    """The stock does not go round; the search should not have taken such a solution."""


def draw_cartridges(
    shop: Shop, built: Built, placed: Placed, guns: Mapping[int, str], told: Told | None = None
) -> dict[int, tuple[Draw, ...]]:
    """Draw every film's volume from named packs and give each cartridge a warmer slot.

    Parameters
    ----------
    guns : mapping
        Named gun of an activity.
    told : Told or None
        What people were told: cartridges that lie in a warmer keep their names, and all keep their slots where those are free.

    Returns
    -------
    dict
        Draws of each film by activity, in the order in which they are sprayed.

    Raises
    ------
    NotEnoughError
        If the stock does not go round.
    """
    net = built.network
    ledger = best_ledger(films_at(net, placed.start, guns), net.sheets, lots_of(net), begun_of(net), _room(net, placed))
    if ledger.shorts:
        lacks = ((net.activities[s.film].key, s.missing_ul // UL_PER_ML, s.product) for s in ledger.shorts)
        raise NotEnoughError("; ".join(f"{film} lacks {missing_ml} mL of {product}" for film, missing_ml, product in lacks))
    told = told or Told()
    entries = with_names_told(ledger.entries, _lying_warm(shop, net, told), lots_of(net))
    slots = _slots(shop, built, placed, entries, told)
    found: dict[int, list[Draw]] = defaultdict(list)
    for number, entry in enumerate(entries):
        found[entry.film].append(_Writer(shop, built).draw(entry, slots.get(number)))
    return {film: tuple(draws) for film, draws in found.items()}


def _room(net: Network, placed: Placed) -> WarmerRoom | None:
    """Warmer slots that the films' own reservations leave."""
    if net.warmer is None:
        return None
    pool, free = net.pools[net.warmer], np.zeros(net.slots + 1, dtype=np.int64)
    free += pool.capacity
    for start, end, amount in pool.taken:
        free[start:end] -= amount
    for i, activity in enumerate(net.activities):
        if activity.load is not None:
            free[activity.load[placed.start[i]] : placed.start[i] + activity.slots] -= activity.packs
    return WarmerRoom(free)


def _lying_warm(shop: Shop, net: Network, told: Told) -> dict[int, tuple[str, ...]]:
    """Names, by film, of the new cartridges that were to be in a warmer by now."""
    there = {f"{row.unit_id}/{row.step}" for row in shop.warming}
    films = (i for i, activity in enumerate(net.activities) if activity.key in there)
    return {i: tuple(d.cartridge_id for d in told.warmed(net.activities[i].key) if d.begins == "opened") for i in films}


def _slots(shop: Shop, built: Built, placed: Placed, entries: tuple[Entry, ...], told: Told) -> dict[int, tuple[str, int]]:
    """Warmer and slot of each entry that is warmed: as people were told, else the cheapest warmers fill up first."""
    rows = sorted(shop.equipment_of(Kind.WARMER), key=lambda row: row.rent_per_day)
    places = {f"{item_id(e, n + 1)}|{k + 1}": e for e in rows for n in range(e.count) for k in range(e.slots or 0)}
    shut = {e.equipment_id: equipment_shut(shop, built.grid, e.equipment_id, at_night=True) for e in rows}
    activities, uses = built.network.activities, []
    own = places_told(told, {entry.film: activities[entry.film].key for entry in entries}, entries)
    for number, entry in enumerate(entries):
        if entry.loaded is not None:
            end = placed.start[entry.film] + activities[entry.film].slots
            place = own.get(number, "")
            uses.append(Use(number, entry.loaded, end, entry.product, told=place if place in places else ""))
    given = hand_out(uses, list(places), {place: shut[e.equipment_id] for place, e in places.items()})
    return {number: (place.split("|")[0], int(place.split("|")[1])) for number, place in given.items()}


@dataclass(frozen=True, slots=True)
class _Writer:
    shop: Shop
    built: Built

    def _loaded_at(self, entry: Entry) -> datetime | None:
        """When a cartridge goes into its slot, or went into it before the plan began."""
        grid = self.built.grid
        if entry.loaded is None:
            return None
        film = self.built.network.activities[entry.film]
        there = (w.loaded_at for w in self.shop.warming if f"{w.unit_id}/{w.step}" == film.key and entry.loaded == 0)
        return next(there, grid.start_of(entry.loaded)).astimezone(grid.zone)

    def draw(self, entry: Entry, place: tuple[str, int] | None) -> Draw:
        return Draw(
            cartridge_id=entry.pack,
            lot_id=entry.lot,
            begins=entry.begins,
            purge_ml=entry.purge_ul / UL_PER_ML,
            sprayed_ml=entry.sprayed_ul / UL_PER_ML,
            left_ml=entry.left_ul / UL_PER_ML,
            warmer_id=place[0] if place else None,
            slot=place[1] if place else None,
            loaded_at=self._loaded_at(entry),
            reason="; ".join(self._words(entry)),
        )

    def _words(self, entry: Entry) -> Iterator[str]:
        """Why packs that stand opened are left standing."""
        for row in entry.passed:
            when = self._when(row.slot)
            yield {
                "in use": f"{row.pack} is in use until {when}",
                "not warm again": f"{row.pack} is not warm again before {when}",
                "lapsed": f"{row.pack} is past its open life or its lot's date",
                "no warm slot": f"no warmer slot is left for {row.pack}",
                "kept": f"{row.pack} would cost one more mixer and purge and save no pack",
            }[row.why]
        if entry.passed_more:
            yield f"and {entry.passed_more} more"

    def _when(self, slot: int) -> str:
        grid = self.built.grid
        if slot >= len(grid):
            return "the end of the plan"
        moment = grid.start_of(slot).astimezone(grid.zone)
        return f"{moment:%a} {moment.day} {moment:%b %H:%M}"
