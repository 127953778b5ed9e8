"""How the figures of an answer are printed: in its unit system, and no finer than is measured."""

from decimal import ROUND_HALF_EVEN
from typing import Any

from .. import units
from ..answers import Answer
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..strength import BASIS_SHORT, GLYCOL_BY_MASS
from ..units import Q
from .mix_plan import EQUAL

#: Decimals of litres as they were told. [-]
TOLD_DIGITS = 6


def litres_by_hand(volume_m3):
    """Return a volume as sums that are checked by hand print it: litres, to a millilitre. [m3]."""
    return units.show(float(volume_m3), "volume", "L", 3)


class Printed(Answer):
    """An answer that prints volumes, temperatures, pressures and lengths.

    Attributes
    ----------
    before : Mixture
        What is inside before; its product is the one that strengths are per cent of.
    unit_system : coolcalc.units.UnitSystem
    step : coolcalc.units.MeasuringStep
        Measuring step of the litres.
    """

    before: Any
    unit_system: Any
    step: Any

    def volume_words(self, volume_m3, digits=None):
        """Return a volume as printed. [m3]."""
        digits = self.step.decimals if digits is None else digits
        return units.show(float(volume_m3), "volume", self.unit_system.volume, digits)

    def volume_quantity(self, volume_m3):
        """Return a volume as printed, as a quantity. [m3]."""
        unit = self.unit_system.volume
        shown = round(units.to_display(float(volume_m3), "volume", unit), self.step.decimals)
        return Q(shown + 0.0, units.KINDS["volume"].units[unit].pint)

    def told_words(self, volume_m3):
        """Return litres that were told as printed: not coarser than they were measured. [m3].

        As other litres, and up to two decimals more where that alone is not what was told.
        """
        shown = units.to_display(float(volume_m3), "volume", self.unit_system.volume)
        fewest = self.step.decimals
        fits = (
            digits
            for digits in range(fewest, fewest + 3)
            if abs(round(shown, digits) - shown) < 10.0**-TOLD_DIGITS
        )
        return self.volume_words(volume_m3, next(fits, fewest + 1))

    def as_told(self, volume_m3):
        """Return litres as they were told, in the unit printed, as a quantity. [m3]."""
        unit = self.unit_system.volume
        shown = units.to_display(volume_m3, "volume", unit)
        # The dust of a change of units is not what was told.
        return Q(round(shown, TOLD_DIGITS), units.KINDS["volume"].units[unit].pint)

    def temp_words(self, temp_k, digits=0, rounding=ROUND_HALF_EVEN):
        """Return a temperature as printed. [K]."""
        unit = self.unit_system.temperature
        return units.show(temp_k, "temperature", unit, digits, rounding)

    def pressure_words(self, gauge_pa):
        """Return a pressure above the outside air as printed. [Pa]."""
        unit = self.unit_system.gauge_pressure
        return units.show(gauge_pa, "gauge pressure", unit, int(unit.startswith("psi")))

    def absolute_words(self, pressure_pa):
        """Return an absolute pressure as printed. [Pa]."""
        unit = f"{self.unit_system.gauge_pressure.split()[0]} absolute"
        return units.show(pressure_pa, "absolute pressure", unit, 1)

    def altitude_words(self, altitude_m):
        """Return a height above the sea as printed. [m]."""
        return units.show(altitude_m, "altitude", self.unit_system.altitude, 0)

    def difference_words(self, difference_k, digits=0):
        """Return a difference of temperatures as printed. [K]."""
        unit = self.unit_system.temperature_difference
        return units.show(difference_k, "temperature difference", unit, digits)

    def freezing_words(self, mixture):
        """Return the freezing point of a mix, or its bounds, as printed."""
        if mixture.frac_mass <= FRAC_MASS_SETTLED_MAX:
            return f"about {self.temp_words(mixture.freeze_temp.m)}"
        # Past the lowest freezing point more glycol protects less: nothing to count on.
        low, high = mixture.freeze_band
        return f"not settled: between {self.temp_words(low.m)} and {self.temp_words(high.m)}"

    def strength_words(self, mixture):
        """Return the strength of a mix as printed: a whole per cent of what is poured."""
        share = mixture.strength().share
        if share > 1.0 + EQUAL:  # stronger than the product itself, which is ready-mixed
            return f"{100 * mixture.frac_mass:.0f} {BASIS_SHORT[GLYCOL_BY_MASS]}"
        return f"{100 * share:.0f} % of {self.product_word}"

    def mix_and_frost(self, mixture):
        """Return strength and freezing point of a mix as printed."""
        return f"{self.strength_words(mixture)}, freezing point {self.freezing_words(mixture)}"

    @property
    def product_word(self):
        """What strengths are per cent of, as the trade says it."""
        return self.before.product.short
