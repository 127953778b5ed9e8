"""What a frost standard's sheet says; `standard_layout` only lays it out."""

import dataclasses
import datetime as dt
import re
from typing import NamedTuple

from ..answers import Row
from ..charts.of_window import axis_end, window_rows
from ..errors import InputError, one_of
from ..fluids.freezing import SOURCES as FREEZE_SOURCES
from ..jobs import frost_rows, frost_words
from ..jobs.frost_plan import SQUARED
from ..jobs.frost_stack import stack_of, tenths
from ..jobs.told_words import chance_words
from ..jobs.water_limits import LIMIT_SOURCES, LIMITS
from ..sources import SOURCES
from .content import MARGIN_MM, PAPERS, SOURCES_ELSEWHERE, plain, read_date, read_name

HEADING = "Frost standard"
TRIAL = "Trial, not a standard to use."

#: Largest type of the words, and the smallest. [pt]
LARGEST_PT, SMALLEST_PT = 12.5, 7.0

#: Smallest type in which nothing is left out. [pt]
FULL_PT = 8.5

#: What the margins add up by.
MARGINS = (
    "doubts are independent and add in squares; of that sum each has the share of its square. "
    "Alone: what it would take by itself, on its cold side, at the chance asked for."
)

#: A product this near to the fill is the fill. [kg/kg]
SAME = 0.005

#: Lines to write on at the end, and what holds until then.
BLANKS = (("Signature", "Set again on"),)
VALID = "Valid until set again."

#: A sentence ends here: not after a letter or two, as an abbreviation does.
_END = re.compile(r"(?<=\w{3})\. ")

#: Keys of sources, beside those of the freezing curve, of the reading and of water.
ON_SHEET = {"hosking-1990", "ashrae-climate", "etccdi", "iso-2533", "blandford-2008", "astm-d6210"}


class Figure(NamedTuple):
    """A figure in large type: its name above, what it means below."""

    name: str
    text: str
    means: str


class StackRow(NamedTuple):
    """A row of the stack of margins: words, what it takes, where that ends, whether it is a sum."""

    words: str
    takes: str
    ends: str
    is_sum: bool


@dataclasses.dataclass(frozen=True)
class SheetSizes:
    """Type of the words, in which the rest follows.

    Attributes
    ----------
    text : float
        [pt]
    """

    text: float

    @property
    def figure(self):
        """Type of the figures. [pt]."""
        return 3.2 * self.text

    @property
    def title(self):
        """Type of the title. [pt]."""
        return 1.5 * self.text

    @property
    def large(self):
        """Type of what is done. [pt]."""
        return 1.1 * self.text

    @property
    def small(self):
        """Type of the small print. [pt]."""
        return max(0.8 * self.text, SMALLEST_PT)

    @property
    def line(self):
        """Line to write on. [mm]."""
        return 0.75 * self.text

    @property
    def gap(self):
        """Between blocks. [mm]."""
        return 0.27 * self.text


#: From the largest to the smallest that can be read.
SIZES = tuple(
    SheetSizes(half / 2) for half in range(round(2 * LARGEST_PT), round(2 * SMALLEST_PT) - 1, -1)
)


