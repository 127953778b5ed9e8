"""The answer of `correct_mix`: its figures."""

import dataclasses
from typing import Any, NamedTuple

import numpy as np

from .. import cautions, units
from ..answers import Answer
from ..balance import exchange, ledger
from ..errors import BLOCKED, REASONS, Status
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..fluids.density import SOURCES as DENSITY_SOURCES
from ..fluids.freezing import BOUND_SOURCES
from ..fluids.freezing import SOURCES as FREEZE_SOURCES
from ..instruments import Interval, Reading, freeze_interval
from ..mixture import Mixture
from ..system import CoolingSystem
from ..units import Q
from . import mix_words
from .mix_notes import mix_notes
from .mix_odds import odds_lines
from .mix_working import working_lines


class Pass(NamedTuple):
    """One drain and fill: what comes out, what goes in by product, and the mix that it gives."""

    drain: Any
    pour: dict
    after: Mixture


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class MixCorrection(Answer):
    """What to take out and pour to correct a mix, and what to read afterwards.

    Attributes
    ----------
    asked : dict
        What the job was asked with.
    system : CoolingSystem
    found, target : Reading, Strength, Mixture or Quantity
        As they were told.
    before : Mixture
        What was found.
    target_frac_mass, aimed_frac_mass : float
        The target, and what the litres aim at. Glycol over glycol + water. [kg/kg]
    edge_aimed : bool
        Whether the litres aim at the weak edge of what is near enough to the target, since the
        product that is poured lies between the two.
    shelf : tuple of Product
        What there was to pour.
    row : coolcalc.jobs.mix_plan.MixRow
        What the kernel was given.
    band : tuple of float
        Weakest and strongest mix that is left alone. [kg/kg]
    step : coolcalc.units.MeasuringStep
        Measuring step of the litres.
    plan, exact : coolcalc.balance.exchange.Plan
        Rounded, as printed, and unrounded.
    status : Status
    outcome : coolcalc.balance.spread.Spread or None
        The strength afterwards, the printed litres held fixed. [kg/kg]
    hold : coolcalc.balance.spread.Hold
        What counts as holding the target. [kg/kg]
    chance_to_hold : float or None
        Chance that the mix holds the target afterwards; None where there are no litres. [-]
    litres : tuple of coolcalc.balance.spread.Spread, or None
        How what is taken out, and what is poured of each product, moves with what was
        measured. [m3]
    aim : float or None
        Chance that was aimed at. [-]
    reach : Mixture or None
        Where the target cannot be reached: what one drain and fill gives.
    """

    asked: dict
    system: CoolingSystem
    found: Any
    offset_share: float
    before: Mixture
    target: Any
    target_frac_mass: float
    aimed_frac_mass: float
    edge_aimed: bool
    shelf: tuple
    row: Any
    band: tuple
    band_given: bool
    unit_system: Any
    step: Any
    plan: exchange.Plan
    exact: exchange.Plan
    status: Status
    outcome: Any
    hold: Any
    chance_to_hold: float | None
    litres: tuple | None
    aim: float | None
    reach: Mixture | None

    title = "Correct the mix"

    # -- litres ----------------------------------------------------------------------------

    @property
    def blocked(self):
        """Whether there are no litres to give."""
        return bool(self.status & BLOCKED)

    @property
    def drain(self):
        """What to take out in all, as printed; None where the target cannot be reached."""
        return None if self.blocked else self._litres(self.plan.drain_m3[:, 0].sum())

    @property
    def pour(self):
        """What to pour of each product in all, as printed; empty where it cannot be reached."""
        return {} if self.blocked else self._by_product(self.plan.pour_m3[:, :, 0].sum(axis=0))

    @property
    def passes(self):
        """Each drain and fill, as `Pass`; empty where the target cannot be reached."""
        if self.blocked:
            return ()
        return tuple(
            Pass(
                self._litres(self.plan.drain_m3[at, 0]),
                self._by_product(self.plan.pour_m3[at, :, 0]),
                self._after(at + 1),
            )
            for at in range(int(self.plan.passes[0]))
        )

    def _by_product(self, volumes):
        return {p: self._litres(each) for p, each in zip(self.shelf, volumes, strict=True)}

    def _litres(self, volume_m3):
        unit = self.unit_system.volume
        shown = round(units.to_display(float(volume_m3), "volume", unit), self.step.decimals)
        return Q(shown, units.KINDS["volume"].units[unit].pint)

    def poured(self, at=None):
        """Product and volume of what is poured, strongest first, in one pass or in all. [m3]."""
        volumes = self.plan.pour_m3[:, :, 0]
        amounts = zip(self.shelf, volumes.sum(axis=0) if at is None else volumes[at], strict=True)
        poured = [(product, volume) for product, volume in amounts if volume > 0.0]
        return sorted(poured, key=lambda pair: -pair[0].frac_mass)

    @property
    def drained_m3(self):
        """All that is taken out. [m3]."""
        return float(self.plan.drain_m3[:, 0].sum())

    @property
    def nothing_to_do(self):
        """Whether nothing is taken out or poured."""
        return self.drained_m3 == 0.0 and not self.poured()

    @property
    def inside(self):
        """What is inside before, as a `ledger.State`. [kg]."""
        return self.row.inside

    @property
    def temp_k(self):
        """Temperature of the litres that are poured. [K]."""
        return self.row.temp_k

    @property
    def low_m3(self):
        """What is missing below the mark. [m3]."""
        return self.row.low_m3

    # -- the mix afterwards ----------------------------------------------------------------

    def _after(self, passes, capacity_m3=None):
        inside = self.row.inside
        if capacity_m3 is not None:
            inside = ledger.keep(
                inside,
                (capacity_m3 - self.low_m3) / ledger.volume_m3(inside, self.temp_k),
            )
        part = self.plan._replace(
            drain_m3=self.plan.drain_m3[:passes], pour_m3=self.plan.pour_m3[:passes]
        )
        state = exchange.outcome(
            inside, part, self.row.products, self.temp_k, self.row.drain_temp_k
        )
        return Mixture(product=self.before.product, frac_mass=float(ledger.frac_mass(state)[0]))

    @property
    def after(self):
        """The mix that the printed figures give; None where the target cannot be reached.

        Its product is the one that old and new mix are compared with; additives of two products
        are not told apart in it.
        """
        if self.blocked:
            return None
        return dataclasses.replace(self._after(len(self.plan.drain_m3)), half_width=self.half_width)

    def without(self, side):
        """Return what the rest reads if a side circuit has taken no part in the work."""
        return self._after(len(self.plan.drain_m3), self.row.capacity_m3 - side.volume_m3)

    @property
    def half_width(self):
        """Give or take of the strength afterwards at 95 %, the litres held fixed. [kg/kg]."""
        return 0.0 if self.outcome is None else float(self.outcome.half_width[0])

    @property
    def causes(self):
        """What each input gives of `half_width`: "found" and "capacity". [kg/kg]."""
        if self.outcome is None:
            return {}
        return {name: abs(float(part[0])) for name, part in self.outcome.parts.items()}

    @property
    def measure_better(self):
        """The input that most of the give or take comes from; None where all is exact."""
        known = {name: part for name, part in self.causes.items() if part > 0.0}
        return max(known, key=known.get) if known else None

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
            Lowest, likeliest and highest, as quantities; None where the target cannot be
            reached. Where a strength beyond 60 mass % of glycol is likely, the ends are those of
            the band of the freezing point over all strengths that are likely.

        Raises
        ------
        InputError
            If the scale was made for another glycol.
        """
        if self.blocked:
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

    def is_read_on(self, tool):
        """Whether the first reading was made on this instrument."""
        return isinstance(self.found, Reading) and self.found.instrument == tool

    def _second_reading(self, tool):
        reading = tool.reading_on(self.before.fluid)
        if self.is_read_on(tool):
            return dataclasses.replace(reading, line=self.found.line)
        tool.must_suit(self.before.fluid, "tool")
        return reading

    @property
    def reasons(self):
        """What the status means, as `coolcalc.errors.Reason`, one a flag."""
        return tuple(reason for flag, reason in REASONS.items() if flag & self.status)

    # -- words -----------------------------------------------------------------------------

    def volume_words(self, volume_m3, digits=None):
        """Return a volume as printed. [m3]."""
        digits = self.step.decimals if digits is None else digits
        return units.show(float(volume_m3), "volume", self.unit_system.volume, digits)

    def temp_words(self, temp_k, digits=0):
        """Return a temperature as printed. [K]."""
        return units.show(temp_k, "temperature", self.unit_system.temperature, digits)

    def freezing_words(self, mixture):
        """Return the freezing point of a mix, or its bounds, as printed."""
        if mixture.frac_mass <= FRAC_MASS_SETTLED_MAX:
            return f"about {self.temp_words(mixture.freeze_temp.m)}"
        # Past the lowest freezing point more glycol protects less: nothing to count on.
        low, high = mixture.freeze_band
        return f"not settled: between {self.temp_words(low.m)} and {self.temp_words(high.m)}"

    def strength_words(self, mixture):
        """Return the strength of a mix as printed: a whole per cent of what is poured."""
        return f"{100 * mixture.strength().share:.0f} % of {self.product_word}"

    @property
    def product_word(self):
        """What strengths are per cent of, as the trade says it."""
        return self.before.product.short

    @property
    def target_words(self):
        """The target as it was told."""
        return mix_words.target_words(self)

    @property
    def chart_points(self):
        """Label and mix of each point of the figure."""
        second = ("within reach", self.reach) if self.blocked else ("afterwards", self.after)
        return (("as found", self.before), second)

    @property
    def chart_target(self):
        """The target on the figure: its mix, and its words."""
        return dataclasses.replace(self.before, frac_mass=self.target_frac_mass), self.target_words

    @property
    def notes(self):
        """What to know before the steps."""
        return mix_notes(self)

    @property
    def steps(self):
        """Actions, in the order of the work."""
        return mix_words.steps(self)

    @property
    def rows(self):
        """The figures behind the steps."""
        return mix_words.rows(self)

    @property
    def cautions(self):
        """What must be printed with the steps."""
        return cautions.for_work_on_coolant(self.before.fluid)

    @property
    def assumptions(self):
        """What the figures take for granted."""
        return mix_words.assumptions(self)

    @property
    def source_keys(self):
        """Keys of the sources of the figures."""
        fluid = self.before.fluid
        keys = [*FREEZE_SOURCES[fluid], *DENSITY_SOURCES[fluid]]
        if isinstance(self.found, Reading):
            keys += self.found.source_keys
        keys.append("astm-d6210")
        if self.before.frac_mass > FRAC_MASS_SETTLED_MAX:
            keys += BOUND_SOURCES[fluid]
        return tuple(dict.fromkeys(keys))

    @property
    def working_lines(self):
        """The balance, the textbook rule, and the other meanings, with hundredths."""
        return working_lines(self)

    @property
    def odds_lines(self):
        """Chance to hold, give or take, and what to measure better."""
        return odds_lines(self)

    def shown_in(self, show_in):
        """Return the same job in another unit system: rounded in it, so litres differ a little."""
        from .correct_mix import correct_mix

        return correct_mix(**self.asked, show_in=show_in)

    def columns(self):
        """Return the figures of `to_frame`: litres as printed, unit in the name."""
        litres = units.KINDS["volume"].units["L"].factor
        columns = {
            "capacity [L]": self.system.capacity_m3 / litres,
            "found [mass share of glycol]": self.before.frac_mass,
            "target [mass share of glycol]": self.target_frac_mass,
            "drain [L]": None if self.blocked else self.drained_m3 / litres,
        }
        for at, product in enumerate(self.shelf):
            volume = float(self.plan.pour_m3[:, at, 0].sum())
            columns[f"pour {product.name} [L]"] = None if self.blocked else volume / litres
        expected = self.expect()
        columns["drains [count]"] = None if self.blocked else len(self.passes)
        columns["after [mass share of glycol]"] = None if self.blocked else self.after.frac_mass
        for name in ("low", "value", "high"):
            column = f"freezing point afterwards, {name} [°C]"
            columns[column] = None if expected is None else getattr(expected, name).m_as("degC")
        columns["chance to hold [share]"] = self.chance_to_hold
        columns["status"] = ", ".join(reason.code for reason in self.reasons) or "plain"
        return columns
