"""Changes to a planned schedule, or to the shop it was planned for, each of which breaks the rule it is listed under.

A mutation gets the shop, the schedule and a number to pick the place of the change with; None says that there is no such place.
Other rules may break as well: work that moves usually takes people, tools and warm cartridges with it.
"""

from collections.abc import Callable
from datetime import date, datetime, timedelta
from typing import Any

from draws import changed

from check.tiny import put, with_true_stays
from scheduler.schedule.schedule import Schedule, Span, Work
from scheduler.shop.calendar import Closure
from scheduler.shop.methods import FILM_STEPS, Emits, Step
from scheduler.shop.shop import Shop

Case = tuple[Shop, Schedule]
Mutation = Callable[[Shop, Schedule, int], Case | None]
MUTATIONS: dict[str, tuple[str, Mutation]] = {}


def breaks(rule: str) -> Callable[[Mutation], Mutation]:
    """List a mutation under the rule that it breaks."""

    def listed(mutation: Mutation) -> Mutation:
        MUTATIONS[mutation.__name__] = (rule, mutation)
        return mutation

    return listed


def pick(schedule: Schedule, number: int, wanted: Callable[[Work], bool] = lambda _work: True) -> Work | None:
    """One of the works that are wanted."""
    works = [work for work in schedule.work if wanted(work)]
    return works[number % len(works)] if works else None


def is_film(work: Work) -> bool:
    """A film from cartridges."""
    return work.step in FILM_STEPS and any(draw.loaded_at for draw in work.draws)


def start_at(schedule: Schedule, work: Work, start: datetime) -> Schedule:
    """Move a work, its stay with it."""
    shift = start - work.start
    spans = tuple(Span(start=span.start + shift, end=span.end + shift) for span in work.spans)
    return with_true_stays(put(schedule, work.work_id, spans=spans))


def neighbour(schedule: Schedule, work: Work, step: int) -> Work | None:
    """The work of the same unit before (-1) or after (1) a work."""
    chain = sorted((w for w in schedule.work if w.unit_id == work.unit_id), key=lambda w: w.start)
    place = chain.index(work) + step
    return chain[place] if 0 <= place < len(chain) else None


def last_film(schedule: Schedule, work: Work) -> Work:
    """The last film on the unit of a work."""
    return max((w for w in schedule.work if w.unit_id == work.unit_id and w.step in FILM_STEPS), key=lambda w: w.start)


def with_rows(shop: Shop, table: str, change: Callable[[Any], dict[str, Any]]) -> Shop:
    """The shop with every row of a table changed."""
    return with_table(shop, table, [row.model_copy(update=change(row)) for row in getattr(shop, table)])


def with_table(shop: Shop, table: str, rows: list[Any]) -> Shop:
    """The shop with a table replaced; a shop of its own, without the look-ups that the old one has made."""
    fields = {name: getattr(shop, name) for name in Shop.model_fields}
    return Shop.model_validate({**fields, table: rows})


