"""The filler label: what is inside, how cold it may get, and how to top it up."""

from ..files import save
from .label_content import read_label
from .label_layout import html_of, pdf_of


def label_html(mixture, **options):
    """Return the label of a mix as a complete HTML document for one printed page.

    Parameters
    ----------
    mixture : Mixture or Answer
        What is inside; of an answer, the mix that it ends with.
    vehicle, by : str, optional
        Printed as they are; without them, there are lines to write on.
    on : datetime.date, optional
        Since when it is inside; without it, today.
    margin : text or Quantity, optional
        What the working low lies above the freezing point, a difference of 0 to 20 K. Without
        it, 5 K: common practice, no source. [K]
    instrument : str, optional
        What the strength was read on. Without it, the label of an answer says that the strength
        was worked out from the litres.
    units : str, optional
        One of `coolcalc.units.SYSTEMS`; without it, those of the answer, and metric for a mix.
    size : str, optional
        "A6" (148 mm wide, 105 mm high), the usual one, or "A7" (105 mm, 74 mm).

    Returns
    -------
    str
        It asks for nothing from outside.

    Raises
    ------
    InputError
        If there is no mix, no freezing point can be promised (plain water, and stronger than 60
        mass % of glycol), an option cannot be used, or it does not fit.

    Notes
    -----
    The freezing point is rounded to the warm side, and of a strength with a give or take it is
    the warmest that is likely, at 95 %: never colder than computed. So is the working low.
    """
    return html_of(read_label(mixture, **options))


def label_pdf(mixture, **options):
    """Return the label of a mix as a PDF of one page.

    The same mix and options give the same bytes, with the same version of typst, on any machine.

    Parameters
    ----------
    mixture, **options
        As for `label_html`.

    Returns
    -------
    bytes

    Raises
    ------
    InputError
        As for `label_html`; also if typst is not installed, or a letter is not in its type.
    """
    return pdf_of(read_label(mixture, **options))


def save_label(mixture, path, **options):
    """Write the label of a mix to a file.

    Parameters
    ----------
    mixture : Mixture or Answer
    path : str or path
        Its suffix decides: .pdf or .html.
    **options
        As for `label_html`.

    Returns
    -------
    pathlib.Path

    Raises
    ------
    InputError
        If the suffix is another, the folder is missing or cannot be written to, or the label
        cannot be made. A file that was there stays as it was.
    """

    def read():
        return read_label(mixture, **options)

    return save(path, {".pdf": lambda: pdf_of(read()), ".html": lambda: html_of(read()).encode()})
