"""What answers share that end with a mix: what to read afterwards, and how figures are printed."""

import dataclasses
import math
from decimal import ROUND_CEILING, ROUND_FLOOR
from typing import Any

import numpy as np

from .. import cautions
from ..answers import Line
from ..balance import ledger
from ..errors import BLOCKED, REASONS
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..fluids.density import SOURCES as DENSITY_SOURCES
from ..fluids.freezing import BOUND_SOURCES
from ..fluids.freezing import SOURCES as FREEZE_SOURCES
from ..instruments import Interval, Reading, freeze_interval
from ..mixture import Mixture
from ..units import Q
from . import told_words
from .mix_plan import DUST, EQUAL, state_after
from .printed import Printed
from .told_words import CAUSE_WORDS, better_words, mass_words, weak_notes


class AfterWork(Printed):
    """An answer that ends with a mix which is read afterwards.

    Attributes
    ----------
    asked : dict
        What the job was asked with.
    found : Reading, Strength, Mixture or None
        What was inside before, as it was told.
    offset_share : float
        Share of that reading's give or take that all readings of the instrument have. [-]
    before : Mixture
        What was inside before; its product is the one that strengths are per cent of.
    outcome : coolcalc.balance.spread.Spread or None
        The strength afterwards over what was measured. [kg/kg]
    row : coolcalc.jobs.mix_plan.MixRow
        What the kernel was given.
    plan : coolcalc.balance.exchange.Plan
        The litres as printed, and what they give.
    status : Status
    unit_system : coolcalc.units.UnitSystem
    step : coolcalc.units.MeasuringStep
        Measuring step of the litres.
    target : Strength, Quantity or None
        As it was told.
    target_frac_mass : float or None
        [kg/kg]
    hold : coolcalc.balance.spread.Hold or None
        What counts as holding the target. [kg/kg]
    reach : Mixture
        Where there is no answer: the nearest that can be reached.
    """

    asked: dict
    found: Any
    offset_share: float
    before: Any
    outcome: Any
    row: Any
    plan: Any
    status: Any
    unit_system: Any
    step: Any
    target: Any
    target_frac_mass: Any
    hold: Any
    reach: Any

    @property
    def inside(self):
        """What was inside before, as a `ledger.State`. [kg]."""
        return self.row.inside

    @property
    def temp_k(self):
        """Temperature of the litres that are poured. [K]."""
        return self.row.temp_k

    @property
    def blocked(self):
        """Whether there are no litres to give."""
        return bool(self.status & BLOCKED)

    @property
    def reasons(self):
        """What the status means, as `coolcalc.errors.Reason`, one a flag."""
        return tuple(reason for flag, reason in REASONS.items() if flag & self.status)

    @property
    def blocked_by(self):
        """Of the `reasons`, those for which there are no litres."""
        why = self.status & BLOCKED if self.blocked else 0
        return tuple(reason for flag, reason in REASONS.items() if flag & why)

    # -- what it gives ---------------------------------------------------------------------

    @property
    def after(self):
        """The mix that the printed figures give; None where there is no answer.

        Its product is the one that old and new mix are compared with; additives of two products
        are not told apart in it.
        """
        if self.blocked:
            return None
        return self.mixture_of(self.plan.after, self.half_width)

    def mixture_of(self, state, half_width=0.0):
        """Return a state as a mix of the product that strengths are per cent of. [kg, kg/kg]."""
        frac_mass = float(ledger.frac_mass(state)[0])
        return Mixture(product=self.before.product, frac_mass=frac_mass, half_width=half_width)

    def without(self, side):
        """Return what the rest reads if a side circuit has taken no part in the work.

        None where the rest would not have held what was taken out.
        """
        rest = self.row.capacity_m3 - side.volume_m3 - self.row.low_m3
        if rest <= max(self.plan.drain_m3[:, 0].max(), 0.0):
            return None
        inside = ledger.keep(self.inside, rest / ledger.volume_m3(self.inside, self.temp_k))
        return self.mixture_of(state_after(self.row, self.plan, inside=inside))

    # -- how sure it is --------------------------------------------------------------------

    @property
    def half_width(self):
        """Give or take of the strength afterwards at 95 %, the litres held fixed. [kg/kg]."""
        return 0.0 if self.outcome is None else float(self.outcome.half_width[0])

    @property
    def holds(self):
        """Whether the likeliest strength holds the target; None without one."""
        if self.hold is None:
            return None
        weakest, strongest = (float(each[0]) for each in self.hold[:2])
        return weakest - DUST <= self.after.frac_mass <= strongest

    @property
    def causes(self):
        """What each input gives of `half_width`: "found" and "capacity". [kg/kg]."""
        if self.outcome is None:
            return {}
        return {name: abs(float(part[0])) for name, part in self.outcome.parts.items()}

    @property
    def measure_better(self):
        """The input that most of the give or take comes from; None where all is exact."""
        known = {name: part for name, part in self.causes.items() if part > DUST}
        return max(known, key=known.get) if known else None

    def frost_lines(self):
        """Yield the span of the freezing point afterwards, as `Line`, where there is one."""
        expected = self.expected_k()
        if expected.weak_settled:
            span = self.frost_span(expected.high_k, expected.low_k)
            often = ", 95 times of 100" if " to " in span else ""
            yield Line("Freezing point afterwards", f"{span}{often}, for these amounts.")

    def give_or_take_lines(self):
        """Yield where the give or take comes from, and what to measure better, as `Line`."""
        if self.measure_better is None:
            yield Line("Give or take", "No error that moves the strength was entered.")
            return
        parts = ", ".join(
            f"{mass_words(part)} from {CAUSE_WORDS[name]}"
            for name, part in self.causes.items()
            if part > DUST
        )
        yield Line(
            "Give or take",
            f"{mass_words(self.half_width)} of glycol by mass afterwards, 95 times of 100 "
            f"({parts}).",
        )
        yield Line("Measure better", better_words(self))

    # -- what to read afterwards -----------------------------------------------------------

    def expect(self, tool=None):
        """Return what to read afterwards.

        Parameters
        ----------
        tool : Refractometer, Hydrometer or TestStrip, optional
            The instrument of the second reading, whose own error is added; the offset of one
            that was read before counts once. Without it, the freezing point itself.

        Returns
        -------
        Interval or None
            Lowest, likeliest and highest, as quantities; None where there is no answer. Where a
            strength beyond 60 mass % of glycol is likely, the ends are those of the band of the
            freezing point over all strengths that are likely.

        Raises
        ------
        InputError
            If the scale was made for another glycol.
        """
        if self.after is None:
            return None
        if tool is None:
            return Interval(*(Q(each, "kelvin").to("degC") for each in self.expected_k()[:3]))
        return Interval(*(tool.quantity(each) for each in self.expected_on(tool)))

    def expected_k(self, tool=None):
        """Return the freezing point to expect as a `coolcalc.instruments.FreezeInterval`. [K]."""
        width = self.half_width if tool is None else self.expected_half_width(tool)
        return freeze_interval(self.before.fluid, self.after.frac_mass, width)

    def expected_on(self, tool):
        """Return the lowest, likeliest and highest reading on an instrument. [SI of its scale]."""
        reading = self._second_reading(tool)
        return tool.interval(self.after, self.expected_half_width(tool), reading)

    def expected_half_width(self, tool):
        """Give or take of a second reading, as a strength. [kg/kg]."""
        reading = self._second_reading(tool)
        offset, repeat = tool.own_half_widths(self.after.frac_mass, reading, self.after.product)
        shared = 0.0
        if self.is_read_on(tool):
            shared = self.offset_share * float(np.nan_to_num(self.outcome.parts["found"][0]))
        rest = max(self.half_width**2 - shared**2, 0.0)
        return float(np.sqrt(rest + (shared - offset) ** 2 + repeat**2))

    def expected_between(self, mixture):
        """Return the span that the first instrument shows between two drains. [SI of its scale].

        The mix is then no better known than it was found, nor worse.
        """
        tool = self.found.instrument
        reading = self._second_reading(tool)
        own = tool.own_half_widths(mixture.frac_mass, reading, mixture.product)
        width = math.hypot(self.before.half_width, self.half_width, *own)
        return tool.interval(mixture, width, reading)

    def is_read_on(self, tool):
        """Whether what was inside before was read on this instrument."""
        return isinstance(self.found, Reading) and self.found.instrument == tool

    def _second_reading(self, tool):
        reading = tool.reading_on(self.before.fluid)
        if self.is_read_on(tool):
            return dataclasses.replace(reading, line=self.found.line)
        tool.must_suit(self.before.fluid, "tool")
        return reading

    # -- words -----------------------------------------------------------------------------

    def frost_span(self, warm_k, cold_k):
        """Return a span of freezing points as printed, rounded outward to whole degrees. [K]."""
        if warm_k - cold_k < EQUAL:
            return f"about {self.temp_words(warm_k)}"
        warm = self.temp_words(warm_k, rounding=ROUND_CEILING)
        return f"{warm} to {self.temp_words(cold_k, rounding=ROUND_FLOOR)}"

    @property
    def target_words(self):
        """The target as it was told."""
        return told_words.target_words(self)

    @property
    def cautions(self):
        """What must be printed with the steps."""
        return cautions.for_work_on_coolant(self.before.fluid)

    @property
    def source_keys(self):
        """Keys of the sources of the figures."""
        fluid = self.before.fluid
        keys = [*FREEZE_SOURCES[fluid], *DENSITY_SOURCES[fluid]]
        if isinstance(self.found, Reading):
            keys += self.found.source_keys
        keys.append("astm-d6210")
        mixes = [each for each in (self.before, self.after) if each is not None]
        if any(each.frac_mass > FRAC_MASS_SETTLED_MAX for each in mixes):
            keys += BOUND_SOURCES[fluid]
        return tuple(dict.fromkeys(keys))

    @property
    def chart_points(self):
        """Label and mix of each point of the figure."""
        first = () if self.found is None else (("as found", self.before),)
        if self.after is None:
            return (*first, ("within reach", self.reach))
        return (*first, ("afterwards", self.after))

    @property
    def chart_target(self):
        """The target on the figure: its mix, and its words; None without one."""
        if self.target_frac_mass is None:
            return None
        target = dataclasses.replace(self.before, frac_mass=self.target_frac_mass, half_width=0.0)
        return target, self.target_words

    def strength_notes(self):
        """Yield what is to be said of a mix that is too weak or too strong to be driven with."""
        if self.after.frac_mass > FRAC_MASS_SETTLED_MAX:
            yield (
                "Stronger than 60 mass % of glycol: there more glycol may freeze sooner, the "
                "freezing point is not settled, and it cools less."
            )
        else:
            yield from weak_notes(self.after)

    @property
    def status_words(self):
        """The status as a column of `to_frame`: codes of the reasons."""
        return ", ".join(reason.code for reason in self.reasons) or "plain"

    def frost_columns(self):
        """Return the freezing point afterwards as columns of `to_frame`."""
        expected = self.expect()
        return {
            f"freezing point afterwards, {name} [°C]": (
                None if expected is None else getattr(expected, name).m_as("degC")
            )
            for name in ("low", "value", "high")
        }
