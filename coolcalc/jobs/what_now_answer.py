"""The answer of `what_now`: its figures."""

import dataclasses
from typing import Any

from .. import units
from ..balance import exchange, ledger
from ..errors import Status
from ..mixture import Mixture
from ..system import CoolingSystem
from . import what_now_words
from .after_work import AfterWork


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class WhatNow(AfterWork):
    """What is inside now, how far the level is from the mark, and what to read.

    Attributes
    ----------
    asked : dict
        What the job was asked with.
    system : CoolingSystem
    found : Reading, Strength or Mixture
        What was inside before, as it was told.
    before : Mixture
        The same.
    shelf : tuple of Product
        What was poured, in the order of pouring.
    taken_out_m3 : float
        As told. [m3]
    row : coolcalc.jobs.mix_plan.MixRow
        What the kernel was given.
    plan : coolcalc.balance.exchange.Plan
        The litres as they were told, and what they gave.
    outcome : coolcalc.balance.spread.Spread
        The strength now, over what was measured. [kg/kg]
    target : Strength, Quantity or None
        As it was told.
    target_frac_mass : float or None
        [kg/kg]
    hold : coolcalc.balance.spread.Hold or None
        What counts as holding the target. [kg/kg]
    chance_to_hold : float or None
        Chance that the mix holds the target; None without one. [-]
    status : Status
    """

    asked: dict
    system: CoolingSystem
    found: Any
    offset_share: float
    before: Mixture
    shelf: tuple
    taken_out_m3: float
    row: Any
    plan: exchange.Plan
    outcome: Any
    target: Any
    target_frac_mass: float | None
    hold: Any
    chance_to_hold: float | None
    status: Status
    unit_system: Any
    step: Any

    title = "What is inside now"

    # -- figures ---------------------------------------------------------------------------

    @property
    def blocked(self):
        """Never: what was done has an answer, whatever the circuit."""
        return False

    @property
    def taken_out(self):
        """What was taken out, as it was told, in the unit that is printed."""
        return self.as_told(self.taken_out_m3)

    @property
    def poured(self):
        """What was poured of each product, in order, as it was told, in the unit printed."""
        return {product: self.as_told(volume) for product, volume in self.pours_m3()}

    def pours_m3(self):
        """Product and volume of what was poured, in order. [m3]."""
        return list(zip(self.shelf, map(float, self.plan.pour_m3[0, :, 0]), strict=True))

    @property
    def low_m3(self):
        """What was missing below the mark before. [m3]."""
        return self.row.low_m3

    @property
    def missing_m3(self):
        """What is missing below the mark, in whole measuring steps; negative above it. [m3]."""
        held = float(ledger.volume_m3(self.plan.after, self.temp_k)[0])
        return round((self.row.capacity_m3 - held) / self.step.m3) * self.step.m3

    @property
    def level(self):
        """What is missing below the mark, as printed; negative above it."""
        return self.volume_quantity(self.missing_m3)

    @property
    def nothing_to_do(self):
        """Whether the strength is as it was, since nothing was poured."""
        return not self.shelf

    # -- words -----------------------------------------------------------------------------

    @property
    def level_words(self):
        """How the level stands to the mark, as printed."""
        return what_now_words.level_words(self)

    @property
    def notes(self):
        """What to know before the steps: strength, frost, level, chance to hold."""
        return tuple(what_now_words.notes(self))

    @property
    def steps(self):
        """Actions, in the order of the work."""
        return tuple(what_now_words.steps(self))

    @property
    def rows(self):
        """The figures."""
        return tuple(what_now_words.rows(self))

    @property
    def assumptions(self):
        """What the figures take for granted."""
        return tuple(what_now_words.assumptions(self))

    @property
    def working_lines(self):
        """The balance in kilograms, and the textbook rule beside it."""
        return tuple(what_now_words.working_lines(self))

    @property
    def odds_lines(self):
        """Chance to hold, give or take, and what to measure better."""
        return tuple(what_now_words.odds_lines(self))

    def shown_in(self, show_in):
        """Return the same job in another unit system."""
        from .what_now import what_now

        return what_now(**self.asked, show_in=show_in)

    def columns(self):
        """Return the figures of `to_frame`: litres as printed, unit in the name."""
        litres = units.KINDS["volume"].units["L"].factor
        columns = {
            "capacity [L]": self.system.capacity_m3 / litres,
            "found [mass share of glycol]": self.before.frac_mass,
            "taken out [L]": self.taken_out_m3 / litres,
        }
        for product, volume in self.pours_m3():
            columns[f"poured {product.name} [L]"] = volume / litres
        columns["after [mass share of glycol]"] = self.after.frac_mass
        columns["missing below the mark [L]"] = self.missing_m3 / litres
        columns |= self.frost_columns()
        columns["chance to hold [share]"] = self.chance_to_hold
        columns["status"] = self.status_words
        return columns
