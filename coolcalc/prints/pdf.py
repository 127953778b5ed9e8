"""The job card as PDF."""

import dataclasses

from .content import HEADING, MARGIN_MM, SIZES, refuse_too_long
from .typesetting import one_page

#: As typst calls the papers.
PAPER_NAMES = {"A4": "a4", "Letter": "us-letter"}


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
    trials = (_data(content, sizes, details) for details in content.details for sizes in SIZES)
    return one_page("card", content.on, trials) or refuse_too_long()


def _data(content, sizes, details):
    return {
        "title": f"{HEADING}: {content.title}",
        "paper": PAPER_NAMES[content.paper],
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
