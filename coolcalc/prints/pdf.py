"""The job card as PDF: typst lays it out, in type that it carries along."""

import dataclasses
import datetime as dt
import importlib.resources
import json

from ..errors import InputError
from .content import HEADING, MARGIN_MM, SIZES, refuse_too_long

#: As typst calls the papers.
_PAPERS = {"A4": "a4", "Letter": "us-letter"}


def pdf_of(content):
    """Return the PDF of a card: the largest type in which it is one page.

    Parameters
    ----------
    content : coolcalc.prints.content.Content

    Raises
    ------
    InputError
        If typst is not installed, a letter is not in its type, or the card does not fit.
    """
    typst = _typst()
    template = importlib.resources.files(__package__) / "card.typ"
    with importlib.resources.as_file(template) as path:
        for details in content.details:
            for sizes in SIZES:
                given = {
                    "input": path,
                    "ignore_system_fonts": True,
                    "sys_inputs": {"card": json.dumps(_data(content, sizes, details))},
                }
                if typst.query(selector="<pages>", field="value", one=True, **given) == "1":
                    return _compiled(typst, content, given)
    return refuse_too_long()


def _typst():
    try:
        import typst
    except ImportError:
        raise InputError(
            "card",
            "pdf",
            "a PDF is made with typst, which is not installed; run pip install "
            "'coolcalc[print]', or save the card as .html and print that.",
        ) from None
    return typst


def _data(content, sizes, details):
    return {
        "heading": HEADING,
        "title": content.title,
        "date": [content.on.year, content.on.month, content.on.day],
        "paper": _PAPERS[content.paper],
        "margin_mm": MARGIN_MM,
        "sizes": dataclasses.asdict(sizes),
        "who": content.who,
        "rows": content.rows,
        "notes": content.notes,
        "steps": content.steps,
        "cautions": content.cautions,
        "blanks": content.blanks,
        "details": details,
    }


def _compiled(typst, content, given):
    # Of the accessible kind: tagged, and refused rather than printed with a letter missing.
    midnight = dt.datetime(content.on.year, content.on.month, content.on.day, tzinfo=dt.UTC)
    try:
        return typst.compile(**given, format="pdf", pdf_standards="ua-1", timestamp=midnight)
    except typst.TypstError as error:
        if "could not be displayed" not in error.message:
            raise
        raise InputError(
            "card",
            error.message,
            "a letter on it is not in the type that the PDF is printed with; write names in "
            "Latin, Greek or Cyrillic letters, or save the card as .html and print that.",
        ) from None