@dataclasses.dataclass(frozen=True, kw_only=True)
class StandardContent:
    """All that a sheet says, as plain text in the order of the page.

    Attributes
    ----------
    depot, by : str
    on : datetime.date
    paper : str
        One of `coolcalc.prints.content.PAPERS`.
    trial : str
        What was switched off; "" for a standard that counts all.
    figures : tuple of Figure
        Weak limit, strength to fill to, strong limit.
    alerts : tuple of str
        What to see first: that the fill falls short, or that limits do not hold.
    doing : tuple of str
        Instrument, tests, water.
    drawn : tuple of (list of dict, float)
        Rows of the drawing, and the end of its axis. [% of product]
    axis : str
        What its axis is called.
    stack : tuple of StackRow
    rows : tuple of Row
    questions, short_questions : tuple of str
        What is not known yet; with how to find it out, and without.
    cautions, sources : tuple of str
    """

    depot: str
    by: str
    on: dt.date
    paper: str
    trial: str
    figures: tuple
    alerts: tuple
    doing: tuple
    drawn: tuple
    axis: str
    stack: tuple
    rows: tuple
    questions: tuple
    short_questions: tuple
    cautions: tuple
    sources: tuple

    @property
    def title(self):
        """Name of the document."""
        return f"{HEADING}: {self.depot}"

    @property
    def who(self):
        """Who set it, and when: labels, and what is known of them."""
        return ((("Set by", self.by), ("Date", f"{self.on:%Y-%m-%d}")),)

    @property
    def blanks(self):
        """Lines to fill in."""
        return tuple(tuple((label, "") for label in line) for line in BLANKS)

    @property
    def drawing_words(self):
        """What the drawing shows, in words."""
        return "; ".join(f"{row['row']} {row['said']}" for row in self.drawn[0])

    @property
    def trials(self):
        """Questions, small print, whether it is drawn, and `SheetSizes`; the best first.

        Where all of it would be small, the sources go first, then how to find out what is not
        known: both stand with the answer on the screen. The drawing goes last: all that it shows
        stands in words as well.
        """
        margins = ("Margins", MARGINS)
        sources = ("Sources", f"{'; '.join(self.sources)}.")
        whole = self.questions, (margins, sources), True
        less = self.questions, (margins, SOURCES_ELSEWHERE), True
        least = self.short_questions, (margins, SOURCES_ELSEWHERE)
        large = tuple(sizes for sizes in SIZES if sizes.text >= FULL_PT)
        return (
            *((*whole, sizes) for sizes in large),
            *((*less, sizes) for sizes in large),
            *((*least, True, sizes) for sizes in SIZES),
            *((*least, False, sizes) for sizes in SIZES),
        )

    @property
    def width_mm(self):
        """Width that there is for words. [mm]."""
        return PAPERS[self.paper][0] - 2 * MARGIN_MM

    @property
    def room_mm(self):
        """Height that there is for words. [mm]."""
        return PAPERS[self.paper][1] - 2 * MARGIN_MM


def read_standard(job, *, by="", on=None, paper="A4"):
    """Return the `StandardContent` of a `FrostStandard`.

    Raises
    ------
    InputError
        If a name is too long or no text, the date is none, or the paper is not known.
    """
    one_of("paper", paper, PAPERS)
    end = 100.0 * axis_end(job)
    return StandardContent(
        depot=plain(job.depot),
        by=read_name("by", by, "sheet"),
        on=read_date(on),
        paper=paper,
        trial=_trial(job),
        figures=_figures(job),
        alerts=tuple(map(plain, job.alerts)),
        doing=tuple(map(plain, _doing(job))),
        drawn=(window_rows(job, end), end),
        axis=f"strength, % of {job.product_word}",
        stack=tuple(_stack(job)),
        rows=tuple(Row(label, plain(text)) for label, text in _rows(job)),
        questions=tuple(map(plain, job.questions)),
        short_questions=tuple(_short(job, plain(each)) for each in job.questions),
        cautions=tuple(plain(each.text) for each in job.cautions),
        sources=tuple(plain(SOURCES[key].title).partition(";")[0] for key in _keys(job)),
    )


def refuse_too_long(instead=""):
    """Refuse a sheet that is more than one page in the smallest type; ``instead`` ends it."""
    raise InputError(
        "sheet",
        "more than one page",
        "it does not fit on one page, even in the smallest type; shorten the names of depot, night "
        f"stop and instrument, what the low rests on and the interval of tests{instead}.",
    )


def _trial(job):
    if not job.needs.without:
        return ""
    return f"{TRIAL} Switched off, and not counted: {', '.join(sorted(job.needs.without))}."


