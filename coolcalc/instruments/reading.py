"""A reading: what was read on which instrument, in which sample, and what it says of the mix."""

import dataclasses
import functools
import math
from typing import Any

from .. import fluids, units
from ..balance.composition import REFERENCE_TEMP_K, Composition, mix_of_product
from ..balance.reading import frac_mass_before_dilution
from ..errors import CoolcalcError, InputError, TwoAnswersError
from ..fluids import REFERENCE_20_C_K
from ..fluids.refraction import BRIX_SOURCES
from ..fluids.refraction import SOURCES as REFRACTION_SOURCES
from ..mixture import Mixture
from ..product import GENERIC, Product
from ..strength import ERROR_MAX_SHARE

#: What an instrument that was not zeroed on water may be out by, in strength; common practice,
#: no source. [kg/kg]
ZERO_UNCHECKED = 0.01

#: Give or take of the parts when a sample is diluted; common practice, no source. [-]
PARTS_ERROR = 0.02

#: Of strength, for a slope. [kg/kg]
STEP = 1e-4

#: A strength beyond the product's own by less than this passes for it; common practice, no
#: source. [kg/kg]
TOO_STRONG = 0.02

#: A sample told colder or hotter than this against the scale moves the strength by so much that
#: it is worth a word. [kg/kg]
WORTH_A_WORD = 0.02


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
        most = max(product.frac_mass, fluids.FRAC_MASS_SETTLED_MAX) + TOO_STRONG
        reads = [(read, self._worked_back(read, product)) for read in self._fracs(product)]
        found = tuple(
            Mixture(
                product=product,
                frac_mass=min(original, 1.0),
                half_width=math.hypot(*self._widths(read, product)),
            )
            for read, original in reads
            if original <= most
        )
        if not found:
            raise InputError(
                "reading",
                self.words(),
                f"{self.words()} is stronger than {product.name} itself can be. Check the zero on "
                "water, the scale, and how much water the sample was diluted with.",
            )
        return found

    def check(self):
        """Refuse what no mix of the glycol inside can show, whatever product it was made from."""
        generic = GENERIC.get(f"{self.inside} concentrate")
        refused = []
        for product in (generic, _pure(self.inside)):
            try:
                if product is not None and self.answers(product):
                    return
            except InputError as error:
                refused.append(error)
        raise refused[0]

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
        return self._widths(self._fracs(product)[0], product)

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
        product, error = self._product(product), getattr(self.instrument, "error_si", 0.0)
        reads = [self._on_scale(product, by) for by in (0.0, error, -error)]
        if not error or not reads[0]:
            return 0.0
        middle, *ends = (self._worked_back(read[0], product) for read in reads if read)
        own = self.instrument.own_half_widths(reads[0][0], self, product)
        straight = math.hypot(*own) * self._grows(reads[0][0], product)
        bends = [end - middle - math.copysign(straight, end - middle) for end in ends]
        return sum(bends) / len(bends) if bends else 0.0

    @property
    def frac_mass(self):
        """Glycol over glycol + water, for the generic concentrate of its glycol. [kg/kg]."""
        return self.mixture().frac_mass

    def _product(self, product):
        if product is not None and not isinstance(product, Product):
            raise InputError(
                "product", product, f"{product!r} is not a product; use Product.generic(…)."
            )
        if product is not None and not product.is_water:
            if self.inside not in (None, product.fluid):
                raise InputError(
                    "product",
                    product.name,
                    f"{self.inside} is in the sample, and {product.name} is {product.fluid}; name "
                    "the product that the mix was made from.",
                )
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

    def _on_scale(self, product, by=0.0):
        """Strengths of the sample as read, the reading moved by so much; none off the scale."""
        return _fracs_of(dataclasses.replace(self, value=self.value + by) if by else self, product)

    def _fracs(self, product):
        """Strengths of the sample as read; an end of the scale, where that is within the error."""
        found = self._on_scale(product)
        if found:
            return found
        tool, value = self.instrument, self.value

        def shown(frac_mass):
            return tool.shown(frac_mass, self.line, product, self.optics_k)

        if self.water_value is not None:
            value -= self.water_value - shown(0.0)
        for end in tool.ends(self, product):
            if abs(shown(end) - value) <= tool.error_si:
                return (end,)
        raise InputError(
            "reading",
            self.words(),
            f"no mix of {product.name} with water shows {self.words()}. Check the reading on "
            "water, the temperature of the sample, and which glycol is inside; another glycol, or "
            "oil or dirt in the sample, reads like that.",
        )

    def _worked_back(self, frac_mass, product, water=1.0):
        """Strength before dilution, with so much of the water that was told. [kg/kg]."""
        if not self.diluted:
            return frac_mass
        mix, parts = mix_of_product(product.si()), water * self.diluted
        return float(frac_mass_before_dilution(mix, frac_mass, parts, REFERENCE_TEMP_K))

    def _grows(self, read, product):
        """How much more the undiluted sample moves than the one that was read. [-]."""
        ends = (self._worked_back(read + sign * STEP, product) for sign in (1, -1))
        return (next(ends) - next(ends)) / (2 * STEP)

    def _widths(self, read, product):
        """Offset and the rest, where the sample as read has a strength. [kg/kg]."""
        offset, repeat = self.instrument.own_half_widths(read, self, product)
        if self.water_value is None and not getattr(self.instrument, "zeroed", True):
            repeat = math.hypot(repeat, ZERO_UNCHECKED)  # a second reading is made on a set zero
        if not self.diluted:
            return offset, repeat
        grows = self._grows(read, product)
        more_water = self._worked_back(read, product, 1.0 + PARTS_ERROR)
        off = more_water - self._worked_back(read, product)
        return offset * grows, math.hypot(repeat * grows, off)

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
        if self.water_value is not None:
            parts.append(f"water read {self.instrument.show(self.water_value, system)}")
        return ", ".join(parts)

    def second(self, system):
        """Return how the second reading is made, as printed: what is different, or the line."""
        parts = []
        if self.converted:
            parts.append(f"on the {self.line} line")
        if not self.instrument.compensated:
            home = getattr(self.instrument, "reference_temp_k", REFERENCE_20_C_K)
            shown = units.show(home, "temperature", system.temperature, 0)
            parts.append(f"with the sample at {shown}")
        if self.water_value is not None or not getattr(self.instrument, "zeroed", True):
            parts.append("set to zero on water first")
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
            own = (*own, *REFRACTION_SOURCES.get(self.inside, ()))
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
            *self._zero(),
        )

    def _promised(self, product, system):
        if not self.converted:
            return
        if self.diluted:
            yield f"The {self.line} line was read on {self.inside}, and the reading is converted."
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

    def _zero(self):
        if not getattr(self.instrument, "zeroed", True) and self.water_value is None:
            yield (
                "The instrument was not set to zero on water: set it, and read again. Until then "
                "the reading is taken to be out by up to 1 mass % of glycol more."
            )


def _pure(fluid):
    """Return a glycol alone, as a product."""
    density = fluids.density_kg_m3(fluid, 1.0, REFERENCE_TEMP_K)
    alone = Composition(1.0, 0.0, 0.0)
    return Product(name=fluid, fluid=fluid, share=alone, density_kg_m3=density)


@functools.lru_cache(maxsize=256)
def _fracs_of(reading, product):
    """Strengths of a sample as read, none off the scale: asked for several times in one job."""
    try:
        return reading.instrument.fracs(reading, product)
    except CoolcalcError:
        return ()


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