@breaks("step_order")
def drop_a_work(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A work is left out."""
    work = pick(schedule, number)
    return shop, schedule.model_copy(update={"work": tuple(w for w in schedule.work if w is not work)})


@breaks("step_order")
def start_with_the_next_step(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A work slips to the start of the step that must follow it."""
    work = pick(schedule, number, lambda w: w.step is not Step.DISPATCH)
    following = work and neighbour(schedule, work, 1)
    return (shop, start_at(schedule, work, following.start)) if work and following else None


@breaks("step_order")
def swap_the_names_of_two_steps(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A wash is called an inspection."""
    work = pick(schedule, number, lambda w: w.step is Step.WASH)
    return (shop, put(schedule, work.work_id, name="inspect", work_id=f"{work.unit_id}/inspect")) if work else None


@breaks("flash_off")
def coat_wet_solvent(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """The step after a wipe starts as the wipe ends."""
    work = pick(schedule, number, lambda w: w.step is Step.WIPE)
    following = work and neighbour(schedule, work, 1)
    return (shop, start_at(schedule, following, work.end)) if work and following else None


@breaks("hold_time")
def let_clean_steel_wait(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """Wiped steel holds for no time at all."""
    return with_rows(shop, "methods", lambda row: {"hold_h": 0.0} if row.step is Step.WIPE else {}), schedule


@breaks("recoat_window")
def coat_a_wet_film(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A coat starts as the one before it ends."""
    work = pick(schedule, number, lambda w: w.name == "coat-2")
    below = next((w for w in schedule.work if work and w.unit_id == work.unit_id and w.name == "coat-1"), None)
    return (shop, start_at(schedule, work, below.end)) if work and below else None


@breaks("recoat_window")
def coat_a_film_of_last_week(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A coat slips by 10 days, more than the 128 h that the lining stays open at its coldest."""
    work = pick(schedule, number, lambda w: w.name == "coat-2")
    return (shop, start_at(schedule, work, work.start + timedelta(days=10))) if work else None


@breaks("dry_to_handle")
def move_out_a_soft_film(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A coated unit is moved out as its last film ends."""
    work = pick(schedule, number, lambda w: w.name == "move_out-coat")
    return (shop, start_at(schedule, work, last_film(schedule, work).end)) if work else None


@breaks("return_to_service")
def hand_back_a_soft_film(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A coated unit is handed back as its last film ends."""
    work = pick(schedule, number, lambda w: w.step is Step.DISPATCH)
    return (shop, start_at(schedule, work, last_film(schedule, work).end)) if work else None


@breaks("bay_fit")
def change_the_bay(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A step is done in a bay where its unit is not."""
    work = pick(schedule, number, lambda w: w.bay_id is not None)
    others = [bay.bay_id for bay in shop.bays if work and bay.bay_id != work.bay_id]
    return (shop, put(schedule, work.work_id, bay_id=others[number % len(others)])) if work and others else None


@breaks("bay_fit")
def grow_the_units(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """The units weigh 10 t."""
    return with_rows(shop, "units", lambda _row: {"mass_kg": 10_000.0}), schedule


@breaks("bay_places")
def change_the_place(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A unit takes a place that its bay does not have."""
    stays = list(schedule.stays)
    stays[number % len(stays)] = stays[number % len(stays)].model_copy(update={"place": 99})
    return shop, schedule.model_copy(update={"stays": tuple(stays)})


@breaks("bay_places")
def share_a_place(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A unit comes into the place of one that is there, a minute before that one goes."""
    stay = schedule.stays[number % len(schedule.stays)]
    later = [s for s in schedule.stays if s.bay_id == stay.bay_id and s.start >= stay.end]
    if not later:
        return None
    early = later[0].model_copy(update={"start": stay.end - timedelta(minutes=1), "place": stay.place})
    return shop, schedule.model_copy(update={"stays": tuple(early if s is later[0] else s for s in schedule.stays)})


@breaks("bay_places")
def shut_a_bay(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A bay is shut for a minute while a unit stands in it."""
    stay = schedule.stays[number % len(schedule.stays)]
    middle = stay.start + (stay.end - stay.start) / 2
    row = {
        "what": "bay",
        "which": stay.bay_id,
        "closed_from": middle,
        "closed_until": middle + timedelta(minutes=1),
        "reason": "x",
    }
    later = middle > shop.site.plan_from
    return (shop.model_copy(update={"closures": (*shop.closures, Closure.model_validate(row))}), schedule) if later else None


@breaks("lifting")
def lift_by_hand(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A unit is moved without the lift."""
    work = pick(schedule, number, lambda w: w.step in {Step.MOVE_IN, Step.MOVE_OUT, Step.RECEIVE, Step.DISPATCH})
    return (shop, put(schedule, work.work_id, tools=())) if work else None


@breaks("shift_hours")
def work_at_night(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A work starts at two in the morning."""
    work = pick(schedule, number)
    return (shop, start_at(schedule, work, shop.local(work.start).replace(hour=2, minute=0))) if work else None


@breaks("shift_hours")
def cut_a_film_in_two(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """The sprayer stops for 15 min in the middle of a coat."""
    work = pick(schedule, number, is_film)
    if work is None:
        return None
    half = work.start + (work.end - work.start) / 2
    pause = timedelta(minutes=15)
    return shop, put(
        schedule, work.work_id, spans=(Span(start=work.start, end=half), Span(start=half + pause, end=work.end + pause))
    )


@breaks("shift_hours")
def work_faster(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A coat is sprayed in 5 min."""
    work = pick(schedule, number, is_film)
    end = work.start + timedelta(minutes=5) if work else None
    return (shop, put(schedule, work.work_id, spans=(Span(start=work.start, end=end),))) if work and end else None


@breaks("crew_skills")
def swap_people(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """Someone without the skill takes the first place of a step."""

    def unable(work: Work) -> list[str]:
        return [person.person_id for person in shop.crew if work.people[0].skill not in person.skills]

    work = pick(schedule, number, lambda w: bool(unable(w)))
    if work is None:
        return None
    stranger = work.people[0].model_copy(update={"person_id": unable(work)[number % len(unable(work))]})
    return shop, put(schedule, work.work_id, people=(stranger, *work.people[1:]))


@breaks("crew_skills")
def be_in_two_places(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A person of another unit's work at that time takes a place."""
    work = pick(schedule, number)
    if work is None:
        return None
    others = [w for w in schedule.work if w is not work and any(_share(a, b) for a in w.spans for b in work.spans)]
    if not others:
        return None
    who = others[number % len(others)].people[0].person_id
    people = (work.people[0].model_copy(update={"person_id": who}), *work.people[1:])
    return shop, put(schedule, work.work_id, people=people)


def _share(one: Span, other: Span) -> bool:
    return max(one.start, other.start) < min(one.end, other.end)


@breaks("spray_attendant")
def spray_alone(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A sprayer has nobody by."""
    work = pick(schedule, number, is_film)
    return (shop, put(schedule, work.work_id, people=work.people[:1])) if work else None


@breaks("respirator_hours")
def wear_a_respirator_too_long(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """Nobody may wear a respirator for more than 3 min a day."""
    return with_rows(shop, "crew", lambda _row: {"respirator_h": 0.05}), schedule


@breaks("air_supply")
def lose_air(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """The compressors leak all but a tenth of a litre."""
    return with_rows(shop, "equipment", lambda row: {"fad_l_s": 0.1} if row.fad_l_s else {}), schedule


@breaks("gun_sessions")
def spray_without_a_gun(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A coat names no gun."""
    work = pick(schedule, number, is_film)
    return (shop, put(schedule, work.work_id, tools=())) if work else None


@breaks("gun_sessions")
def change_over_slowly(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A gun takes a month to change over."""
    return with_rows(shop, "equipment", lambda row: {"change_min": 43_200.0} if row.change_min else {}), schedule


@breaks("warm_cartridges")
def load_late(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """Cartridges go into the warmer half an hour before they are sprayed."""
    work = pick(schedule, number, is_film)
    late = work.start - timedelta(minutes=30) if work else None
    return (
        (shop, put(schedule, work.work_id, draws=tuple(d.model_copy(update={"loaded_at": late}) for d in work.draws)))
        if work
        else None
    )


@breaks("warm_cartridges")
def load_too_few(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """One cartridge has no slot."""
    work = pick(schedule, number, is_film)
    nowhere = {"warmer_id": None, "slot": None, "loaded_at": None}
    return (shop, put(schedule, work.work_id, draws=changed(work.draws, **nowhere))) if work else None


@breaks("warm_cartridges")
def share_a_slot(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """Two cartridges of a coat are in one slot."""
    work = pick(schedule, number, lambda w: len(w.loads) == 1 and w.loads[0].cartridges > 1)
    place = {"warmer_id": work.draws[0].warmer_id, "slot": work.draws[0].slot} if work else {}
    return (shop, put(schedule, work.work_id, draws=changed(work.draws, 1, **place))) if work else None


@breaks("cartridge_stock")
def draw_more(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A litre more is drawn from a pack than the step needs."""
    work = pick(schedule, number, lambda w: bool(w.draws))
    if work is None:
        return None
    return shop, put(schedule, work.work_id, draws=changed(work.draws, sprayed_ml=work.draws[0].sprayed_ml + 1000))


@breaks("cartridge_stock")
def draw_less(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A tenth of what a pack gives is missing."""
    work = pick(schedule, number, lambda w: any(d.sprayed_ml > 100 for d in w.draws))
    if work is None:
        return None
    which = next(k for k, d in enumerate(work.draws) if d.sprayed_ml > 100)
    missing_ml = work.draws[which].sprayed_ml / 10
    less = {"sprayed_ml": work.draws[which].sprayed_ml - missing_ml, "left_ml": work.draws[which].left_ml + missing_ml}
    return shop, put(schedule, work.work_id, draws=changed(work.draws, which, **less))


@breaks("cartridge_stock")
def waste_nothing(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A cartridge is started without its first shot."""
    work = pick(schedule, number, lambda w: bool(w.draws) and w.draws[0].purge_ml > 1)
    return (shop, put(schedule, work.work_id, draws=changed(work.draws, purge_ml=0.0))) if work else None


@breaks("cartridge_stock")
def open_it_again(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A new pack is said to have been opened before."""
    work = pick(schedule, number, lambda w: bool(w.draws) and w.draws[0].begins == "opened")
    return (shop, put(schedule, work.work_id, draws=changed(work.draws, begins="resumed"))) if work else None


@breaks("gun_sessions")
def go_on_after_the_gel_time(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A pack that lay recapped is said to have stayed in the gun."""
    work = pick(schedule, number, lambda w: any(d.begins == "resumed" and d.loaded_at for d in w.draws))
    if work is None:
        return None
    which = next(k for k, d in enumerate(work.draws) if d.begins == "resumed")
    return shop, put(schedule, work.work_id, draws=changed(work.draws, which, begins="continued"))


@breaks("cartridge_stock")
def lose_stock(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """Of every lot one pack fewer is there than is drawn."""
    drawn: dict[str, int] = {}
    for draw in (draw for work in schedule.work for draw in work.draws):
        drawn[draw.lot_id] = drawn.get(draw.lot_id, 0) + (draw.begins == "opened")
    return with_rows(shop, "lots", lambda row: {"packs": max(drawn.get(row.lot_id, 0) - 1, 0)}), schedule


@breaks("cartridge_stock")
def let_stock_expire(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """Every lot expired the day before the plan."""
    gone = (shop.local(shop.site.plan_from) - timedelta(days=1)).date()
    return with_rows(shop, "lots", lambda _row: {"expires_on": gone}), schedule


@breaks("cartridge_stock")
def use_it_before_it_arrives(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """The lots of a coat arrive the day after it."""
    work = pick(schedule, number, is_film)
    if work is None:
        return None
    lots, arrives_on = {draw.lot_id for draw in work.draws}, shop.local(work.end).date() + timedelta(days=1)
    return with_rows(shop, "lots", lambda row: {"arrives_on": arrives_on} if row.lot_id in lots else {}), schedule


@breaks("cartridge_stock")
def use_it_the_day_after_it_expires(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """The lots of a coat expire the day before it."""
    work = pick(schedule, number, is_film)
    if work is None:
        return None
    lots, expires_on = {draw.lot_id for draw in work.draws}, shop.local(work.start).date() - timedelta(days=1)
    return with_rows(shop, "lots", lambda row: {"expires_on": expires_on} if row.lot_id in lots else {}), schedule


@breaks("cartridge_stock")
def open_a_cartridge_twice(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """Two coats open the same cartridge."""
    work = pick(schedule, number, is_film)
    other = pick(
        schedule, number, lambda w: is_film(w) and work is not None and w.product_id == work.product_id and w is not work
    )
    if work is None or other is None:
        return None
    mine = next((d for d in work.draws if d.begins == "opened"), None)
    which = next((k for k, d in enumerate(other.draws) if d.begins == "opened"), None)
    if mine is None or which is None:
        return None
    same = changed(other.draws, which, cartridge_id=mine.cartridge_id, lot_id=mine.lot_id)
    return shop, put(schedule, other.work_id, draws=same)


@breaks("cartridge_stock")
def spray_the_heel(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """Of two cartridges of a coat the first gives its heel as well, and the second as much less."""
    heel = {product.product_id: product.end_heel_ml for product in shop.products}

    def pair(work: Work) -> tuple[int, int] | None:
        ml = heel.get(work.product_id or "", 0.0)
        dry = [k for k, d in enumerate(work.draws) if ml > 1 and d.left_ml < ml + 0.01]
        rest = [k for k, d in enumerate(work.draws) if d.sprayed_ml > ml + 1 and k not in dry[:1]]
        return (dry[0], rest[0]) if dry and rest else None

    work = pick(schedule, number, lambda w: is_film(w) and pair(w) is not None)
    places = pair(work) if work else None
    if work is None or places is None:
        return None
    ml, (dry, rest) = heel[work.product_id or ""], places
    more = changed(work.draws, dry, sprayed_ml=work.draws[dry].sprayed_ml + ml, left_ml=work.draws[dry].left_ml - ml)
    less = {"sprayed_ml": work.draws[rest].sprayed_ml - ml, "left_ml": work.draws[rest].left_ml + ml}
    return shop, put(schedule, work.work_id, draws=changed(more, rest, **less))


@breaks("cartridge_stock")
def take_one_from_nowhere(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A cartridge has a number that its lot does not have."""
    work = pick(schedule, number, is_film)
    return (
        (shop, put(schedule, work.work_id, draws=changed(work.draws, cartridge_id=f"{work.draws[0].lot_id}#99999")))
        if work
        else None
    )


@breaks("open_life")
def let_leftovers_lapse(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """An opened pack keeps for its day alone, and one that was recapped is used on another day."""
    days: dict[str, set[date]] = {}
    for work in schedule.work:
        for draw in work.draws:
            days.setdefault(draw.cartridge_id, set()).add(shop.local(work.start).date())
    if all(len(found) == 1 for found in days.values()):
        return None
    return with_rows(shop, "products", lambda _row: {"open_life_d": 0.5}), schedule


@breaks("open_life")
def use_an_old_pack(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A pack of a coat is one that was opened two years before."""
    work = pick(schedule, number, is_film)
    if work is None:
        return None
    long_ago = shop.local(shop.site.plan_from).date() - timedelta(days=730)
    lot_id = work.draws[0].lot_id
    pack = {"pack_id": "X1", "lot_id": lot_id, "opened_on": long_ago, "remaining_ml": 1500}
    draws = changed(work.draws, cartridge_id="X1", begins="resumed", left_ml=1500 - work.draws[0].sprayed_ml - 60)
    return with_table(shop, "opened", [pack]), put(schedule, work.work_id, draws=draws)


@breaks("weather_window")
def wait_for_a_heatwave(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A step of the plan asks for 55 °C."""
    work = pick(schedule, number)
    return (with_rows(shop, "methods", lambda row: {"air_min_c": 55.0} if work and row.step is work.step else {}), schedule)


@breaks("weather_window")
def spray_in_fog(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """The products want the steel 40 K above the dew point."""
    return with_rows(shop, "products", lambda _row: {"dew_margin_k": 40.0}), schedule


@breaks("air_space")
def grind_beside_a_wet_film(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """All bays share their air, and one unit is abraded while another is coated."""
    film = pick(schedule, number, is_film)
    dusty = {row.step for row in shop.methods if row.emits is Emits.DUST}
    work = pick(schedule, number, lambda w: w.step in dusty and film is not None and w.unit_id != film.unit_id)
    if film is None or work is None:
        return None
    return with_rows(shop, "bays", lambda _row: {"air_space": "all"}), start_at(schedule, work, film.start)


@breaks("release")
def start_before_it_comes(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A unit is received an hour before it is available."""
    work = pick(schedule, number, lambda w: w.step is Step.RECEIVE)
    start = shop.unit_by_id[work.unit_id].available_from - timedelta(hours=1) if work else None
    return (shop, start_at(schedule, work, start)) if work and start else None


@breaks("release")
def keep_it_too_long(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """Every unit must leave as the plan begins."""
    return with_rows(shop, "units", lambda _row: {"must_leave_by": shop.site.plan_from}), schedule


@breaks("units_away")
def take_every_unit_at_once(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A unit comes an hour before another of its order goes, and the customer can spare one."""
    orders = [order.order_id for order in shop.orders if len(shop.units_of[order.order_id]) > 1]
    if not orders:
        return None
    mine = [w for w in schedule.work if w.order_id == orders[number % len(orders)]]
    back = min((w for w in mine if w.step is Step.DISPATCH), key=lambda w: w.end)
    other = next(w for w in mine if w.step is Step.RECEIVE and w.unit_id != back.unit_id)
    early = start_at(schedule, other, back.start - timedelta(hours=1))
    return with_rows(shop, "orders", lambda _row: {"most_units_away": 1}), early


@breaks("haulage")
def fill_the_yard(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A unit comes as another does, and the yard has room for one."""
    first, second = sorted((w for w in schedule.work if w.step is Step.RECEIVE), key=lambda w: w.start)[:2]
    return shop.model_copy(update={"site": shop.site.model_copy(update={"yard_places": 1})}), start_at(
        schedule, second, first.start
    )


@breaks("haulage")
def send_one_truck_to_two(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """Two units are fetched at once with one truck."""
    first, second = sorted((w for w in schedule.work if w.step is Step.RECEIVE), key=lambda w: w.start)[:2]
    return shop, start_at(schedule, second, first.start)


@breaks("pinned_work")
def fix_another_time(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A person has fixed a step for an hour later."""
    work = pick(schedule, number)
    pin = {"unit_id": work.unit_id, "step": work.name, "start_at": work.start + timedelta(hours=1)} if work else {}
    return with_table(shop, "pinned", [pin]), schedule


@breaks("done_work")
def call_it_done(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A step is called done without a record."""
    work = pick(schedule, number)
    return (shop, put(schedule, work.work_id, done=True)) if work else None


@breaks("done_work")
def do_it_again(shop: Shop, schedule: Schedule, number: int) -> Case | None:
    """A step that was done yesterday is planned again."""
    work = pick(schedule, number)
    yesterday = shop.site.plan_from - timedelta(days=1)
    row = {"unit_id": work.unit_id, "step": work.name, "started_at": yesterday, "ended_at": yesterday} if work else {}
    return with_table(shop, "done", [row]), schedule
