"""The job card: one page to take to the work, from any answer, as HTML or as PDF."""

from ..files import save
from .content import read_content
from .page import html_of
from .pdf import pdf_of


def card_html(answer, *, vehicle="", by="", on=None, paper="A4"):
    """Return the job card of an answer as a complete HTML document for one printed page.

    Parameters
    ----------
    answer : coolcalc.answers.Answer
        Where it has ``card_rows``, they stand on the card in place of its rows.
    vehicle, by : str
        Printed as they are; empty, there is a line to write on.
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
        If an option cannot be used, or the answer does not fit on one page.
    """
    return html_of(read_content(answer, vehicle=vehicle, by=by, on=on, paper=paper))


def card_pdf(answer, *, vehicle="", by="", on=None, paper="A4"):
    """Return the job card of an answer as a PDF of one page.

    The same answer and options give the same bytes, with the same version of typst, on any
    machine: typst brings its own type, and the only date in it is ``on``.

    Parameters
    ----------
    answer, vehicle, by, on, paper
        As for `card_html`.

    Returns
    -------
    bytes

    Raises
    ------
    InputError
        If an option cannot be used, typst is not installed, a letter is not in its type, or the
        answer does not fit on one page.
    """
    return pdf_of(read_content(answer, vehicle=vehicle, by=by, on=on, paper=paper))


def save_card(answer, path, *, vehicle="", by="", on=None, paper="A4"):
    """Write the job card of an answer to a file.

    Parameters
    ----------
    answer : coolcalc.answers.Answer
    path : str or path
        Its suffix decides: .pdf or .html.
    vehicle, by, on, paper
        As for `card_html`.

    Returns
    -------
    pathlib.Path

    Raises
    ------
    InputError
        If the suffix is another, the folder is missing or cannot be written to, or the card
        cannot be made. A file that was there stays as it was.
    """

    def read():
        return read_content(answer, vehicle=vehicle, by=by, on=on, paper=paper)

    return save(path, {".pdf": lambda: pdf_of(read()), ".html": lambda: html_of(read()).encode()})
