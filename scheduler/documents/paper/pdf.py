"""Pages for paper as PDF, by WeasyPrint, which comes with the extra ``pdf``; tagged, with the text as Unicode."""

import logging
from typing import Final

from scheduler.collection import no_collection

VARIANT: Final = "pdf/ua-1"
"""Tagged for screen readers (ISO 14289-1)."""


class PdfMissingError(RuntimeError):
    """WeasyPrint, or a library of the system that it needs, is not there."""


def require_pdf() -> None:
    """Ask for PDF before a long search, not after it.

    Raises
    ------
    PdfMissingError
        If no PDF can be made here; says how to get it.
    """
    try:
        import weasyprint  # noqa: F401
    except ImportError as error:
        msg = "PDF needs WeasyPrint; install it with: pip install 'coatrun[pdf]'. The HTML sheets print on A4 without it"
        raise PdfMissingError(msg) from error
    except OSError as error:
        msg = f"PDF needs the Pango library of the system, which is not there ({error}); the HTML sheets print on A4 without it"
        raise PdfMissingError(msg) from error


def pdf_of(html: str) -> bytes:
    """Lay a page out on A4.

    Parameters
    ----------
    html : str
        One of our pages: it holds everything that it needs, so nothing is fetched.

    Returns
    -------
    bytes
        The PDF file.

    Raises
    ------
    PdfMissingError
        If no PDF can be made here.
    """
    require_pdf()
    import weasyprint

    logging.getLogger("weasyprint").setLevel(logging.CRITICAL)  # it tells of style rules for browsers that it leaves out
    with no_collection():
        document = weasyprint.HTML(string=html, url_fetcher=weasyprint.URLFetcher(allowed_protocols=("data",)))
        pdf: bytes = document.write_pdf(pdf_variant=VARIANT)
    return pdf
