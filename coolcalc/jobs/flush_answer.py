"""The answer of `flush`: its figures."""

import dataclasses
from typing import Any, NamedTuple

import numpy as np

from .. import units
from ..balance import flush as kernel
from ..balance import ledger
from ..errors import Status
from ..mixture import Mixture
from ..system import CoolingSystem
from . import flush_words
from .after_work import AfterWork


class FlushWays(NamedTuple):
    """What else would bring the last fill to the target; None where it would not.

    Attributes
    ----------
    product_pours : tuple of (Product, float)
        The last fill with concentrate and water, where that reaches. [m3]
    comes_out_m3 : float or None
        Least that has to come out at a drain, in whole measuring steps. [m3]
    more_drains : int or None
        Drains after the last one, each filled up as near to the target as it goes.
    strong_fills : int or None
        The last of the flush fills that are so filled instead, with no further drain.
    """

    product_pours: tuple
    comes_out_m3: float | None
    more_drains: int | None
    strong_fills: int | None


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class Flush(AfterWork):
    """How often to drain, what to fill in between and at last, and what to read afterwards.

    Attributes
    ----------
    asked : dict
        What the job was asked with.
    system : CoolingSystem
    found : Reading, Strength, Mixture or text
        What is inside now, as it was told.
    before : Mixture
        The same.
    target : Strength or Quantity
        As it was told.
    target_frac_mass : float
        [kg/kg]
    may_stay : float
        Old coolant that may be left, as a share of the full system. [m3/m3]
    flush_with : Product
    shelf : tuple of Product
        What is poured at last, and what it is flushed with.
    offered : tuple of Product
        What there is for the last fill.
    drains : int
        Least number that leaves no more than may stay.
    row : coolcalc.jobs.mix_plan.MixRow
        What the kernel was given.
    flushed : coolcalc.balance.flush.FlushPlan
        What it gave.
    plan : coolcalc.balance.exchange.Plan
        Its litres: drains as they come, fills as printed.
    status : Status
    outcome : coolcalc.balance.spread.Spread or None
        The strength afterwards, over what was measured. [kg/kg]
    reach : Mixture or None
        Where the last fill cannot reach the target: what it comes nearest to.
    ways : FlushWays or None
        What to do instead, in that case.
    """

    asked: dict
    system: CoolingSystem
    found: Any
    offset_share: float
    before: Mixture
    target: Any
    target_frac_mass: float
    may_stay: float
    flush_with: Any
    shelf: tuple
    offered: tuple
    drains: int
    row: Any
    flushed: kernel.FlushPlan
    plan: Any
    status: Status
    outcome: Any
    reach: Mixture | None
    ways: FlushWays | None
    unit_system: Any
    step: Any

    title = "Flush the system"
    card_blanks = (
        ("Reading before", "Instrument"),
        ("Taken out at each drain", "Poured"),
        ("Reading afterwards", "Level next morning"),
        ("Waste", "Signature"),
    )
    #: A flush always moves something.
    nothing_to_do = False

    # -- what stays ------------------------------------------------------------------------

    @property
    def stays(self):
        """Share of the full system that is old coolant at the end. [m3/m3]."""
        return self.stays_at(self.row.capacity_m3)

    def stays_at(self, capacity_m3, drains=None):
        """Return that share for another capacity, or after fewer drains. [m3, m3/m3]."""
        count = self.drains if drains is None else drains
        return float(kernel.share_left(capacity_m3, self.row.drainable_m3, count))

    @property
    def capacity_ends_m3(self):
        """Least and most that the system may hold at 95 %. [m3]."""
        error = self.system.capacity_error_m3
        return self.row.capacity_m3 - error, self.row.capacity_m3 + error

    @property
    def stays_ends(self):
        """What stays at both ends of the capacity's give or take. [m3/m3]."""
        return tuple(self.stays_at(each) for each in self.capacity_ends_m3)

    @property
    def drains_at_most(self):
        """Drains that leave no more than may stay if the system holds the most that it may."""
        most = np.array([self.capacity_ends_m3[1]])
        return int(kernel.drains_needed(most, self.row.drainable_m3, self.may_stay)[0])

    # -- litres ----------------------------------------------------------------------------

    def _printed_m3(self, volume_m3):
        unit = self.unit_system.volume
        shown = round(units.to_display(float(volume_m3), "volume", unit), self.step.decimals)
        return shown * units.KINDS["volume"].units[unit].factor

    def drained_m3(self):
        """Each drain as printed, in order. [m3]."""
        return [self._printed_m3(each) for each in self.plan.drain_m3[:, 0]]

    def flush_fills_m3(self):
        """Each flush fill as printed: in whole measuring steps, none above the mark. [m3]."""
        at = self.shelf.index(self.flush_with)
        fills = self.plan.pour_m3[:-1, at, 0]
        return [float(each) for each in fills]

    def last_pours_m3(self):
        """Product and volume of the last fill, the strongest first. [m3]."""
        volumes = map(float, self.plan.pour_m3[-1, :, 0])
        poured = [(p, each) for p, each in zip(self.shelf, volumes, strict=True) if each > 0.0]
        return sorted(poured, key=lambda pair: -pair[0].frac_mass)

    def total_m3(self, product):
        """Return what is poured of a product in all. [m3]."""
        flushed = sum(self.flush_fills_m3()) if product == self.flush_with else 0.0
        return flushed + dict(self.last_pours_m3()).get(product, 0.0)

    @property
    def waste_m3(self):
        """All that is drained. [m3]."""
        return sum(self.drained_m3())

    @property
    def trapped_m3(self):
        """What stays inside at the last drain. [m3]."""
        return float(ledger.volume_m3(self.flushed.left, self.temp_k)[0])

    @property
    def drain(self):
        """What comes out at each drain, as printed; empty where it is not to be begun."""
        return () if self.blocked else tuple(map(self.volume_quantity, self.drained_m3()))

    @property
    def flush_fills(self):
        """What each flush fill takes, as printed; empty where it is not to be begun."""
        return () if self.blocked else tuple(map(self.volume_quantity, self.flush_fills_m3()))

    @property
    def last_fill(self):
        """What the last fill takes of each product; empty where it is not to be begun."""
        if self.blocked:
            return {}
        return {product: self.volume_quantity(each) for product, each in self.last_pours_m3()}

    @property
    def pour(self):
        """What is poured of each product in all; empty where it is not to be begun."""
        if self.blocked:
            return {}
        return {each: self.volume_quantity(self.total_m3(each)) for each in self.shelf}

    @property
    def waste(self):
        """All that is drained, as printed; None where it is not to be begun."""
        return None if self.blocked else self.volume_quantity(self.waste_m3)

    @property
    def low_m3(self):
        """What is missing below the mark now. [m3]."""
        return self.row.low_m3

    # -- words -----------------------------------------------------------------------------

    @property
    def notes(self):
        """What to know before the steps: drains, what stays, what it ends at."""
        return tuple(flush_words.notes(self))

    @property
    def steps(self):
        """Actions, in the order of the work."""
        return tuple(flush_words.steps(self))

    @property
    def rows(self):
        """The figures behind the steps."""
        return tuple(flush_words.rows(self))

    @property
    def assumptions(self):
        """What the figures take for granted."""
        return tuple(flush_words.assumptions(self))

    @property
    def working_lines(self):
        """The closed form, and the balance in kilograms beside it."""
        return tuple(flush_words.working_lines(self))

    @property
    def odds_lines(self):
        """What may stay, give or take, and what to measure better."""
        return tuple(flush_words.odds_lines(self))

    def shown_in(self, show_in):
        """Return the same job in another unit system: rounded in it, so litres differ a little."""
        from .flush import flush

        return flush(**self.asked, show_in=show_in)

    def columns(self):
        """Return the figures of `to_frame`: litres as printed, unit in the name."""
        litres = units.KINDS["volume"].units["L"].factor
        none = self.blocked
        columns = {
            "capacity [L]": self.system.capacity_m3 / litres,
            "comes out at a drain [L]": self.row.drainable_m3 / litres,
            "found [mass share of glycol]": self.before.frac_mass,
            "target [mass share of glycol]": self.target_frac_mass,
            "drains [count]": None if none else self.drains,
            "old coolant left [share of the full system]": None if none else self.stays,
        }
        for product in self.shelf:
            total = None if none else self.total_m3(product) / litres
            columns[f"pour {product.name} in all [L]"] = total
        columns["waste [L]"] = None if none else self.waste_m3 / litres
        columns["after [mass share of glycol]"] = None if none else self.after.frac_mass
        columns |= self.frost_columns()
        columns["status"] = self.status_words
        return columns
