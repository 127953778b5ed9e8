"""A print as PDF: typst lays it out, in type that it carries along."""

import datetime as dt
import importlib.resources
import json

from ..errors import InputError

#: What every template begins with.
_HEAD = "paper.typ"


def one_page(kind, on, trials):
    """Return the PDF of the first of several settings that is one page; None where none is.

    Parameters
    ----------
    kind : str
        "card" or "label": names the template, and the print in refusals.
    on : datetime.date
        The only date in it.
    trials : iterable of dict
        What the template is told: data, none of it markup.

    Raises
    ------
    InputError
        If typst is not installed, or a letter is not in its type.
    """
    typst = _typst(kind)
    files = importlib.resources.files(__package__)
    template = b"".join((files / name).read_bytes() for name in (_HEAD, f"{kind}.typ"))
    date = [on.year, on.month, on.day]
    for told in trials:
        given = {
            "input": template,
            "ignore_system_fonts": True,
            "sys_inputs": {"sheet": json.dumps(told | {"date": date})},
        }
        if typst.query(selector="<pages>", field="value", one=True, **given) == "1":
            return _compiled(typst, kind, dt.datetime(*date, tzinfo=dt.UTC), given)
    return None


def _typst(kind):
    try:
        import typst
    except ImportError:
        raise InputError(
            kind,
            "pdf",
            "a PDF is made with typst, which is not installed; run pip install "
            f"'coolcalc[print]', or save the {kind} as .html and print that.",
        ) from None
    return typst


def _compiled(typst, kind, midnight, given):
    # Of the accessible kind: tagged, and refused rather than printed with a letter missing.
    try:
        return typst.compile(**given, format="pdf", pdf_standards="ua-1", timestamp=midnight)
    except typst.TypstError as error:
        if "could not be displayed" not in error.message:
            raise
        raise InputError(
            kind,
            error.message,
            "a letter on it is not in the type that the PDF is printed with; write names in "
            f"Latin, Greek or Cyrillic letters, or save the {kind} as .html and print that.",
        ) from None
