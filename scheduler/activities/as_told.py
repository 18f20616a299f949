"""What people were told of tools, warmer slots and cartridges, so that a new schedule can keep it where it still goes."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from scheduler.material.entries import Entry
from scheduler.material.pack import Lot
from scheduler.schedule.schedule import Draw, Schedule, Work


@dataclass(frozen=True)
class Told:
    """The steps of an earlier schedule that are still to do, by work id."""

    works: Mapping[str, Work] = field(default_factory=dict)

    def tool(self, work_id: str, items: Iterable[str]) -> str:
        """Which of some tools that are alike a step was to have; empty for none."""
        work = self.works.get(work_id)
        return next((tool for tool in (work.tools if work is not None else ()) if tool in items), "")

    def warmed(self, work_id: str) -> tuple[Draw, ...]:
        """Cartridges of a step that have a warmer slot, in the order in which they are sprayed."""
        work = self.works.get(work_id)
        return tuple(draw for draw in (work.draws if work is not None else ()) if draw.slot is not None)


def told_by(earlier: Schedule | None) -> Told:
    """Look up an earlier schedule; nobody was told anything where there is none."""
    return Told({work.work_id: work for work in earlier.work if not work.done} if earlier is not None else {})


def places_told(told: Told, film_of: Mapping[int, str], entries: tuple[Entry, ...]) -> dict[int, str]:
    """Warmer and slot, ``W1#1|3``, that the cartridge of an entry was to have: its own, else one of its film's, in their order.

    Parameters
    ----------
    told : Told
    film_of : mapping of int to str
        Work id of each film by its number.
    entries : tuple of Entry
    """
    found: dict[int, str] = {}
    left = {film: list(told.warmed(work_id)) for film, work_id in film_of.items()}
    warm = [(number, entry) for number, entry in enumerate(entries) if entry.loaded is not None]
    for own in (True, False):
        for number, entry in warm:
            draws = left.get(entry.film, [])
            draw = next((d for d in draws if not own or d.cartridge_id == entry.pack), None)
            if number not in found and draw is not None:
                found[number] = f"{draw.warmer_id}|{draw.slot}"
                draws.remove(draw)
    return found


def with_names_told(entries: tuple[Entry, ...], wanted: Mapping[int, Iterable[str]], lots: Iterable[Lot]) -> tuple[Entry, ...]:
    """Entries in which the packs of some films have the names under which they lie in a warmer already.

    New packs of one lot are alike: two of them exchange their names, or one takes a name that nobody has.

    Parameters
    ----------
    entries : tuple of Entry
    wanted : mapping of int to iterable of str
        Names by film. One that its lot cannot give any more is left out.
    lots : iterable of Lot
    """
    new = {entry.pack: entry.lot for entry in entries if entry.begins == "opened"}
    used = {entry.pack for entry in entries}
    can = {name: lot.key for lot in lots for name in _names(lot)}
    name_of: dict[str, str] = {}
    for film, names in wanted.items():
        ours = [e.pack for e in entries if e.film == film and e.begins == "opened"]
        for name in names:
            pack = next((p for p in ours if new[p] == can.get(name) and p not in name_of), None)
            free = name in new or name not in used
            if pack is not None and free and name not in name_of.values():
                name_of[pack] = name
    _exchange(name_of, new)
    return tuple(_renamed(entry, name_of) for entry in entries) if name_of else entries


def _names(lot: Lot) -> Iterable[str]:
    return (f"{lot.key}#{lot.opened_before + n + 1:03d}" for n in range(lot.packs))


def _exchange(name_of: dict[str, str], new: Mapping[str, str]) -> None:
    """Give packs whose names were taken the names that were given up for them."""
    given_up = [pack for pack in name_of if pack not in name_of.values()]
    for name in list(name_of.values()):
        if name in new and name not in name_of:
            name_of[name] = next(pack for pack in given_up if new[pack] == new[name])
            given_up.remove(name_of[name])


def _renamed(entry: Entry, name_of: Mapping[str, str]) -> Entry:
    passed = tuple(replace(row, pack=name_of.get(row.pack, row.pack)) for row in entry.passed)
    return replace(entry, pack=name_of.get(entry.pack, entry.pack), passed=passed)
