"""The answer of `correct_mix`: its figures."""

import dataclasses
import functools
from typing import Any, NamedTuple

from .. import units
from ..balance import exchange
from ..errors import Status
from ..mixture import Mixture
from ..system import CoolingSystem
from . import mix_words
from .after_work import AfterWork
from .mix_notes import mix_notes
from .mix_odds import odds_lines
from .mix_plan import MixInputs, litre_spread, plan_row, state_after
from .mix_working import working_lines


class Pass(NamedTuple):
    """One drain and fill: what comes out, what goes in by product, and the mix that it gives."""

    drain: Any
    pour: dict
    after: Mixture


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class MixCorrection(AfterWork):
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
    plan : coolcalc.balance.exchange.Plan
        Rounded, as printed.
    status : Status
    inputs : coolcalc.jobs.mix_plan.MixInputs
        What is known of reading and capacity.
    most_passes : int
        Drains that were allowed.
    drains_cut : bool
        Whether more drains were allowed than a workshop would do.
    outcome : coolcalc.balance.spread.Spread or None
        The strength afterwards, the printed litres held fixed. [kg/kg]
    hold : coolcalc.balance.spread.Hold
        What counts as holding the target. [kg/kg]
    chance_to_hold : float or None
        Chance that the mix holds the target afterwards; None where there are no litres. [-]
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
    status: Status
    inputs: MixInputs
    most_passes: int
    drains_cut: bool
    outcome: Any
    hold: Any
    chance_to_hold: float | None
    aim: float | None
    reach: Mixture | None

    title = "Correct the mix"

    # -- litres ----------------------------------------------------------------------------

    @property
    def drain(self):
        """What to take out in all, as printed; None where the target cannot be reached."""
        return None if self.blocked else self.volume_quantity(self.plan.drain_m3[:, 0].sum())

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
                self.volume_quantity(self.plan.drain_m3[at, 0]),
                self._by_product(self.plan.pour_m3[at, :, 0]),
                self.mixture_of(state_after(self.row, self.plan, at + 1)),
            )
            for at in range(int(self.plan.passes[0]))
        )

    def _by_product(self, volumes):
        return {p: self.volume_quantity(each) for p, each in zip(self.shelf, volumes, strict=True)}

    @functools.cached_property
    def exact(self):
        """The plan before it was rounded: made when the working is asked for."""
        return plan_row(self.row, self.aimed_frac_mass, self.band, 0.0, self.most_passes)

    @functools.cached_property
    def litres(self):
        """How the litres move with what was measured: made when the odds are asked for. [m3].

        A `coolcalc.balance.spread.Spread` of what is taken out, then of each product.
        """
        return litre_spread(
            self.row, self.aimed_frac_mass, self.band, self.inputs, self.most_passes
        )

    @property
    def used_up(self):
        """Products of which the litres take all that there is, to the measuring step."""
        if self.row.on_hand_m3 is None:
            return ()
        left = self.row.on_hand_m3[:, 0] - self.plan.pour_m3[:, :, 0].sum(axis=0)
        return tuple(p for p, each in zip(self.shelf, left, strict=True) if each < self.step.m3)

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
    def low_m3(self):
        """What is missing below the mark. [m3]."""
        return self.row.low_m3

    # -- words -----------------------------------------------------------------------------

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
    def assumptions(self):
        """What the figures take for granted."""
        return mix_words.assumptions(self)

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
        columns["drains [count]"] = None if self.blocked else len(self.passes)
        columns["after [mass share of glycol]"] = None if self.blocked else self.after.frac_mass
        columns |= self.frost_columns()
        columns["chance to hold [share]"] = self.chance_to_hold
        columns["status"] = self.status_words
        return columns
