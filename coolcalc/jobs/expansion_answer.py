"""The answer of `expansion`: its figures."""

import dataclasses
import functools
import math
from typing import Any

import numpy as np

from .. import cautions
from ..balance import expansion as kernel
from ..fluids.boiling import SOURCES as BOIL_SOURCES
from ..fluids.density import SOURCES as DENSITY_SOURCES
from ..instruments import Interval
from ..units import Q
from . import expansion_words
from .expansion_plan import (
    FITS,
    LEAST,
    MAY_NOT_FIT,
    MOST,
    NO_ROOM,
    ROOM_NOT_TOLD,
    UNDER_CAP,
    Closed,
    boils_k,
)
from .mix_plan import NOTHING_M3
from .printed import Printed

#: Of the room, less air than this left to squeeze is none to speak of. By judgement, no source. [-]
LEAST_LEFT = 0.05

#: Temperatures of a figure. [count]
CURVE = 19


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class Expansion(Printed):
    """How much coolant grows, where its level stands, and what the air above it does.

    Attributes
    ----------
    asked : dict
        What the job was asked with.
    system : CoolingSystem
    found : Reading, Strength, Mixture or Product
        What is inside, as it was told.
    tank : str
        "expansion tank" or "overflow bottle".
    heating : coolcalc.jobs.expansion_plan.Heating
        What the kernel was given.
    hot_k : float
        Hottest coolant. [K]
    room_m3, below_m3 : float or None
        Above and below the cold mark. [m3]
    cap_pa : float or None
        What the cap holds above the outside air. [Pa]
    altitude_m : float
        [m]
    gas_share : pair of float
        Share of the coolant's rise that the gas takes part in, at least and at most. [-]
    coldest_k : float or None
        Coldest start. [K]
    unit_system : coolcalc.units.UnitSystem
    step : coolcalc.units.MeasuringStep
        Measuring step of the litres.
    """

    asked: dict
    system: Any
    found: Any
    tank: str
    heating: Any
    hot_k: float
    room_m3: float | None
    below_m3: float | None
    cap_pa: float | None
    altitude_m: float
    gas_share: tuple
    coldest_k: float | None
    unit_system: Any
    step: Any

    title = "Growth of hot coolant"
    #: Lines of the job card to write on.
    card_blanks = (
        ("Level cold, before", "Level hot, from outside"),
        ("Level next morning", "Cap marked"),
        ("Date", "Signature"),
    )

    # -- the level -------------------------------------------------------------------------

    @property
    def before(self):
        """The mix inside."""
        return self.heating.mixture

    @property
    def under_cap(self):
        """Whether the room is under the cap, with air that is squeezed."""
        return self.tank == UNDER_CAP and self.cap_pa is not None

    @functools.cached_property
    def rise(self):
        """Rise of the level at the hottest, less what the metal grows, as a `Interval`. [m3]."""
        return self.heating.rise_span(self.hot_k)

    @functools.cached_property
    def fall(self):
        """Fall of the level at the coldest start, as a `Interval`; None where not asked. [m3]."""
        if self.coldest_k is None:
            return None
        low, value, high = self.heating.rise_span(self.coldest_k)
        return Interval(-high, -value, -low)

    @property
    def growth(self):
        """Rise of the level: least, likeliest and most, as quantities."""
        return Interval(*(Q(each, "m^3") for each in self.rise))

    @property
    def lowest_level(self):
        """Fall below the cold mark at the coldest start, as quantities; None where not asked."""
        return None if self.fall is None else Interval(*(Q(each, "m^3") for each in self.fall))

    @property
    def room(self):
        """Room above the cold mark, as a quantity; None where not told."""
        return None if self.room_m3 is None else Q(self.room_m3, "m^3")

    @property
    def verdict(self):
        """Whether there is room for the growth: "fits", "may not fit", "no room" or unknown."""
        if self.room_m3 is None:
            return ROOM_NOT_TOLD
        if self.rise.high <= self.room_m3 * (1.0 - LEAST_LEFT * self.under_cap):
            return FITS
        return MAY_NOT_FIT if self.rise.value <= self.room_m3 else NO_ROOM

    @functools.cached_property
    def boils(self):
        """Whether it boils at the hottest, under what the cap holds: "no", "may" or "yes"."""
        low_k, value_k = boils_k(self.heating, self.cap_pa or 0.0)
        if self.hot_k >= value_k:
            return "yes"
        return "may" if self.hot_k >= low_k else "no"

    @property
    def draws_air(self):
        """Whether the level may fall so far that air is drawn in; None where not told."""
        if self.fall is None or self.below_m3 is None:
            return None
        return self.fall.high > self.below_m3

    @property
    def draws_air_after_loss(self):
        """Whether what the cap may push out, and the cold after it, may draw air in."""
        if self.below_m3 is None or self.pushed_out_m3 is None:
            return False
        lost = self.when_cold_m3(self.pushed_out_m3[1])
        fall = 0.0 if self.fall is None else self.fall.high
        return lost is None or lost + fall > self.below_m3

    # -- what has no room ------------------------------------------------------------------

    @functools.cached_property
    def overflow_m3(self):
        """Hot litres without room: least, likeliest and most, as a `Interval`; None. [m3]."""
        if self.room_m3 is None:
            return None
        return Interval(*(float(kernel.overflow_m3(self.room_m3, each)) for each in self.rise))

    @functools.cached_property
    def missing_m3(self):
        """Cold litres missing next morning, of those without room, as a `Interval`; None. [m3]."""
        if self.room_m3 is None:
            return None
        grown = self.heating.liquid_share(self.hot_k)[0]
        return Interval(*(float(kernel.when_cold_m3(each, grown)) for each in self.overflow_m3))

    # -- the air space ---------------------------------------------------------------------

    @functools.cached_property
    def closed(self):
        """The air space at its least and at its most squeezed, as `Closed`; None.

        The coolest gas over the least growth, the hottest over the most.
        """
        if not self.under_cap or self.room_m3 is None or self.room_m3 <= NOTHING_M3:
            return None
        return self._spaces(self.room_m3)

    def _spaces(self, room_m3):
        ends = zip(self.gas_share, (LEAST, MOST), strict=True)
        return tuple(Closed(self.heating, room_m3, self.cap_pa, *end) for end in ends)

    @functools.cached_property
    def pressure_pa(self):
        """Least and most pressure above the outside air if no cap gave way; None. [Pa].

        An end is None where no air space is left.
        """
        if self.closed is None:
            return None
        found = [float(each.pressure_pa(self.hot_k)[0]) for each in self.closed]
        return tuple(None if math.isnan(each) else each for each in found)

    @property
    def pressure(self):
        """Least and most pressure above the outside air if no cap gave way, as quantities.

        None without a closed air space; an end is None where no air space is left.
        """
        if self.pressure_pa is None:
            return None
        return tuple(None if each is None else Q(each, "pascal") for each in self.pressure_pa)

    @functools.cached_property
    def reaches_cap_k(self):
        """Least and most coolant temperature where the cap's pressure is reached, or None. [K].

        The least is with the hottest gas; either is None where it is not reached.
        """
        if self.closed is None:
            return None
        return tuple(each.reaches_cap_k(self.hot_k) for each in reversed(self.closed))

    @property
    def cap_gives_way(self):
        """Whether the pressure passes what the cap holds: "no", "may", "yes"; None."""
        if self.closed is None:
            return None
        low, high = self.pressure_pa
        if low is None or low > self.cap_pa:
            return "yes"
        return "may" if high is None or high > self.cap_pa else "no"

    @functools.cached_property
    def air_let_out(self):
        """Least and most share of the air that leaves where air stands below the cap. [-]."""
        if self.closed is None:
            return None
        return tuple(each.air_let_out(self.hot_k) for each in self.closed)

    @functools.cached_property
    def pushed_out_m3(self):
        """Least and most hot litres that leave where coolant stands at the cap. [m3].

        An end is None where vapour alone passes the cap: it then boils over.
        """
        if self.closed is None:
            return None
        return tuple(each.coolant_out_m3(self.hot_k) for each in self.closed)

    @property
    def pushed_out(self):
        """Least and most litres that leave hot where coolant stands at the cap, as quantities."""
        if self.pushed_out_m3 is None:
            return None
        return tuple(None if each is None else Q(each, "m^3") for each in self.pushed_out_m3)

    def when_cold_m3(self, hot_m3):
        """Return litres that left hot as they are missing next morning. [m3]."""
        grown = self.heating.liquid_share(self.hot_k)[0]
        return None if hot_m3 is None else float(kernel.when_cold_m3(hot_m3, grown))

    @functools.cached_property
    def settles_m3(self):
        """Least and most litres below the mark at which pushing out ends; None. [m3].

        An end is None where no air space is large enough.
        """
        if self.closed is None:
            return None
        return tuple(each.settles_m3(self.hot_k) for each in self.closed)

    @functools.cached_property
    def room_needed_m3(self):
        """Room with which the pressure stays under the cap: coolest gas, hottest gas. [m3].

        None where no room does, or where there is no pressure.
        """
        if not self.under_cap:
            return None
        return tuple(each.room_needed_m3(self.hot_k) for each in self._spaces(1.0))

    # -- figures ---------------------------------------------------------------------------

    @property
    def level_curve(self):
        """Temperatures and the `Interval` of the level at each, from the cold mark. [K, m3]."""
        start = self.heating.cold_k if self.coldest_k is None else self.coldest_k
        temps_k = np.linspace(start, self.hot_k, CURVE)
        ends = zip(*self.heating.rise_ends_m3(temps_k), strict=True)
        return temps_k, [Interval(*map(float, each)) for each in ends]

    @property
    def pressure_curve(self):
        """Temperatures, and the least and most pressure at each. [K, Pa].

        Above the outside air, if nothing is let out; None without a closed air space.
        """
        if self.closed is None:
            return None
        temps_k = np.linspace(self.heating.cold_k, self.hot_k, CURVE)
        return temps_k, tuple(each.pressure_pa(temps_k) for each in self.closed)

    # -- words -----------------------------------------------------------------------------

    @property
    def notes(self):
        """What to know before the steps: growth, room, pressure, what leaves."""
        return tuple(expansion_words.notes(self))

    @property
    def steps(self):
        """What to do, and where to see the level."""
        return tuple(expansion_words.steps(self))

    @property
    def rows(self):
        """The figures."""
        return tuple(expansion_words.rows(self))

    @property
    def cautions(self):
        """What must be printed with the steps."""
        return cautions.for_work_on_coolant(self.before.fluid)

    @property
    def assumptions(self):
        """What the figures take for granted."""
        return tuple(expansion_words.assumptions(self))

    @property
    def source_keys(self):
        """Keys of the sources of the figures."""
        fluid = self.before.fluid
        keys = [*DENSITY_SOURCES[fluid], "ashrae-2001", *expansion_words.metal_sources(self)]
        keys.append("openstax-physics")
        if self.closed is not None:
            keys += [*BOIL_SOURCES[fluid], "iso-2533"]
        return tuple(dict.fromkeys(keys))

    @property
    def working_lines(self):
        """Each sum, to be checked by hand."""
        return tuple(expansion_words.working_lines(self))

    @property
    def odds_lines(self):
        """Where the give or take comes from."""
        return tuple(expansion_words.odds_lines(self))

    def shown_in(self, show_in):
        """Return the same job in another unit system."""
        from .expansion import expansion

        return expansion(**self.asked, show_in=show_in)

    def columns(self):
        """Return the figures of `to_frame`."""
        litre = 1e-3
        columns = {
            f"rise of the level, {name} [L]": each / litre
            for name, each in zip(("least", "likeliest", "most"), self.rise, strict=True)
        }
        columns["room above the mark [L]"] = _per(self.room_m3, litre)
        columns["verdict"] = self.verdict
        ends = {
            "pressure, {} [kPa gauge]": (self.pressure_pa, 1e3),
            "pushed out hot, {} [L]": (self.pushed_out_m3, litre),
            "air let out, {} [share]": (self.air_let_out, 1.0),
        }
        for name, (pair, unit) in ends.items():
            for end, each in zip(("least", "most"), pair or (None, None), strict=True):
                columns[name.format(end)] = _per(each, unit)
        fall = self.fall or (None,) * 3
        for name, each in zip(("least", "likeliest", "most"), fall, strict=True):
            columns[f"fall at the coldest start, {name} [L]"] = _per(each, litre)
        return columns


def _per(value, unit):
    return None if value is None else value / unit
