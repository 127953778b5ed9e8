"""What a job card says, and in which sizes of type; the page and the PDF only lay it out."""

import dataclasses
import datetime as dt
import re

from ..answers import VOLUME, Row
from ..errors import InputError, one_of

HEADING = "Job card"
SOURCES_ELSEWHERE = ("Sources", "see the answer on the screen.")
ELSEWHERE = ("Assumptions and sources", "see the answer on the screen.")

#: Width and height of the papers. [mm]
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
#: On all four sides. [mm]
MARGIN_MM = 10.0
#: Letters of a vehicle's or a person's name.
LONGEST_NAME = 80

#: Lines to write on, as they stand on the card.
BLANKS = (
    ("Reading before", "Instrument", "Sample temperature"),
    ("Taken out", "Poured"),
    ("Reading afterwards", "Level next morning", "Added"),
    ("Waste", "Signature"),
)


@dataclasses.dataclass(frozen=True)
class Sizes:
    """Type of the steps, of the rest and of the small print; lines to write on; between blocks.

    Attributes
    ----------
    steps, text, small : float
        [pt]
    line, gap : float
        [mm]
    """

    steps: float
    text: float
    small: float
    line: float
    gap: float


#: From the largest to the smallest that can be read.
SIZES = (
    Sizes(16.0, 11.5, 8.0, 9.0, 4.0),
    Sizes(15.0, 11.0, 8.0, 8.5, 3.5),
    Sizes(14.0, 10.5, 8.0, 8.0, 3.0),
    Sizes(13.5, 10.0, 7.5, 7.5, 3.0),
    Sizes(13.0, 9.5, 7.5, 7.5, 2.5),
    Sizes(12.5, 9.0, 7.0, 7.0, 2.5),
    Sizes(12.0, 8.5, 7.0, 7.0, 2.0),
    Sizes(11.0, 8.0, 7.0, 6.5, 2.0),
    Sizes(10.0, 8.0, 7.0, 6.0, 1.5),
    Sizes(9.0, 8.0, 7.0, 5.0, 1.0),
)


@dataclasses.dataclass(frozen=True, kw_only=True)
class Content:
    """All that a card says, as plain text in the order of the page.

    Attributes
    ----------
    title, vehicle, by : str
    on : datetime.date
    paper : str
        One of `PAPERS`.
    rows : tuple of Row
    notes, cautions, assumptions, sources : tuple of str
    steps : tuple of tuple of (str, bool)
        The pieces of each step, and whether a piece is a volume to measure out.
    to_fill_in : tuple of tuple of str
        Labels of the lines to write on; an answer's own ``card_blanks``, where it has them.
    """

    title: str
    vehicle: str
    by: str
    on: dt.date
    paper: str
    rows: tuple
    notes: tuple
    steps: tuple
    cautions: tuple
    assumptions: tuple
    sources: tuple
    to_fill_in: tuple = BLANKS

    @property
    def who(self):
        """Lines of the block on top: labels, and what is known of them."""
        return (
            (("Vehicle", self.vehicle),),
            (("Date", f"{self.on:%Y-%m-%d}"), ("By", self.by)),
        )

    @property
    def blanks(self):
        """Lines to fill in: labels, and nothing known."""
        return tuple(tuple((label, "") for label in line) for line in self.to_fill_in)

    @property
    def details(self):
        """Small print, label and paragraph, in stages: what goes off a full card first is last."""
        assumed = [("Assumed", " ".join(self.assumptions))] if self.assumptions else []
        sources = [("Sources", f"{'; '.join(self.sources)}.")] if self.sources else []
        return (*assumed, *sources), (*assumed, SOURCES_ELSEWHERE), (ELSEWHERE,)


def read_content(answer, *, vehicle, by, on, paper):
    """Return the `Content` of an answer's card.

    Raises
    ------
    InputError
        If a name is too long or no text, the date is none, or the paper is not known.
    """
    one_of("paper", paper, PAPERS)
    return Content(
        title=plain(answer.title),
        vehicle=read_name("vehicle", vehicle, "card"),
        by=read_name("by", by, "card"),
        on=read_date(on),
        paper=paper,
        rows=tuple(
            Row(plain(label), plain(text))
            for label, text in getattr(answer, "card_rows", answer.rows)
        ),
        notes=tuple(map(plain, answer.notes)),
        steps=tuple(_pieces(plain(step)) for step in answer.steps),
        cautions=tuple(plain(caution.text) for caution in answer.cautions),
        assumptions=tuple(map(plain, answer.assumptions)),
        sources=tuple(_short(source) for source in answer.sources),
        to_fill_in=getattr(answer, "card_blanks", BLANKS),
    )


def refuse_too_long(instead=""):
    """Refuse a card that is more than one page in the smallest type; ``instead`` ends it."""
    raise InputError(
        "card",
        "more than one page",
        "the answer does not fit on one page, even in the smallest type and without assumptions "
        f"and sources; shorten the names of products, instruments and vehicle{instead}.",
    )


def plain(text):
    """Return text on one line, without what no paper can show: control and direction marks."""
    return "".join(letter for letter in " ".join(text.split()) if letter.isprintable())


def read_name(field, value, kind):
    """Return a name on one line; ``kind`` is what it is printed on."""
    if not isinstance(value, str):
        raise InputError(field, value, f"{value!r} is not text; write it in quotation marks.")
    name = plain(value)
    if len(name) > LONGEST_NAME:
        raise InputError(
            field,
            name,
            f"{len(name)} letters do not fit on the {kind}; write it in {LONGEST_NAME} or fewer.",
        )
    return name


def read_date(value):
    """Return the date of a print: today, where none is given."""
    if value is None:
        return dt.date.today()
    if not isinstance(value, dt.date):
        raise InputError(
            "on", value, f"{value!r} is not a date; write datetime.date(year, month, day)."
        )
    return value


def _pieces(step):
    parts = re.split(f"({VOLUME.pattern})", step)
    return tuple((part, at % 2 == 1) for at, part in enumerate(parts) if part)


def _short(source):
    """Return a source's title up to its first semicolon, with the year where one is known."""
    title = plain(source.title).partition(";")[0]
    known = source.year[:4].isdigit() and source.year not in title
    return f"{title} ({source.year})" if known else title
