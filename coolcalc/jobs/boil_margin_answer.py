"""The answer of `boil_margin`: its figures."""

import dataclasses
from typing import Any, NamedTuple

import numpy as np

from .. import cautions, fluids
from ..balance import boiling
from ..balance.composition import REFERENCE_TEMP_K, density_kg_m3
from ..fluids import boiling as boiling_points
from ..fluids.transport import HEAT_CAPACITY_SOURCES
from ..instruments import Interval
from ..mixture import Mixture
from ..units import Q
from . import boil_margin_words, boil_margin_working
from .printed import Printed

#: How the hottest coolant stands to the boiling point.
BOILS, NEAR, MARGIN = "boils", "too near to tell", "margin"

#: A cap that holds less, or more, of its marking than this is to be replaced. Common practice, no
#: source. [-]
WEAK_SHARE, LATE_SHARE = 0.9, 1.2

#: Heights of the chart. [m]
CURVE_TO_M, CURVE_STEP_M = 4000.0, 100.0

#: In `points`.
OPEN, MARKED, HELD = range(3)


def _steam_sources(fluid):
    return "wagner-1993", *HEAT_CAPACITY_SOURCES[fluid]


class Curve(NamedTuple):
    """Boiling points by altitude, for a chart, (n,). [m, K]."""

    altitude_m: np.ndarray
    open_k: np.ndarray
    marked_k: np.ndarray
    held_k: np.ndarray


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class BoilMargin(Printed):
    """Where a mix boils, and how far its hottest coolant is from it.

    Attributes
    ----------
    asked : dict
        What the job was asked with.
    found : Reading, Strength, Mixture or Product
        What is inside, as it was told.
    before : Mixture
        The same.
    cap_pa : float or None
        Marked on the cap, above the outside air; None without a cap. [Pa]
    held_pa : float
        What the cap is counted to hold: as tested, but no more than marked; as marked where it
        was not tested; 0 without a cap. [Pa]
    tester_pa : float or None
        What a cap tester showed. [Pa]
    altitude_m, outside_pa : float
        Height, and the outside air there. [m, Pa]
    points : coolcalc.balance.boiling.BoilBand
        Boiling points without pressure, under the marked cap, and under what it holds. [K]
    hottest_k, top_tank_k, outside_k : float or None
        As told. [K]
    system : CoolingSystem or None
    flash : coolcalc.balance.boiling.Flash or None
        Steam of a kilogram of glycol and water that loses its pressure, at most; None where the
        coolant is not hotter than the boiling point without pressure.
    """

    asked: dict
    found: Any
    before: Mixture
    cap_pa: float | None
    held_pa: float
    tester_pa: float | None
    altitude_m: float
    outside_pa: float
    points: boiling.BoilBand
    hottest_k: float | None
    top_tank_k: float | None
    outside_k: float | None
    system: Any
    flash: Any
    unit_system: Any
    step: Any

    title = "How far from boiling"
    no_label = "Boiling was asked about, not what was poured."
    #: Lines of the job card to write on.
    card_blanks = (("Cap marked", "Cap tested at"), ("Hottest coolant read", "by"), ("Signature",))

    # -- figures ---------------------------------------------------------------------------

    def _point(self, at):
        low, value, high = (float(each[at]) for each in self.points[:3])
        return Interval(low, value, high)

    @property
    def tested(self):
        """Whether it was told what the cap holds."""
        return self.tester_pa is not None

    @property
    def open_k(self):
        """Boiling point at the pressure of the outside air, an `Interval`. [K]."""
        return self._point(OPEN)

    @property
    def marked_k(self):
        """Boiling point under the cap as it is marked, an `Interval`; None without a cap. [K]."""
        return None if self.cap_pa is None else self._point(MARKED)

    @property
    def held_k(self):
        """Boiling point under what the cap holds, an `Interval`. [K]."""
        return self._point(HELD)

    @property
    def boils_at(self):
        """Boiling point under what the cap holds, an `Interval` of quantities."""
        return Interval(*(Q(each, "kelvin") for each in self.held_k))

    @property
    def hot_k(self):
        """Hottest coolant: as told, else the top tank; None where neither was. [K]."""
        return self.top_tank_k if self.hottest_k is None else self.hottest_k

    @property
    def margin_k(self):
        """Boiling point under what the cap holds, less the hottest coolant: an `Interval`. [K]."""
        if self.hot_k is None:
            return None
        return Interval(*(each - self.hot_k for each in self.held_k))

    @property
    def verdict(self):
        """`BOILS`, `NEAR` (the band of the boiling point holds both) or `MARGIN`; or None."""
        if self.margin_k is None:
            return None
        if self.margin_k.high <= 0.0:
            return BOILS
        return NEAR if self.margin_k.low <= 0.0 else MARGIN

    @property
    def hot_name(self):
        """What the hottest coolant is called: as it was told."""
        return "top tank" if self.hottest_k is None else "hottest coolant"

    @property
    def small(self):
        """Whether the margin asks for a cause."""
        return self.margin_k is not None and self.margin_k.value < boil_margin_words.SMALL_K

    @property
    def weak_cap(self):
        """Whether the cap was found to hold less than it should."""
        return self.tested and self.held_pa < WEAK_SHARE * self.cap_pa

    @property
    def late_cap(self):
        """Whether the cap was found to hold more than it should."""
        return self.tested and self.tester_pa > LATE_SHARE * self.cap_pa

    @property
    def weak_cap_costs_k(self):
        """What the cap takes off the boiling point by not holding its marking. [K]."""
        return self.marked_k.value - self.held_k.value if self.weak_cap else None

    @property
    def over_water_k(self):
        """By how much the mix boils higher than plain water under the same cap. [K]."""
        water = fluids.boil_temp_k_unchecked(self.before.fluid, 0.0, self.outside_pa + self.held_pa)
        return self.held_k.value - float(water)

    @property
    def half_glycol_adds_k(self):
        """By how much 50 mass % of glycol boils higher than plain water under the cap. [K]."""
        pressure = self.outside_pa + self.held_pa
        half, none = fluids.boil_temp_k_unchecked(self.before.fluid, np.array([0.5, 0.0]), pressure)
        return float(half - none)

    @property
    def altitude_takes_k(self):
        """What the altitude takes off the boiling points: without pressure, and under the cap. [K].

        Under what it holds, against the same at sea level.
        """
        sea = boiling.open_and_capped(self.before.fluid, self.before.frac_mass, 0.0, self.held_pa)
        return float(sea.open_k) - self.open_k.value, float(sea.capped_k) - self.held_k.value

    @property
    def air_to_boil_k(self):
        """Outside air at which the top tank boils under what the cap holds; or None. [K]."""
        if self.outside_k is None:
            return None
        return Interval(
            *(boiling.air_to_boil_k(each, self.top_tank_k, self.outside_k) for each in self.held_k)
        )

    @property
    def steam_ratio(self):
        """Litres of steam, at most, from a litre of coolant that loses its pressure.

        None where the coolant is not hotter than its boiling point without pressure. Coolant at
        20 °C, steam at the pressure of the outside air. [m3/m3]
        """
        if self.flash is None:
            return None
        share = self.before.share
        density = density_kg_m3(
            self.before.fluid, share, REFERENCE_TEMP_K, self.before.product.additive_volume_m3_kg
        )
        return float(self.flash.steam_m3 * density * (1.0 - share.additive))

    @property
    def steam_m3(self):
        """Steam of all that the system holds, at most; None as `steam_ratio`. [m3]."""
        if self.flash is None or self.system is None:
            return None
        return self.steam_ratio * self.system.worked_m3

    @property
    def curve(self):
        """Boiling points of this mix from the sea to 4,000 m, for a chart: a `Curve`."""
        heights = np.arange(0.0, CURVE_TO_M + CURVE_STEP_M / 2, CURVE_STEP_M)
        mix = (self.before.fluid, self.before.frac_mass, heights)
        marked = boiling.open_and_capped(*mix, self.cap_pa or 0.0)
        held = boiling.open_and_capped(*mix, self.held_pa)
        return Curve(heights, marked.open_k, marked.capped_k, held.capped_k)

    # -- words -----------------------------------------------------------------------------

    @property
    def notes(self):
        """What to know before the steps: verdict, steam, cap, altitude, air to boil."""
        return tuple(boil_margin_words.notes(self))

    @property
    def steps(self):
        """What to do next."""
        return tuple(boil_margin_words.steps(self))

    @property
    def rows(self):
        """The figures."""
        return tuple(boil_margin_words.rows(self))

    @property
    def cautions(self):
        """What must be printed with the steps."""
        first, *rest = cautions.for_work_on_coolant(self.before.fluid)
        return first, cautions.OPENED_HOT, *rest

    @property
    def assumptions(self):
        """What the figures take for granted, and what they do not count."""
        return tuple(boil_margin_words.assumptions(self))

    @property
    def source_keys(self):
        """Keys of the sources that the figures rest on."""
        steam = () if self.flash is None else _steam_sources(self.before.fluid)
        air = () if self.outside_k is None else ("sae-j1393",)
        cap = () if self.cap_pa is None or self.tested else ("army-tm-5-3895-359",)
        keys = (*boiling_points.SOURCES[self.before.fluid], "iso-2533", *cap, *air, *steam)
        return tuple(dict.fromkeys(keys))

    @property
    def working_lines(self):
        """The sums by hand, and the rule of thumb beside them."""
        return tuple(boil_margin_working.working_lines(self))

    @property
    def odds_lines(self):
        """By which cause the boiling point may be lower or higher."""
        return tuple(boil_margin_working.odds_lines(self))

    def shown_in(self, show_in):
        """Return the same job in another unit system."""
        from .boil_margin import boil_margin

        return boil_margin(**self.asked, show_in=show_in)

    def columns(self):
        """Return the figures of `to_frame`: unit in the name."""
        columns = {
            "found [mass share of glycol]": self.before.frac_mass,
            "altitude [m]": self.altitude_m,
            "outside air [kPa absolute]": self.outside_pa / 1e3,
            "cap marked [kPa gauge]": None if self.cap_pa is None else self.cap_pa / 1e3,
            "cap counted to hold [kPa gauge]": self.held_pa / 1e3,
        }
        for name, span, base in (
            ("boils without pressure [°C]", self.open_k, 273.15),
            ("boils under the marked cap [°C]", self.marked_k, 273.15),
            ("boils under what the cap holds [°C]", self.held_k, 273.15),
            ("margin [K]", self.margin_k, 0.0),
            ("air to boil [°C]", self.air_to_boil_k, 273.15),
        ):
            for end, value in zip(Interval._fields, span or (None,) * 3, strict=True):
                columns[f"{name}, {end}"] = None if value is None else value - base
        columns["hottest [°C]"] = None if self.hot_k is None else self.hot_k - 273.15
        columns["verdict"] = self.verdict or "no coolant temperature was told"
        columns["steam per coolant, at most [L/L]"] = self.steam_ratio
        return columns
