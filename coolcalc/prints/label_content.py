"""What a filler label says; `label_layout` only lays it out."""

import dataclasses
import datetime as dt
from decimal import ROUND_CEILING
from typing import NamedTuple

from ..answers import Answer
from ..errors import InputError, one_of
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..fluids.fluid import WATER_FREEZE_K
from ..instruments import freeze_interval
from ..jobs.mix_plan import EQUAL
from ..jobs.told_words import NOTHING
from ..mixture import Mixture
from ..strength import GLYCOL_BY_MASS
from ..system import FILLS
from ..units import SYSTEMS, read, show
from .content import read_date, read_name

#: Added to the freezing point for the working low: printed tables of what a mix withstands lie 5
#: to 6 K above its freezing point. Common practice, no source.
MARGIN = "5 K"
#: Most that can be asked for. [K]
MARGIN_MAX_K = 20.0

#: Width and height of the labels, which lie on their side. [mm]
LABELS = {"A6": (148.0, 105.0), "A7": (105.0, 74.0)}
#: From the edge to the frame, and from the frame to the words, on all four sides. [mm]
EDGE_MM, INSET_MM = 2.5, 1.5

#: Largest type of the words by label, and the smallest of all. [pt]
LARGEST_PT, SMALLEST_PT = {"A6": 15.0, "A7": 11.0}, 6.5
#: Letters of a name that leaves room for another beside it.
SHORT_NAME = 24

NEVER_OPEN = ("Never open hot: scalds.", "Cold to the hand first; the maker’s handbook decides.")
_ETHYLENE = "Poisonous if swallowed: get emergency help now."
_OTHER = "Harmful if swallowed: get emergency help now."
_WASTE = "Used coolant is waste: never into a drain."


class Figure(NamedTuple):
    """A figure in large type, its name, and what it rests on."""

    text: str
    name: str
    rests_on: str


@dataclasses.dataclass(frozen=True)
class LabelSizes:
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
        return 2.5 * self.text

    @property
    def title(self):
        """Type of the glycol's name. [pt]."""
        return 1.35 * self.text

    @property
    def small(self):
        """Type of what a figure rests on. [pt]."""
        return max(0.8 * self.text, SMALLEST_PT)

    @property
    def line(self):
        """Line to write on. [mm]."""
        return 0.5 * self.text

    @property
    def gap(self):
        """Between blocks. [mm]."""
        return 0.11 * self.text


@dataclasses.dataclass(frozen=True, kw_only=True)
class LabelContent:
    """All that a label says, as plain text in the order of the page.

    Attributes
    ----------
    glycol, product : str
    figures : tuple of Figure
        Strength, freezing point, working low.
    never_open : tuple of str
        The words to be seen first, and the rest.
    lines : tuple of str
        What to top up with; what it does to whoever swallows it, and that it is waste.
    who : tuple of tuple of (str, str)
        Lines of fields: labels, and what is known of them.
    on : datetime.date
    size : str
        One of `LABELS`.
    """

    glycol: str
    product: str
    figures: tuple
    lines: tuple
    who: tuple
    on: dt.date
    size: str
    never_open: tuple = NEVER_OPEN

    @property
    def title(self):
        """Name of the document."""
        return f"Coolant inside: {self.glycol}"

    @property
    def since(self):
        """Since when it is inside, as printed."""
        return f"Since {self.on:%Y-%m-%d}"

    @property
    def room_mm(self):
        """Width and height that there is for words. [mm]."""
        return tuple(each - 2 * (EDGE_MM + INSET_MM) for each in LABELS[self.size])

    @property
    def sizes(self):
        """Types to set it in, as `LabelSizes`, from the largest to the smallest."""
        halves = range(round(2 * LARGEST_PT[self.size]), round(2 * SMALLEST_PT) - 1, -1)
        return tuple(LabelSizes(half / 2) for half in halves)


def read_label(
    mixture,
    *,
    vehicle="",
    by="",
    on=None,
    margin=MARGIN,
    instrument="",
    units=None,
    size="A6",
):
    """Return the `LabelContent` of a mix, or of the mix that an answer ends with.

    Raises
    ------
    InputError
        If there is no mix, its freezing point cannot be promised, or an option cannot be used.
    """
    one_of("size", size, LABELS)
    mix, system = _mix_of(mixture)
    if units is not None:
        system = SYSTEMS[one_of("units", units, SYSTEMS)]
    margin_k = read("margin", margin, "temperature difference", low=0.0, high=MARGIN_MAX_K)
    date = read_date(on)
    strength = _strength_figure(mix)
    if mix is not mixture and not instrument:
        strength = strength._replace(rests_on=f"{strength.rests_on}; worked out from the litres")
    names = {
        "Vehicle": read_name("vehicle", vehicle, "label"),
        "By": read_name("by", by, "label"),
        "Read on": read_name("instrument", instrument, "label"),
    }
    poison = _ETHYLENE if mix.fluid == "ethylene glycol" else _OTHER
    return LabelContent(
        glycol=f"{mix.fluid[:1].upper()}{mix.fluid[1:]}",
        product=read_name("product", mix.product.name, "label"),
        figures=(strength, *_frost_figures(mix, margin_k, system)),
        lines=(
            _top_up(mixture, strength),
            f"{poison} {_WASTE}",
        ),
        who=tuple(_lines_of(names)),
        on=date,
        size=size,
    )


