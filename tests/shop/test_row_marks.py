"""Which rows of a shop have changed since a schedule was made of it."""

from datetime import timedelta

from scheduler.shop.row_marks import changed_since, row_marks
from scheduler.shop.shop import Shop


def test_a_shop_has_not_changed_against_itself(template: Shop) -> None:
    """Every table has its marks and none differs."""
    assert changed_since(row_marks(template), template) == ()


def test_each_kind_of_change_is_named_with_its_rows(template: Shop) -> None:
    """A unit that comes later, an order less, a setting: file, keys and what happened to them."""
    marks = row_marks(template)
    late = template.units[0].model_copy(update={"available_from": template.units[0].available_from + timedelta(days=1)})
    site = template.site.model_copy(update={"yard_places": template.site.yard_places + 1})
    tables = {"units": (late, *template.units[1:]), "crew": template.crew[1:], "site": site}
    found = [change.text() for change in changed_since(marks, template.model_copy(update=tables))]
    assert found == [
        f"units.csv: {late.unit_id} changed",
        f"crew.csv: {template.crew[0].person_id} gone",
        "site.toml: yard_places changed",
    ]


def test_a_new_row_is_new(template: Shop) -> None:
    """One more person."""
    more = template.crew[0].model_copy(update={"person_id": "zoe"})
    (change,) = changed_since(row_marks(template), template.model_copy(update={"crew": (*template.crew, more)}))
    assert (change.new, change.gone, change.other) == (("zoe",), (), ())
