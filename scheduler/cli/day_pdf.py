"""The sheet of a day, or of one person on that day, as PDF."""

from pathlib import Path
from typing import TYPE_CHECKING

from scheduler.shop.whole_file import put_file

if TYPE_CHECKING:
    from scheduler.documents.sheets.day_sheet import DaySheet
    from scheduler.documents.store.pick import PickList
    from scheduler.documents.words.work_words import WorkWords


def day_pdf(words: "WorkWords", sheet: "DaySheet", picks: "PickList", person_id: str | None, out: Path) -> Path:
    """Write the file.

    Parameters
    ----------
    words : WorkWords
    sheet : DaySheet
    picks : PickList
        Stands behind the sheet of the whole day.
    person_id : str or None
        Whose sheet it is; None for the whole day.
    out : Path
        File, or the folder that it goes into.
    """
    from scheduler.documents.paper.paper_pages import crew_page, day_page
    from scheduler.documents.paper.pdf import pdf_of

    name = f"day-{sheet.day}.pdf" if person_id is None else f"crew-{sheet.day}-{person_id}.pdf"
    page = day_page(words, sheet, picks) if person_id is None else crew_page(words, sheet, [person_id])
    return put_file(out if out.suffix.lower() == ".pdf" else out / name, pdf_of(page))