def _top_up(given, strength):
    """Return what to top up with: a circuit not corrected by hand takes no mix."""
    system = getattr(given, "system", None)
    if system is not None and system.fill != FILLS[0]:
        return "Top up only with the coolant that its maker specifies, as it is delivered."
    return f"Top up with the same mix only: {strength.text} {strength.name}."


def refuse_too_long(instead=""):
    """Refuse a label that is more than one page in the smallest type; ``instead`` ends it."""
    raise InputError(
        "label",
        "more than one page",
        "it does not fit, even in the smallest type; shorten the names of product, vehicle, person "
        f"and instrument, or take the larger size{instead}.",
    )


def _mix_of(given):
    """Return the mix to label, and the unit system that goes with it."""
    if isinstance(given, Mixture):
        return given, SYSTEMS["metric"]
    if not (isinstance(given, Answer) and hasattr(given, "after")):
        told = f"“{given.title}”" if isinstance(given, Answer) else type(given).__name__
        raise InputError(
            "label",
            told,
            f"{told} does not end with a mix; give a mix, e.g. product.mix('50 % product'), or an "
            "answer that ends with one.",
        )
    if given.after is None:
        raise InputError(
            "label",
            given.title,
            f"“{given.title}” cannot be reached with what was entered, so there is no mix to "
            "label. Do what the answer says instead, or label what is inside: "
            "save_label(product.mix('50 % product'), path).",
        )
    if given.no_label:
        raise InputError(
            "label",
            given.title,
            f"{given.no_label} No label can promise what is inside: read it first, and make the "
            "label from the mix that was read.",
        )
    return given.after, given.unit_system


def _lines_of(names):
    """Yield lines of fields: vehicle and person side by side where both names are short."""
    vehicle, by, instrument = names.items()
    if max(len(vehicle[1]), len(by[1])) <= SHORT_NAME:
        yield vehicle, by
    else:
        yield (vehicle,)
        yield (by,)
    if instrument[1]:
        yield (instrument,)


def _strength_figure(mix):
    share, mass = mix.strength().share, mix.strength(GLYCOL_BY_MASS).share
    by_mass = f"{100 * mass:.0f} %"
    wide = mix.half_width >= NOTHING
    if share > 1.0 + EQUAL:  # stronger than the product itself, which is ready-mixed
        known = _give_or_take(mix.half_width) if wide else "stronger than the product as sold"
        return Figure(by_mass, "glycol by mass", known)
    text = f"by volume; {by_mass} glycol by mass"
    if wide:
        ends = (max(mix.frac_mass - mix.half_width, 0.0), min(mix.frac_mass + mix.half_width, 1.0))
        weak, strong = (dataclasses.replace(mix, frac_mass=end).strength().share for end in ends)
        text += f"; {_give_or_take((strong - weak) / 2)}"
    return Figure(f"{100 * share:.0f} %", f"of {mix.product.short}", text)


def _give_or_take(half_width):
    return f"give or take {show(half_width, 'share', '%', 0, ROUND_CEILING)}"


def _frost_figures(mix, margin_k, system):
    """Return the freezing point and the working low, rounded to the warm side."""
    if mix.frac_mass > FRAC_MASS_SETTLED_MAX:
        found = f"{100 * mix.frac_mass:.1f} %"
        raise InputError(
            "label",
            found,
            f"{found} of glycol by mass is stronger than 60 mass %: there more glycol may freeze "
            "sooner, laboratories disagree, and no label can promise a freezing point. Bring the "
            "mix to 60 mass % or weaker, read it again, and label that.",
        )
    # The warmest of all strengths that are likely: past 60 mass % that need not be the weak end.
    warm_k = freeze_interval(mix.fluid, mix.frac_mass, mix.half_width).high_k
    unit = system.temperature
    freeze = show(warm_k, "temperature", unit, 0, ROUND_CEILING)
    freeze_k = read("freezing point", freeze, "temperature")
    if freeze_k > WATER_FREEZE_K - EQUAL:
        weak = ", at the weak end of its give or take," if mix.half_width >= NOTHING else ""
        raise InputError(
            "label",
            freeze,
            f"the mix{weak} freezes at {freeze}, as plain water does: there is no frost protection "
            "to promise. Correct the mix, or read it on an instrument with less error, and label "
            "that.",
        )
    low = show(freeze_k + margin_k, "temperature", unit, 0, ROUND_CEILING)
    margin = show(margin_k, "temperature difference", system.temperature_difference, 1)
    margin = margin.replace(".0 ", " ")
    usual_k = read("margin", MARGIN, "temperature difference")
    usual = "; common practice, no source" if abs(margin_k - usual_k) < EQUAL else ""
    at_least = ", at least; give or take counted" if mix.half_width > 0.0 else ""
    return (
        Figure(freeze, "freezing point", f"first ice{at_least}"),
        Figure(low, "working low", f"freezing point + {margin}{usual}"),
    )
