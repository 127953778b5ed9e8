"""The answer of `batch`: its figures."""

import dataclasses
import math
from typing import Any

from .. import units
from ..balance import exchange, ledger
from ..balance.composition import product_density_kg_m3
from ..errors import Status
from ..mixture import Mixture
from ..units import Q
from . import batch_words
from .after_work import AfterWork
from .batch_plan import MassStep


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class Batch(AfterWork):
    """What to take out of a remnant, what to pour or weigh in, and what to read afterwards.

    Attributes
    ----------
    asked : dict
        What the job was asked with.
    volume_m3, container_m3, remnant_m3 : float
        Wanted in all; what the container holds, or None; what is inside before. [m3]
    remnant : coolcalc.balance.ledger.State
        What is inside before. [kg]
    found : Reading, Strength, Mixture or None
        The remnant as it was told.
    before : Mixture
        The remnant; without one, its product alone counts.
    target : Strength or Quantity
        As it was told.
    target_frac_mass : float
        [kg/kg]
    shelf : tuple of Product
        What there was to pour.
    row : coolcalc.jobs.mix_plan.MixRow
        What the plan starts from: no more than the volume wanted, and an empty container where
        all of the remnant is thrown out.
    plan, exact : coolcalc.balance.exchange.Plan
        Rounded, as printed, and unrounded.
    spare_m3 : float
        What is inside beyond the volume wanted, which comes out anyway. [m3]
    emptied : bool
        Whether all of the remnant is thrown out.
    status : Status
    outcome : coolcalc.balance.spread.Spread or None
        The strength afterwards, over what was measured of the remnant. [kg/kg]
    reach : Mixture or None
        Where the target cannot be reached: the nearest that can be.
    whole_m3 : float or None
        Volume of a batch that takes in all of the remnant, in whole measuring steps; None where
        this one does, or none can. [m3]
    by_mass : bool
        Whether the steps give masses.
    mass_step : MassStep
    """

    asked: dict
    volume_m3: float
    container_m3: float | None
    remnant: ledger.State
    remnant_m3: float
    found: Any
    offset_share: float
    before: Mixture
    target: Any
    target_frac_mass: float
    shelf: tuple
    row: Any
    plan: exchange.Plan
    exact: exchange.Plan
    spare_m3: float
    emptied: bool
    status: Status
    outcome: Any
    reach: Mixture | None
    whole_m3: float | None
    by_mass: bool
    mass_step: MassStep
    unit_system: Any
    step: Any

    title = "Mix a batch"
    card_blanks = (("Reading", "Instrument"), ("Poured", "Signature"))

    # -- litres and masses -----------------------------------------------------------------

    @property
    def half_width(self):
        """Give or take of the strength afterwards at 95 %. [kg/kg].

        What is inside as it was told, and half a measuring step of each pour.
        """
        if self.blocked:
            return 0.0
        after = float(ledger.frac_mass(self.plan.after)[0])
        steps = [
            (product.frac_mass - after) * self.step.m3 / 2 / self.volume_m3
            for product, volume in self._volumes()
            if volume > 0.0
        ]
        return math.hypot(float(self.outcome.half_width[0]), *steps)

    @property
    def take_out_m3(self):
        """What comes out of the remnant first. [m3]."""
        if self.emptied:
            return self.remnant_m3
        return self.spare_m3 + float(self.plan.drain_m3[0, 0])

    @property
    def take_out(self):
        """What comes out of the remnant first, as printed; None where nothing can be reached."""
        return None if self.blocked else self.volume_quantity(self.take_out_m3)

    @property
    def pour(self):
        """What to pour of each product, as printed; empty where the target is out of reach."""
        if self.blocked:
            return {}
        return {product: self.volume_quantity(volume) for product, volume in self._volumes()}

    @property
    def weigh(self):
        """What to weigh in of each product, as printed; empty where it is out of reach."""
        if self.blocked:
            return {}
        return {
            product: self.mass_quantity(volume * self.density_of(product))
            for product, volume in self._volumes()
        }

    def _volumes(self):
        return zip(self.shelf, map(float, self.plan.pour_m3[0, :, 0]), strict=True)

    def pours_m3(self):
        """Product and volume of what is poured, the larger first. [m3]."""
        poured = [(product, volume) for product, volume in self._volumes() if volume > 0.0]
        return sorted(poured, key=lambda pair: -pair[1])

    def density_of(self, product):
        """Density of a product at the temperature of the liquids. [kg/m3]."""
        return float(product_density_kg_m3(product.si(self.before.fluid), self.temp_k))

    @property
    def remnant_kg(self):
        """Mass of what is inside before. [kg]."""
        return sum(float(each[0]) for each in self.remnant[:3])

    @property
    def take_out_kg(self):
        """Mass of what comes out of the remnant. [kg]."""
        return self.remnant_kg * self.take_out_m3 / self.remnant_m3 if self.remnant_m3 else 0.0

    # -- afterwards ------------------------------------------------------------------------

    @property
    def made_m3(self):
        """Volume that the printed figures give. [m3]."""
        return float(ledger.volume_m3(self.plan.after, self.temp_k)[0])

    @property
    def made_kg(self):
        """Mass that the printed figures give. [kg]."""
        return sum(float(each[0]) for each in self.plan.after[:3])

    # -- words -----------------------------------------------------------------------------

    def mass_words(self, mass_kg):
        """Return a mass as printed. [kg]."""
        return units.show(mass_kg, "mass", self.unit_system.mass, self.mass_step.decimals)

    def mass_quantity(self, mass_kg):
        """Return a mass as printed, as a quantity. [kg]."""
        unit = self.unit_system.mass
        shown = round(units.to_display(float(mass_kg), "mass", unit), self.mass_step.decimals)
        return Q(shown + 0.0, units.KINDS["mass"].units[unit].pint)

    @property
    def notes(self):
        """What to know before the steps."""
        return tuple(batch_words.notes(self))

    @property
    def steps(self):
        """Actions, in the order of the work."""
        return tuple(batch_words.steps(self))

    @property
    def rows(self):
        """The figures behind the steps, litres and masses."""
        return tuple(batch_words.rows(self))

    @property
    def assumptions(self):
        """What the figures take for granted."""
        return tuple(batch_words.assumptions(self))

    @property
    def working_lines(self):
        """The balance in kilograms, and the textbook rule beside it."""
        return tuple(batch_words.working_lines(self))

    @property
    def odds_lines(self):
        """Give or take, and what to measure better."""
        return tuple(batch_words.odds_lines(self))

    def shown_in(self, show_in):
        """Return the same job in another unit system: rounded in it, so litres differ a little."""
        from .batch import batch

        return batch(**self.asked, show_in=show_in)

    def columns(self):
        """Return the figures of `to_frame`: litres and masses, unit in the name."""
        litres = units.KINDS["volume"].units["L"].factor
        columns = {
            "volume [L]": self.volume_m3 / litres,
            "inside before [L]": self.remnant_m3 / litres,
            "inside before [mass share of glycol]": (
                self.before.frac_mass if self.remnant_m3 else None
            ),
            "target [mass share of glycol]": self.target_frac_mass,
            "take out [L]": None if self.blocked else self.take_out_m3 / litres,
        }
        for product, volume in self._volumes():
            none = self.blocked
            columns[f"pour {product.name} [L]"] = None if none else volume / litres
            columns[f"pour {product.name} [kg]"] = (
                None if none else volume * self.density_of(product)
            )
        columns["after [mass share of glycol]"] = None if self.blocked else self.after.frac_mass
        columns["volume afterwards [L]"] = None if self.blocked else self.made_m3 / litres
        columns |= self.frost_columns()
        columns["status"] = self.status_words
        return columns
