"""The sheet of a frost standard: one page to hang up where vehicles are read."""

from ..files import save
from .standard_content import read_standard
from .standard_layout import html_of, pdf_of


def standard_sheet_html(standard, *, by="", on=None, paper="A4"):
    """Return the sheet of a frost standard as a complete HTML document for one printed page.

    Parameters
    ----------
    standard : coolcalc.jobs.frost_answer.FrostStandard
    by : str
        Who sets it; empty, there is a line to write on.
    on : datetime.date, optional
        Without it, today.
    paper : str
        "A4" or "Letter".

    Returns
    -------
    str
        It asks for nothing from outside.

    Raises
    ------
    InputError
        If an option cannot be used, or the standard does not fit on one page.
    """
    return html_of(read_standard(standard, by=by, on=on, paper=paper))


def standard_sheet_pdf(standard, *, by="", on=None, paper="A4"):
    """Return the sheet of a frost standard as a PDF of one page.

    The same standard and options give the same bytes, with the same version of typst, on any
    machine.

    Parameters
    ----------
    standard, by, on, paper
        As for `standard_sheet_html`.

    Returns
    -------
    bytes

    Raises
    ------
    InputError
        As for `standard_sheet_html`; also if typst is not installed, or a letter is not in its
        type.
    """
    return pdf_of(read_standard(standard, by=by, on=on, paper=paper))


def save_standard_sheet(standard, path, *, by="", on=None, paper="A4"):
    """Write the sheet of a frost standard to a file.

    Parameters
    ----------
    standard : coolcalc.jobs.frost_answer.FrostStandard
    path : str or path
        Its suffix decides: .pdf or .html.
    by, on, paper
        As for `standard_sheet_html`.

    Returns
    -------
    pathlib.Path

    Raises
    ------
    InputError
        If the suffix is another, the folder is missing or cannot be written to, or the sheet
        cannot be made. A file that was there stays as it was.
    """

    def read():
        return read_standard(standard, by=by, on=on, paper=paper)

    return save(path, {".pdf": lambda: pdf_of(read()), ".html": lambda: html_of(read()).encode()})
