"""The refractometer: by freezing point, per cent, Brix or refractive index."""

import dataclasses

from .. import fluids, units
from ..balance.composition import composition_of_mix, frac_mass_counted
from ..balance.reading import frac_mass_from_counted, frac_mass_on_line
from ..errors import InputError, one_of
from ..fluids import REFERENCE_20_C_K
from ..strength import OF_PRODUCT
from .instrument import Instrument

#: Temperatures that compensation covers on most instruments; common practice, no source. [K]
COMPENSATED_K = (283.15, 303.15)


@dataclasses.dataclass(frozen=True, kw_only=True)
class Refractometer(Instrument):
    """A refractometer, by one of its scales.

    A line (freezing point, volume %) is taken to be laid out for coolant of its glycol with its
    usual additives, at 20 °C, and to read the freezing point that answers display, so that a
    reading and the reading to expect agree. A line laid out for pure glycol reads a product too
    cold, by what its additives do: 1 to 2 K at 50 %. By Brix or refractive index the additives
    are counted as glycol, mass for mass, and taken off again: their share is the product's.

    Parameters
    ----------
    made_for : str or tuple of str
        The glycol that its line is made for, of `coolcalc.fluids.FLUIDS`; several where it has
        several lines. Brix and refractive index need none.
    scale : str
        "freeze point", "volume %", "Brix" or "refractive index".
    error : text or Quantity
        Give or take of one reading at 95 %. Freezing point: 2 °F unless told, the accuracy that
        ASTM D3321 states (source key ``astm-d3321``); 2 %, 0.5 °Brix and 0.0005 are common
        practice, no source. [unit of the scale]
    repeatability : text or Quantity, optional
        The part of it that differs from reading to reading; the rest is the instrument's offset,
        which a second reading shares. Not told, both are taken as equal. [unit of the scale]
    compensated : bool
        Whether it shows what the sample would show at 20 °C.
    zeroed : bool
        Whether it was set to zero on water before reading.
    per_cent_of : str
        What volume % is a percentage of: one of `coolcalc.units.STRENGTH_BASES`.
    name : str

    Raises
    ------
    InputError
        Names the field, the value, the limit and what to do.

    Examples
    --------
    >>> tool = Refractometer(made_for="ethylene glycol", error="1 K", repeatability="0.5 K")
    >>> round(tool.read("-36 °C").frac_mass, 3)
    0.5
    """

    scale: str = "freeze point"
    compensated: bool = True
    zeroed: bool = True
    per_cent_of: str = OF_PRODUCT

    kind = "refractometer"

    def __post_init__(self):
        one_of("per_cent_of", self.per_cent_of, units.STRENGTH_BASES)
        one_of("zeroed", self.zeroed, (True, False))
        one_of("compensated", self.compensated, (True, False))
        super().__post_init__()

    def read(self, value, *, line=None, inside=None, sample_temp=None, diluted=0, water=None):
        """Return the `Reading` of a value on the scale.

        Parameters
        ----------
        value : text or Quantity
            As read: a freezing point from 0 °C down to that of 60 mass % of glycol, a
            percentage, °Brix, or a refractive index. [unit of the scale]
        line : str, optional
            Which line was read, where there are several.
        inside : str, optional
            The glycol in the sample, where it is not the line's: the reading is then converted.
        sample_temp : text or Quantity, optional
            Of the sample on the prism; needed where the instrument does not compensate. [K]
        diluted : float or text
            Parts of water that were added to one part of the sample, by volume: 1 or "1:1" for
            as much water as sample; at most 4.
        water : text or Quantity, optional
            What plain water, as warm as the sample, showed, where the instrument was not set to
            zero: it is taken off.

        Raises
        ------
        UnclearInputError
            For a freezing point above 0 °C: a minus is likely to be missing.
        InputError
            Off the scale, not to be told from this, or not a mix of this glycol.
        """
        if not self.compensated and sample_temp is None:
            raise InputError(
                "sample_temp",
                "",
                f"this {self.name} does not compensate for temperature; enter that of the sample.",
            )
        if self.compensated and sample_temp is not None:
            low, high = COMPENSATED_K
            at = units.read("sample_temp", sample_temp, "temperature")
            if not low <= at <= high:
                shown = units.show(at, "temperature", "°C", 0)
                raise InputError(
                    "sample_temp",
                    shown,
                    f"{shown}: most instruments compensate from 10 to 30 °C only. Let the sample "
                    "come to that on the prism, and read again.",
                )
        water_value = None
        if water is not None:
            water_value = self._value("water", water, self._line(line))
        return self._reading(value, line, inside, sample_temp, diluted, water_value=water_value)

    def fracs(self, reading, product):
        """Strengths that give a reading on the undiluted sample, weakest first. [kg/kg]."""
        temp_k, fluid = reading.optics_k, product.fluid
        if self.spec.label:
            mark = self.line_frac_mass(reading.value, reading.line, product)
            water = reading.water_value
            water = None if water is None else self.line_frac_mass(water, reading.line, product)
            found = frac_mass_on_line(reading.line, mark, fluid, temp_k, water)
            return (float(found),) if 0.0 <= found <= 1.0 else ()
        low, high = (fluids.refractive_index(fluid, each, temp_k) for each in (0.0, 1.0))
        shown = self._index(reading.value)
        if reading.water_value is not None:
            shown -= self._index(reading.water_value) - low
        if not low <= shown <= high:
            return ()
        counted = fluids.frac_mass_from_refractive_index(fluid, shown, temp_k)
        return (float(frac_mass_from_counted(counted, additives_of(product))),)

    def _index(self, value):
        return fluids.refractive_index_from_brix_unchecked(value) if self.scale == "Brix" else value

    def _mark(self, frac_mass, line, product, temp_k):
        if line == product.fluid and temp_k == REFERENCE_20_C_K:
            return frac_mass
        index = fluids.refractive_index_unchecked(product.fluid, frac_mass, temp_k)
        return fluids.frac_mass_from_refractive_index_unchecked(line, index, REFERENCE_20_C_K)

    def _property(self, frac_mass, product, temp_k):
        share = composition_of_mix(frac_mass, additives_of(product))
        index = fluids.refractive_index_unchecked(product.fluid, frac_mass_counted(share), temp_k)
        brix = self.scale == "Brix"
        return fluids.brix_from_refractive_index_unchecked(index) if brix else index


def additives_of(product):
    """Additives that a mix of a product carries with its glycol. [kg/kg]."""
    return product.share.additive / product.share.glycol
