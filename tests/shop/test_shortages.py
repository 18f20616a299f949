"""Stock that cannot cover the coats is a fault at the border, with the coats that starve and the order that cures it."""

from math import ceil
from pathlib import Path

import pytest

from scheduler.shop.needs import needs_of
from scheduler.shop.read import read_shop
from shop.folder import add, drop, edit, faults_of, only_fault, place, table_of

LINING = "two-part-lining"
USABLE_ML = 1500 - 60 - 45


def lining_ml(folder: Path) -> float:
    """What the coats of the template take of the lining."""
    shop = read_shop(folder)
    needs = (need for unit in shop.units for need in needs_of(shop, unit.unit_id))
    return sum(n.volume_ml for n in needs if n.product is not None and n.product.product_id == LINING)


def only_lot(folder: Path, **cells: str) -> None:
    """Leave one lot of lining, and no opened pack."""
    drop(folder, "lots", 4)
    drop(folder, "opened", 2)
    edit(folder, "lots", 3, **{"expires_on": "2027-02-02", **cells})


def test_an_expired_lot_as_the_only_stock(folder: Path) -> None:
    """All coats of the lining starve; the order counts the packs and the lead time of 14 d, which is past at the start."""
    needed_ml = lining_ml(folder)
    only_lot(folder, expires_on="2026-06-14")
    fault = only_fault(folder)
    assert place(fault) == ("lots.csv", 3, "packs")
    assert f"take {needed_ml / 1000:.1f} L of {LINING} from 2026-06-15 to 2026-06-27" in fault.problem
    assert "gives 0.0 L" in fault.problem
    assert "H1 coat-1, H1 coat-2, H1 coat-3 and" in fault.problem
    assert "past their date by then: TL-01" in fault.problem
    assert (
        f"order {ceil(needed_ml / USABLE_ML)} packs of {LINING} at once, to be there on 2026-06-29 (14 d lead time)" in fault.cure
    )


def test_to_the_pack(folder: Path) -> None:
    """As many packs as the coats fill are enough for the border; one less starves the last unit to be due."""
    packs = ceil(lining_ml(folder) / USABLE_ML)
    only_lot(folder, packs=str(packs))
    assert faults_of(folder) == ()
    edit(folder, "lots", 3, packs=str(packs - 1))
    fault = only_fault(folder)
    assert "order 1 pack of" in fault.cure
    assert "R1 touch_up" in fault.problem or "T1 coat-2" in fault.problem


def test_a_lot_that_comes_after_a_unit_has_to_leave(folder: Path) -> None:
    """P1 must leave on 22 June and the only lot arrives on the 24th: its coats starve, and a lead time of 2 d is in time."""
    edit(folder, "products", 3, lead_time_d="2")
    edit(folder, "units", 4, must_leave_by="2026-06-22T16:00", available_from="2026-06-18T07:00")
    only_lot(folder, arrives_on="2026-06-24", packs="90")
    fault = only_fault(folder)
    assert "from 2026-06-15 to 2026-06-23" in fault.problem
    assert "P1 coat-1" in fault.problem
    assert "H1" not in fault.problem
    assert "by 2026-06-16, to be there on 2026-06-18 (2 d lead time)" in fault.cure


def test_a_unit_that_comes_after_the_stock_has_expired(folder: Path) -> None:
    """R1 comes on 17 June, when the only lot is two days past its date; the others can be coated in time."""
    only_lot(folder, expires_on="2026-06-16", packs="90")
    fault = only_fault(folder)
    assert "from 2026-06-17 to 2026-06-27" in fault.problem
    assert "R1 touch_up starves (past their date by then: TL-01)" in fault.problem


def test_an_opened_pack_counts_while_it_keeps(folder: Path) -> None:
    """What a lot lacks may stand in an opened pack, beside its heel (45 mL) and recap purge (60 mL), until its life is over."""
    full, short_ml = divmod(lining_ml(folder), USABLE_ML)
    drop(folder, "lots", 4)
    edit(folder, "lots", 3, expires_on="2027-02-02", packs=str(int(full)))
    edit(folder, "opened", 2, remaining_ml=str(ceil(short_ml + 105)))
    assert faults_of(folder) == ()
    edit(folder, "products", 3, open_life_d="5")
    assert "order 1 pack of" in only_fault(folder).cure


@pytest.mark.parametrize(("table", "row", "column"), [("lots", 3, "packs"), ("opened", 2, "remaining_ml")])
def test_negative_stock(folder: Path, table: str, row: int, column: str) -> None:
    """Refused in its cell."""
    edit(folder, table, row, **{column: "-1"})
    assert (f"{table}.csv", row, column) in [place(fault) for fault in faults_of(folder)]


def test_a_lot_named_twice_with_another_expiry(folder: Path) -> None:
    """The fault says in what the two rows differ."""
    again = table_of(folder, "lots")[1] | {"expires_on": "2026-09-01"}
    add(folder, "lots", **again)
    fault = only_fault(folder)
    assert place(fault) == ("lots.csv", 6, "lot_id")
    assert fault.problem == "row 3 has it already, with another expires_on"
