"""Reference pages, made from what the program itself goes by."""

from collections.abc import Callable, Mapping
from typing import Final

from scheduler.documents.site.from_code import check_values_page, commands_page, rules_page
from scheduler.documents.site.from_models import schedule_page, settings_page, tables_page

PAGES: Final[Mapping[str, Callable[[], str]]] = {
    "reference/tables.md": tables_page,
    "reference/settings.md": settings_page,
    "reference/commands.md": commands_page,
    "reference/rules.md": rules_page,
    "reference/schedule.md": schedule_page,
    "background/check-values.md": check_values_page,
}
"""Generated pages by their place in the site."""
