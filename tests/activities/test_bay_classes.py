"""Bays on the grid: those that are alike are one class, and a unit fits or does not."""

from datetime import timedelta

from tiny_shop import COAT_BAY, MONDAY, PREPARE_BAY, tiny_shop

from scheduler.activities.bay_classes import bay_classes, fits
from scheduler.activities.resources import crew_of


def test_bays_alike_in_every_respect_are_one_class() -> None:
    """Two bays of two places are a class of four; another size or a closure of one of them sets it apart."""
    twin = {**COAT_BAY, "bay_id": "B3"}
    bays = [PREPARE_BAY, COAT_BAY, twin]
    hour = {"closed_from": MONDAY + timedelta(hours=5), "closed_until": MONDAY + timedelta(hours=6)}
    shut = {"what": "bay", "which": "B3", **hour, "reason": "repair"}

    def classes(**tables: object) -> list[tuple[str, int]]:
        shop = tiny_shop(**tables)
        return [(c.key, c.places) for c in bay_classes(shop, crew_of(shop).grid)][1:]

    assert classes(bays=bays) == [("B1", 1), ("B2+B3", 4)]
    assert classes(bays=[PREPARE_BAY, COAT_BAY, {**twin, "max_height_m": 2}]) == [("B1", 1), ("B2", 2), ("B3", 2)]
    assert classes(bays=bays, closures=[shut]) == [("B1", 1), ("B2", 2), ("B3", 2)]


def test_a_unit_may_be_turned_but_not_tipped() -> None:
    """A bay of 6 m x 3 m x 3 m takes 3 m x 6 m, not 6 m x 3.1 m and not 3.1 m of height."""
    bay = tiny_shop().bays[1]
    assert fits(bay, 3, 6, 3, 2000)
    assert not fits(bay, 6, 3.1, 3, 2000)
    assert not fits(bay, 3, 3, 3.1, 2000)
    assert not fits(bay, 3, 3, 3, 2000.5)