def _figures(job):
    weak, strong = frost_words.limit_labels(job)
    percent = f"{100.0 * job.strength.share:.0f} %"
    return (
        Figure(weak, job.correct_below, "it is too weak"),
        Figure(
            "Fill to",
            percent,
            f"of {job.product_word}, freezing point {job.freezing_words(job.fill)}",
        ),
        Figure(strong, job.correct_above, "it is too strong"),
    )


def _keys(job):
    """Keys of the sources of what is on the sheet; cooling, boiling and bursting are not."""
    freezing = FREEZE_SOURCES[job.product.fluid]
    reading = job.tool.reading_on(job.product.fluid).source_keys
    here = {*ON_SHEET, *freezing, *reading}
    keys = [key for key in job.source_keys if key in here]
    return dict.fromkeys([*keys, *(LIMIT_SOURCES if _mixes(job) else ())])


def _able(job):
    """Return the products that are as strong as the fill, the stronger ones to be diluted."""
    fill = job.standard.fill
    able = [each for each in job.shelf if not each.is_water and each.frac_mass >= fill - SAME]
    return [each for each in able if each.frac_mass <= fill + SAME], [
        each for each in able if each.frac_mass > fill + SAME
    ]


def _mixes(job):
    return bool(_able(job)[1])


def _doing(job):
    leave = "leave the mix as it is" if job.standard.limits_hold else "it keeps to the fill"
    fill = f"{100.0 * job.strength.share:.0f} %"
    yield (
        f"Read on: {job.scale_words()}. Another instrument or scale has other limits. Between the "
        f"two limits {leave}; beyond one of them bring it to {fill} and read again."
    )
    yield f"Test: {job.test_every}."
    as_it_is, diluted = _able(job)
    ways = [f"fill with {each.name} as it is" for each in as_it_is]
    if diluted:
        names = " or ".join(each.name for each in diluted)
        ways.append(f"mix {names} with water of {water_words()}")
    words = "; or ".join(ways)
    yield f"{words[:1].upper()}{words[1:]}."


def water_words():
    """Return the limits of the water to mix with, as printed."""
    return ", ".join(f"{limit.words} {limit.rule}" for limit in LIMITS.values())


def _stack(job):
    degree, unit = job.unit_system.temperature_difference, job.unit_system.temperature
    for step in stack_of(job):
        if step.is_sum:
            yield StackRow(plain(step.words), "", f"{tenths(step.end)} {unit}", True)
            continue
        alone = job.difference_words(step.alone_k, 1)
        words = plain(step.words)
        if step.counted and step.name in SQUARED:
            words = f"{words} (alone {alone})"
        takes = f"{tenths(step.takes)} {degree}" if step.counted else f"off (would be {alone})"
        yield StackRow(words, takes, "", False)


def _rows(job):
    low = job.winter_low
    yield Row("Low of the station", frost_words.low_words(job))
    if low.doubt_known:
        span, chance = job.doubt, 100.0 * job.needs.chance
        yield Row(
            f"With {chance:.0f} % chance on each side",
            f"not colder than {job.temp_words(span.low, 1)}, not warmer than "
            f"{job.temp_words(span.high, 1)}",
        )
    air = job.temp_words(job.standard.air_k, 1)
    yield Row("Air counted on", f"{air}{frost_words.at_words(job)}")
    yield Row("What decides", frost_words.why_words(job))
    yield Row("Floor for the inhibitors", frost_words.bound_words(job, job.needs.floor))
    yield Row("Ceiling for cooling", frost_words.bound_words(job, job.needs.ceiling))
    if low.fitted is not None:
        yield Row("Record", frost_words.record_words(job))
    yield Row("Enough for that low, the margin kept", frost_rows.enough_words(job))
    yield Row("Filled so, it reads within", chance_words(job.chance_within))


def _short(job, question):
    """Return what is not known; how to find it out stands with the answer on the screen."""
    where = plain(job.standard.where)
    masked = question.replace(where, "\0") if where else question
    first = _END.split(masked, maxsplit=1)[0].rstrip(".")
    return f"{first}.".replace("\0", where)
