"""The answer of `frost_standard`: its figures."""

import dataclasses
import functools
from typing import Any, ClassVar

import numpy as np

from .. import cautions, fluids
from ..balance import cooling
from ..balance.slush import slush
from ..fluids.freezing import SOURCES as FREEZE_SOURCES
from ..instruments import Interval
from ..mixture import Mixture
from ..units import Q
from . import frost_rows, frost_words, frost_working, winter_low
from .burst_table import SOURCE as BURST_SOURCE
from .burst_table import burst_row
from .frost_plan import half_width_of_mixing
from .printed import Printed

#: Coolant at which cooling is compared where no hottest is told: 90 °C. By judgement, no source.
#: [K]
COOLING_AT_K = 363.15

#: How far below the first crystals slush is told. [K]
SLUSH_AT_K = (2.0, 5.0, 10.0)


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class FrostStandard(Printed):
    """What a depot's vehicles are filled to, and between which readings they are left alone.

    Attributes
    ----------
    asked : dict
        What the job was asked with.
    depot : str
    shelf : tuple of Product
        What is mixed.
    winter_low : coolcalc.jobs.winter_low.WinterLow
        The low of the station, and what it rests on.
    site : coolcalc.jobs.frost_inputs.Site
        How the depot lies to its station.
    stops : tuple of coolcalc.jobs.frost_plan.Stop
    needs : coolcalc.jobs.frost_plan.Needs
    plan : Callable
        Makes the `Standard` of other needs.
    standard : coolcalc.jobs.frost_plan.Standard
        What came out, in SI.
    test_every : str
    today : Mixture or None
        What vehicles run with now.
    boil : BoilMargin or None
        Of the fill, in summer at the depot.
    """

    asked: dict
    depot: str
    shelf: tuple
    winter_low: Any
    site: Any
    stops: tuple
    needs: Any
    plan: Any
    standard: Any
    test_every: str
    today: Mixture | None
    boil: Any
    unit_system: Any
    step: Any

    no_label = "A standard was set, nothing was poured."
    sheet_writer: ClassVar[Any] = None

    # -- figures ---------------------------------------------------------------------------

    @property
    def title(self):
        """What was asked."""
        return f"Frost standard of {self.depot}"

    @property
    def product(self):
        """The product that strengths are per cent of."""
        return self.needs.product

    @property
    def tool(self):
        """The instrument that vehicles are read with."""
        return self.needs.tool

    def mixture_of(self, frac_mass, half_width=0.0):
        """Return a strength as a mix of the product. [kg/kg]."""
        return Mixture(product=self.product, frac_mass=frac_mass, half_width=half_width)

    @property
    def fill(self):
        """The mix to fill, with what mixing is uncertain by."""
        half_width = half_width_of_mixing(self.needs, self.standard.fill)
        return self.mixture_of(self.standard.fill, half_width)

    @property
    def before(self):
        """The mix to fill: per cent are of its product."""
        return self.fill

    @property
    def strength(self):
        """Strength to fill to, in whole per cent of product, a `Strength`."""
        return self.fill.strength()

    @property
    def low(self):
        """Low of the station, as a quantity."""
        return Q(self.winter_low.low_k, "kelvin").to("degC")

    @property
    def air(self):
        """Air that is counted on where vehicles stand, as a quantity; no doubt in it."""
        return Q(self.standard.air_k, "kelvin").to("degC")

    @property
    def doubt(self):
        """Span of the low at the chance asked for on each side, an `Interval`. [K]."""
        chance, low_k = self.needs.chance, self.winter_low.low_k
        colder, warmer = self.winter_low.off_k((chance, 1.0 - chance))
        return Interval(low_k - float(colder), low_k, low_k - float(warmer))

    @property
    def margins(self):
        """The stack of margins: `Part` by part, as counted."""
        return self.standard.parts

    @property
    def decides(self):
        """What decides: "frost", "floor", "ceiling", or "product": what is listed to pour."""
        return self.standard.decides

    @property
    def short(self):
        """By how much the fill falls short of the frost, as a quantity; 0 where it does not."""
        return Q(self.standard.short_k, "kelvin")

    @property
    def holds_years(self):
        """Low that a fill which is short does meet, once in so many winters; or None.

        None too where a night stop decides, of which no more is known than its low.
        """
        if not self.standard.short_k or self.standard.where:
            return None
        return self.winter_low.years_of(self.winter_low.low_k + self.standard.short_k)

    def _shown_at(self, frac_mass):
        reading = self.tool.reading_on(self.product.fluid)
        return float(self.tool.shown(frac_mass, reading.line, self.product, reading.optics_k))

    @property
    def weakest_si(self):
        """Reading on the weak limit. [SI unit of the scale]."""
        return self._shown_at(self.standard.weakest)

    @property
    def strongest_si(self):
        """Reading on the strong limit. [SI unit of the scale]."""
        return self._shown_at(self.standard.strongest)

    @functools.cached_property
    def _printed(self):
        return self.tool.spec.limits(self.weakest_si, self.strongest_si, self.unit_system)

    @property
    def correct_below(self):
        """Weak limit as printed: a vehicle that reads weaker is corrected."""
        return self._printed[0]

    @property
    def correct_above(self):
        """Strong limit as printed: a vehicle that reads stronger is corrected."""
        return self._printed[1]

    @property
    def limits_apart(self):
        """Whether anything lies between the limits as printed."""
        return self._printed[2]

    @property
    def chance_to_hold(self):
        """Chance that the fill is enough for that low with its margin, every doubt counted. [-].

        None where it is not known how sure the low is, or by how much the yard is colder.
        """
        return self.standard.chance_holds if self.doubts_known else None

    @property
    def doubts_known(self):
        """Whether it is known how sure the low is, and what was measured of the site."""
        stop = self.stop_that_decides
        if stop is not None and stop.off_k is not None:
            return stop.half_width_k is not None
        site_known = stop is not None or not self.site.measured
        return self.winter_low.doubt_known and (site_known or self.site.half_width_k is not None)

    @property
    def stop_that_decides(self):
        """The night stop whose air is counted; None where it is the depot's."""
        return next((each for each in self.stops if each.name == self.standard.where), None)

    @property
    def chance_within(self):
        """Chance that a vehicle just filled reads within the limits. [-]."""
        return self.standard.chance_within

    # -- cooling, boiling, slush -----------------------------------------------------------

    @property
    def cooling_at_k(self):
        """Coolant at which cooling is compared: the hottest that was told. [K]."""
        return COOLING_AT_K if self.boil is None else self.boil.hot_k

    @functools.cached_property
    def cooling_against_water(self):
        """What the fill gives away against plain water, a `CoolingGivenAway`."""
        return self.cooling_against(0.0)

    @functools.cached_property
    def cooling_against_today(self):
        """What it gives away against today's mix; None where none was told."""
        return None if self.today is None else self.cooling_against(self.today.frac_mass)

    def cooling_against(self, frac_mass):
        """Return what the fill gives away against a strength, a `CoolingGivenAway`. [kg/kg]."""
        return cooling.cooling_given_away(
            self.product.fluid, self.standard.fill, self.cooling_at_k, frac_mass
        )

    @property
    def slush(self):
        """What the weakest mix of the standard turns to below its freezing point.

        Kelvin below the first crystals, ice over all by mass, and growth, each (n,). [K, -, -]
        """
        first_k = fluids.freeze_temp_k(self.product.fluid, self.standard.weakest)
        below = np.array(SLUSH_AT_K)
        found = slush(self.product.fluid, self.standard.weakest, first_k - below)
        return below, found.ice, found.growth

    # -- words -----------------------------------------------------------------------------

    @property
    def notes(self):
        """What to know before the steps: the standard, what is short, what is not known."""
        return tuple(frost_words.notes(self))

    @property
    def steps(self):
        """What the depot does."""
        return tuple(frost_words.steps(self))

    @property
    def alerts(self):
        """Of the notes, those that a standard must not be read without."""
        return tuple(frost_words.alerts(self))

    @property
    def rows(self):
        """The figures."""
        return tuple(frost_rows.rows(self))

    @property
    def questions(self):
        """What is not known yet about this depot, each a sentence with how to find it out."""
        return tuple(frost_words.questions(self))

    @property
    def cautions(self):
        """What must be printed with it."""
        return cautions.for_work_on_coolant(self.product.fluid)

    @property
    def assumptions(self):
        """What the figures take for granted, and what they do not count."""
        return tuple(frost_words.assumptions(self))

    @property
    def source_keys(self):
        """Keys of the sources that the figures rest on."""
        low = {
            winter_low.MINIMA: ("hosking-1990", "hosking-1985", "ashrae-climate", "etccdi"),
            winter_low.EXTREMES: ("ashrae-climate",),
        }.get(self.winter_low.basis, ())
        by_height = self.site.colder_k and not self.site.measured
        height = ("iso-2533", "blandford-2008") if by_height else ()
        burst = (BURST_SOURCE,) if burst_row(self.product.fluid, self.standard.hold_k) else ()
        boil = () if self.boil is None else self.boil.source_keys
        reading = self.tool.reading_on(self.product.fluid).source_keys
        cool = ("dittus-boelter-1930", "gnielinski-1976", "blasius-1913")
        keys = (
            *low,
            *height,
            *FREEZE_SOURCES[self.product.fluid],
            *reading,
            "astm-d6210",
            *burst,
            "nws-wind-chill",
            "met-office-frost",
            *cool,
            *boil,
        )
        return tuple(dict.fromkeys(keys))

    @property
    def working_lines(self):
        """The stack of margins, line by line, so that it can be added up by hand."""
        return tuple(frost_working.working_lines(self))

    @property
    def odds_lines(self):
        """How sure it is: the low, the fit, the chance to hold."""
        return tuple(frost_working.odds_lines(self))

    def shown_in(self, show_in):
        """Return the same standard in another unit system."""
        from .frost_standard import frost_standard

        return frost_standard(**self.asked, show_in=show_in)

    def save_sheet(self, path, *, by="", on=None, paper="A4", units=None):
        """Save the standard sheet: one page.

        Parameters
        ----------
        path : str or path
            Ends in .pdf or .html.
        by : str
            Who sets it; left empty, there is a line to write on.
        on : datetime.date, optional
            Today unless given.
        paper : str
            "A4" or "Letter".
        units : str, optional
            One of `coolcalc.units.SYSTEMS`, where the sheet is to be in another one.

        Returns
        -------
        pathlib.Path

        Raises
        ------
        InputError
            If it cannot be written, or does not fit one page.
        """
        answer = self if units is None else self.shown_in(units)
        return self.sheet_writer(answer, path, by=by, on=on, paper=paper)

    def columns(self):
        """Return the figures of `to_frame`: unit in the name."""
        freezing = fluids.freeze_temp_k(self.product.fluid, self.standard.fill)
        columns = {
            "depot": self.depot,
            "low basis": self.winter_low.basis,
            "return period [winters]": self.winter_low.years,
            "low [°C]": self.winter_low.low_k - 273.15,
            "coldest air counted on [°C]": self.standard.air_k - 273.15,
        }
        for part in self.margins:
            columns[f"{part.name}, counted [K]"] = part.takes_k
            columns[f"{part.name}, alone [K]"] = part.alone_k
        return columns | {
            "decides": self.decides,
            "fill [% product]": 100.0 * self.strength.share,
            "fill [% glycol by mass]": 100.0 * self.standard.fill,
            "fill freezes at [°C]": freezing - 273.15,
            "correct below [% product]": self._percent(self.standard.weakest),
            "correct above [% product]": self._percent(self.standard.strongest),
            "correct below, as read": self.correct_below,
            "correct above, as read": self.correct_above,
            "short by [K]": self.standard.short_k,
            "chance to hold": self.chance_to_hold,
            "chance that a fresh fill reads within": self.chance_within,
        }

    def _percent(self, frac_mass):
        return 100.0 * self.mixture_of(frac_mass).strength().share

    def scale_words(self):
        """Return the instrument, its scale and at what temperature it is read, as printed."""
        unit_error = self.tool.spec.show_error(self.tool.error_si, self.unit_system)
        words = f"{self.tool.name}, {self.tool.scale}, give or take {unit_error}"
        if self.tool.kind == "refractometer" and self.tool.spec.label:
            return words
        home_k = self.tool.reading_on(self.product.fluid).optics_k
        return f"{words}, sample at {self.temp_words(home_k)} or corrected to it"
