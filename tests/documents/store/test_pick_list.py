"""What is fetched for a day, counted by hand on the sample."""

import csv
import io
from datetime import timedelta

from documents.sample import MONDAY, sample_schedule, sample_shop
from scheduler.documents.store.pick import PickList
from scheduler.documents.store.pick_list import pick_list
from scheduler.documents.store.pick_list_csv import pick_list_csv
from scheduler.documents.words.reading_units import NARROW_SPACE
from scheduler.documents.words.work_words import WorkWords

WORDS = WorkWords(sample_shop(), sample_schedule())
TUESDAY = MONDAY + timedelta(days=1)


def amounts(picks: PickList) -> dict[tuple[str, str], float]:
    """Amount by item and source."""
    return {(p.item, p.source): p.amount for p in picks.picks}


def test_opened_packs_come_first_then_lots() -> None:
    """Tuesday sprays twelve cartridges, one of them the opened one; all are warmed overnight and fetched on Monday."""
    lines = [p for p in pick_list(WORDS, MONDAY).picks if p.group == "Cartridges"]
    assert [(p.source, p.amount) for p in lines] == [("opened O-1", 1), ("lot L-01", 11)]
    assert lines[0].note.startswith("use first; lot L-01, ")
    assert lines[0].note.endswith("; 1 into the warmer for Tue 21 Oct")
    assert lines[1].note == "expires Thu 20 Nov 2025; 11 into the warmer for Tue 21 Oct"


def test_what_is_left_goes_back_and_what_is_empty_is_thrown_away() -> None:
    """Nothing is lost between two lists.

    Coat 1 of unit 1 sprays 410 mL of the opened pack, then 850 and 840.4 mL: the last holds 39.6 mL, which heel (30 mL) and
    recap purge (20 mL) take. Each other coat sprays 850 + 850 + 400.4 mL and brings one back with 479.6 mL.
    """
    picks = pick_list(WORDS, TUESDAY).picks
    back = [p for p in picks if p.group == "Bring back" and p.item == "Elastomer coat"]
    away = [p for p in picks if p.group == "Throw away"]
    assert [p.source for p in back] == ["L-01#006", "L-01#009", "L-01#012"]
    assert all("recapped, 479" in p.note and "keeps until Thu 20 Nov 2025" in p.note for p in back)
    assert [(p.item, p.amount) for p in away] == [("Elastomer coat", 9)]


def test_every_cartridge_has_its_mixer_and_tip() -> None:
    """One static mixer with nut and one spray tip for each cartridge, the opened one too (common practice, no source)."""
    found = amounts(pick_list(WORDS, TUESDAY))
    assert (found["Static mixer with nut", ""], found["Spray tip", ""]) == (12, 12)


def test_primer_comes_in_cans_without_mixers() -> None:
    """Monday primes two units: two cans and no mixer."""
    found = amounts(pick_list(WORDS, MONDAY))
    assert found["Bonding primer", "lot L-02"] == 2
    assert ("Static mixer with nut", "") not in found


def test_solvent_and_discs_follow_the_area() -> None:
    """Two units of 14.25 m²: 100 + 60 mL a square metre is 4,560, up to 4,600 mL; five discs each at 3 m² a disc."""
    found = amounts(pick_list(WORDS, MONDAY))
    assert found["Fast-drying solvent", ""] == 4600
    assert found["Abrasive disc", ""] == 10


def test_clothing_follows_the_people_under_a_respirator() -> None:
    """Four people on Monday: four suits and filters; gloves for each of them in wash, wipe and prime: 2 + 2 + 4 pairs."""
    found = amounts(pick_list(WORDS, MONDAY))
    assert (found["Protective suit", ""], found["Pair of filters", ""], found["Pair of gloves", ""]) == (4, 4, 8)


def test_a_day_of_moves_needs_nothing() -> None:
    """Friday only inspects and hands over."""
    assert pick_list(WORDS, MONDAY + timedelta(days=4)).picks == ()


def test_work_that_is_done_needs_nothing_more() -> None:
    """History is not fetched again."""
    done = tuple(work.model_copy(update={"done": True}) for work in WORDS.schedule.work)
    words = WorkWords(WORDS.shop, WORDS.schedule.model_copy(update={"work": done}))
    assert pick_list(words, TUESDAY).picks == ()


def test_amounts_read_in_the_unit_of_the_site() -> None:
    """4,600 mL is 155.6 US fl oz, rounded up."""
    picks = pick_list(WorkWords(sample_shop(reads="us"), sample_schedule()), MONDAY).picks
    shown = next(p.shown for p in picks if p.unit == "mL")
    assert shown.replace(NARROW_SPACE, " ") == "155.6 US fl oz"


def test_csv_holds_every_line() -> None:
    """As many rows as lines, with amount and unit apart."""
    picks = pick_list(WORDS, TUESDAY)
    rows = list(csv.DictReader(io.StringIO(pick_list_csv(picks).removeprefix("\ufeff"))))
    assert len(rows) == len(picks.picks)
    assert (rows[0]["item"], rows[0]["amount"], rows[0]["source"]) == ("Elastomer coat", "12", "lot L-01")
