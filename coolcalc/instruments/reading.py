"""A reading: what was read on which instrument, in which sample, and what it says of the mix."""

import dataclasses
from typing import Any

from .. import fluids, units
from ..balance.composition import REFERENCE_TEMP_K, mix_of_product
from ..balance.reading import frac_mass_before_dilution
from ..errors import CoolcalcError, InputError, TwoAnswersError
from ..fluids import REFERENCE_20_C_K
from ..fluids.refraction import BRIX_SOURCES
from ..fluids.refraction import SOURCES as REFRACTION_SOURCES
from ..mixture import Mixture
from ..product import GENERIC
from ..strength import ERROR_MAX_SHARE

#: What an instrument that was not zeroed on water may be out by, in strength; common practice,
#: no source. [kg/kg]
ZERO_UNCHECKED = 0.01

#: Give or take of the parts when a sample is diluted; common practice, no source. [-]
PARTS_ERROR = 0.02

#: Temperatures that compensation covers on most instruments; common practice, no source. [K]
COMPENSATED_K = (283.15, 303.15)

#: A sample told colder or hotter than this against the scale moves the strength by so much that
#: it is worth a word. [kg/kg]
WORTH_A_WORD = 0.01


@dataclasses.dataclass(frozen=True, kw_only=True)
class Reading:
    """A value as read on an instrument, and in which sample.

    Attributes
    ----------
    instrument : Refractometer, Hydrometer or TestStrip
    value : float
        As read. [SI unit of the scale]
    line : str or None
        The glycol of the line that was read.
    inside : str or None
        The glycol in the sample; None until a job says what is poured.
    sample_temp_k : float or None
        Of the sample. [K]
    diluted : float
        Parts of water that were added to one part of the sample, by volume.
    water_value : float or None
        What plain water showed, where the instrument was not set to zero. [SI unit of the scale]
    """

    instrument: Any
    value: float
    line: str | None = None
    inside: str | None = None
    sample_temp_k: float | None = None
    diluted: float = 0.0
    water_value: float | None = None

    # -- what it says of the mix -----------------------------------------------------------

    @property
    def optics_k(self):
        """Temperature at which the instrument meets the sample, compensation counted. [K]."""
        home = getattr(self.instrument, "reference_temp_k", REFERENCE_20_C_K)
        compensated = getattr(self.instrument, "compensated", True)
        return home if compensated or self.sample_temp_k is None else self.sample_temp_k

    def of(self, fluid):
        """Return the same reading on a glycol, where it did not say which is inside."""
        return self if self.inside else dataclasses.replace(self, inside=fluid)

    def answers(self, product=None):
        """Return the mixes that give this reading, weakest first; two where it cannot tell.

        Parameters
        ----------
        product : Product, optional
            Whose additives the mix carries; the generic concentrate of its glycol unless told.

        Returns
        -------
        tuple of Mixture
            With their give or take at 95 %.

        Raises
        ------
        InputError
            If no mix of that product gives it.
        """
        product = self._product(product)
        found = tuple(self._undiluted(frac_mass, product) for frac_mass in self._fracs(product))
        if not found:
            raise self._no_mix(product)
        for mixture in found:
            if mixture.frac_mass > max(product.frac_mass, fluids.FRAC_MASS_SETTLED_MAX) + 0.02:
                raise InputError(
                    "reading",
                    self.words(),
                    f"{self.words()} is stronger than {product.name} itself can be. Check the "
                    "zero on water, the scale, and how much water the sample was diluted with.",
                )
        return found

    def mixture(self, product=None):
        """Return the mix that gives this reading, with its give or take at 95 %.

        ``product`` as for `answers`.

        Raises
        ------
        TwoAnswersError
            Where two strengths give it; it names both.
        InputError
            Where the scale hardly moves with the strength, or no mix gives the reading.
        """
        found = self.answers(product)
        if len(found) > 1:
            raise TwoAnswersError(
                "reading",
                self.words(),
                f"{self.words()} is the reading of two mixes: "
                + " and of ".join(_told(mixture) for mixture in found)
                + ". A hydrometer cannot tell them apart, since a stronger mix is lighter again. "
                "Read a refractometer; or dilute a sample with as much water, read that, and enter "
                "it as diluted 1:1.",
                found,
            )
        (mixture,) = found
        if mixture.half_width > ERROR_MAX_SHARE:
            raise InputError(
                "reading",
                self.words(),
                f"{self.words()}: here the scale hardly moves with the strength, so that "
                f"{_told(mixture)} is only a guess. Read a refractometer; or dilute a sample with "
                "as much water, read that, and enter it as diluted 1:1.",
            )
        return mixture

    def half_widths(self, product=None):
        """Give or take of the strength at 95 %: what the instrument's readings share, and the rest.

        Returns
        -------
        tuple of float
            Of the offset, and of the repeatability with the measuring out of a dilution. [kg/kg]
        """
        product = self._product(product)
        return self._widths(self.answers(product)[0].frac_mass, product)

    def offset_share(self, product=None):
        """Share of the give or take that all readings of this instrument have in common. [-]."""
        offset, repeat = self.half_widths(product)
        total = (offset**2 + repeat**2) ** 0.5
        return offset / total if total else 0.0

    def bend(self, product=None):
        """By how much the strength bends within the give or take of the reading. [kg/kg].

        The mean of what both ends lie above the straight line, or that of the one end that is on
        the scale.
        """
        error = getattr(self.instrument, "error_si", 0.0)
        middle, bends = self.answers(product)[0], []
        for sign in (1, -1):
            try:
                end = dataclasses.replace(self, value=self.value + sign * error).answers(product)[0]
            except CoolcalcError:
                continue
            off = end.frac_mass - middle.frac_mass
            bends.append(off - middle.half_width if off > 0.0 else off + middle.half_width)
        return sum(bends) / len(bends) if bends else 0.0

    @property
    def frac_mass(self):
        """Glycol over glycol + water, for the generic concentrate of its glycol. [kg/kg]."""
        return self.mixture().frac_mass

    def _product(self, product):
        if product is not None and not product.is_water:
            return product
        product = GENERIC.get(f"{self.inside} concentrate")
        if product is None:
            told = self.inside or "it"
            raise InputError(
                "inside",
                self.inside or "",
                f"{told}: say which glycol is in the sample, and which product it was made from "
                "(there is a generic concentrate of ethylene and of propylene glycol only).",
            )
        return product

    def _fracs(self, product):
        return self.instrument.fracs(self, product)

    def _worked_back(self, frac_mass, product, parts):
        if not parts:
            return frac_mass
        mix = mix_of_product(product.si())
        return float(frac_mass_before_dilution(mix, frac_mass, parts, REFERENCE_TEMP_K))

    def _undiluted(self, frac_mass, product):
        found = self._worked_back(frac_mass, product, self.diluted)
        offset, repeat = self._widths(found, product, frac_mass)
        return Mixture(
            product=product,
            frac_mass=min(max(found, 0.0), 1.0),
            half_width=(offset**2 + repeat**2) ** 0.5,
        )

    def _widths(self, found, product, read=None):
        """Offset and the rest at the strength found; ``read`` is that of the diluted sample."""
        if read is None:
            read = self._fracs(product)[0]
        offset, repeat = self.instrument.own_half_widths(read, self, product)
        if self.water_value is None and not getattr(self.instrument, "zeroed", True):
            offset = (offset**2 + ZERO_UNCHECKED**2) ** 0.5
        if not self.diluted:
            return offset, repeat
        step = 1e-4
        ends = (self._worked_back(read + sign * step, product, self.diluted) for sign in (1, -1))
        grows = (next(ends) - next(ends)) / (2 * step)
        more_water = self._worked_back(read, product, self.diluted * (1 + PARTS_ERROR))
        return offset * grows, ((repeat * grows) ** 2 + (more_water - found) ** 2) ** 0.5

    def _no_mix(self, product):
        return InputError(
            "reading",
            self.words(),
            f"no mix of {product.name} with water shows {self.words()}. Check the reading on "
            "water, the temperature of the sample, and which glycol is inside; another glycol, or "
            "oil or dirt in the sample, reads like that.",
        )

    # -- words -----------------------------------------------------------------------------

    def words(self, system=units.SYSTEMS["metric"]):
        """Return the value as printed in a unit system."""
        return self.instrument.show(self.value, system)

    def told(self, system):
        """Return what was read and where, as printed in a unit system."""
        parts = [f"{self.words(system)} on the {self.instrument.name}"]
        if self.converted:
            parts.append(f"{self.line} line")
        if self.sample_temp_k is not None:
            at = units.show(self.sample_temp_k, "temperature", system.temperature, 0)
            parts.append(f"sample at {at}")
        if self.diluted:
            parts.append(f"sample diluted 1:{self.diluted:g}")
        return ", ".join(parts)

    @property
    def source_keys(self):
        """Keys of the sources that this kind of reading rests on."""
        kind, scale = self.instrument.kind, getattr(self.instrument, "scale", "")
        keys = {"refractometer": ("astm-d3321",), "hydrometer": ("astm-d1122", "iso-1768")}
        own = keys.get(kind, ())
        if scale == "freeze point" and not self.converted:
            return own if kind == "hydrometer" else ("astm-d3321",)
        if kind == "refractometer" and (not self.instrument.spec.label or self.converted):
            own = (*own, *REFRACTION_SOURCES[self.inside])
        return (*own, *(BRIX_SOURCES if scale == "Brix" else ()))

    @property
    def converted(self):
        """Whether it was read on the line of another glycol than the one inside."""
        return self.instrument.spec.label and self.line != self.inside

    def remarks(self, product, system):
        """Return sentences on what is odd about this reading.

        Parameters
        ----------
        product : Product
            Whose mix was read.
        system : coolcalc.units.UnitSystem
        """
        return (
            *self._promised(product, system),
            *self._uncorrected(product, system),
            *self._compensation(system),
            *self._zero(),
        )

    def _promised(self, product, system):
        if not self.converted or self.diluted:
            return

        def show(temp_k):
            return units.show(temp_k, "temperature", system.temperature, 0)

        promised = Mixture(
            product=GENERIC.get(f"{self.line} concentrate", product),
            frac_mass=self.instrument.line_frac_mass(self.value, self.line, product),
        )
        real = self.mixture(product)
        text = f"The {self.line} line was read on {self.inside}, and the reading is converted."
        if promised.settled and real.settled:
            cold, warm = promised.freeze_temp.m, real.freeze_temp.m
            gap = units.show(
                abs(warm - cold), "temperature difference", system.temperature_difference, 0
            )
            text += (
                f" The line promises {show(cold)}; this mix freezes at about {show(warm)}: "
                f"{gap} that are not there."
                if warm > cold
                else f" The line shows {show(cold)}; this mix freezes at about {show(warm)}."
            )
        yield text

    def _uncorrected(self, product, system):
        if not hasattr(self.instrument, "reference_temp_k") or self.sample_temp_k is None:
            return
        raw = self.instrument.fracs(self, product, self.instrument.reference_temp_k)
        if not raw or self.instrument.compensated or self.diluted:
            return
        found = self.mixture(product)
        if abs(raw[0] - found.frac_mass) < WORTH_A_WORD:
            return
        plain, right = (
            100 * dataclasses.replace(found, frac_mass=each).strength().share
            for each in (raw[0], found.frac_mass)
        )
        at = units.show(self.sample_temp_k, "temperature", system.temperature, 0)
        yield (
            f"The sample was at {at}. Without that the reading would pass for {plain:.0f} % of "
            f"{product.short}; corrected, it is {right:.0f} %."
        )

    def _compensation(self, system):
        if not hasattr(self.instrument, "zeroed") or self.sample_temp_k is None:
            return
        low, high = COMPENSATED_K
        if self.instrument.compensated and not low <= self.sample_temp_k <= high:
            span = " to ".join(
                units.show(each, "temperature", system.temperature, 0) for each in COMPENSATED_K
            )
            yield (
                f"Most instruments compensate from {span} only: let the sample come to that on the "
                "prism, and read again."
            )

    def _zero(self):
        if not getattr(self.instrument, "zeroed", True) and self.water_value is None:
            yield (
                "The instrument was not set to zero on water: set it, and read again. Until then "
                "the reading is taken to be out by up to a mass per cent more."
            )


def _told(mixture):
    """Say how strong a mix is and where it freezes."""
    share = 100 * mixture.strength().share
    text = f"{share:.0f} % of {mixture.product.short}"
    try:
        return f"{text} (freezes at about {mixture.freeze_temp.m_as('degC'):.0f} °C)".replace(
            "-", "\u2212"
        )
    except CoolcalcError:
        return f"{text} (freezing point not settled)"
