"""What every job that pours coolant is told, read once: system, mix, target, products, litres."""

import dataclasses
from typing import Any

import numpy as np

from .. import fluids, units
from ..errors import InputError, one_of
from ..instruments import Reading, Refractometer, read_freezing_point
from ..mixture import Mixture
from ..product import GENERIC, WATER, Product
from ..strength import GLYCOL_BY_MASS, Strength
from ..system import CoolingSystem
from .mix_plan import MixInputs

#: Litres are measured out cold, on an engine that has stood in the shade. [K]
WORK_TEMP_K = (273.15, 313.15)

#: No marking of a cap is near this. [Pa]
CAP_MAX_PA = 400e3

#: As which product's mix plain water is kept.
GLYCOL_WITH_WATER = "ethylene glycol concentrate"


def kept(asked):
    """Return what a job was asked with, as it was then: no list of the caller's, nothing used up.

    Parameters
    ----------
    asked : dict
        Argument by name.
    """

    def own(value):
        if hasattr(value, "items"):
            return dict(value)
        if isinstance(value, list) or hasattr(value, "__next__"):
            return tuple(value)
        return value

    return {name: own(value) for name, value in asked.items() if name != "show_in"}


@dataclasses.dataclass(frozen=True)
class Found:
    """What was measured: the mix, how it was told, and its give or take for the kernels."""

    mixture: Mixture
    told: Any
    bend: float = 0.0
    offset_share: float = 0.0

    def inputs(self, capacity_error_m3):
        """Return the `MixInputs` with a capacity's give or take. [m3]."""
        return MixInputs(
            self.mixture.frac_mass,
            self.mixture.half_width,
            self.bend,
            self.offset_share,
            capacity_error_m3,
        )


@dataclasses.dataclass(frozen=True)
class Wanted:
    """A target: glycol over glycol + water [kg/kg], and how it was told."""

    frac_mass: float
    told: Any


def read_system(system):
    """Return a `CoolingSystem`, or refuse what is none."""
    if not isinstance(system, CoolingSystem):
        found = repr(system) if isinstance(system, str) else type(system).__name__
        raise InputError(
            "system", found, f"{found} is not a cooling system; write CoolingSystem(capacity=…)."
        )
    return system


def read_temp(temp, field="temp"):
    """Return the temperature of litres on a cold engine. [K]."""
    temp_k = units.read(field, temp, "temperature")
    shown = units.show(temp_k, "temperature", "°C", 0)
    if temp_k < WORK_TEMP_K[0]:
        raise InputError(
            field, shown, f"{shown}: water to pour is ice below 0 °C; warm the liquids."
        )
    if temp_k > WORK_TEMP_K[1]:
        raise InputError(
            field,
            shown,
            f"{shown} is not the temperature of a cold engine. Litres are measured cold: let it "
            "cool until it is cold to the hand, and enter the temperature of the liquids then.",
        )
    return temp_k


def read_unit_system(show_in):
    """Return the unit system of a name."""
    return units.SYSTEMS[one_of("show_in", show_in, units.SYSTEMS)]


def read_low(low, system):
    """Return what is missing below the mark. [m3]."""
    value = units.read("low", low, "volume")
    if system is None:
        return value
    least = system.worked_m3 - system.capacity_error_m3
    if value > 0.9 * least:
        shown = units.show(value, "volume", "L", 2)
        give_or_take = ", less its give or take," if system.capacity_error_m3 else ""
        raise InputError(
            "low",
            shown,
            f"{shown} is more than nine tenths of the capacity{give_or_take} "
            f"({units.show(least, 'volume', 'L', 2)}). A system that is as good as empty is "
            "filled, not corrected: mix to strength outside and fill.",
        )
    return value


def read_pour(pour):
    """Return the one product that is poured."""
    if not isinstance(pour, Product):
        raise InputError(
            "pour", pour, f"{pour!r} is not a product; use Product.generic(…) or WATER."
        )
    return pour


def read_shelf(pour):
    """Return the products that there are to pour; one glycol, each listed once."""
    if isinstance(pour, Product):
        pour = (pour,)
    try:
        products = () if isinstance(pour, str) else tuple(pour)
    except TypeError:
        products = ()
    if not products:
        raise InputError("pour", pour, "nothing is listed; list what there is to pour, with WATER.")
    for product in products:
        read_pour(product)
    names = [product.name for product in products]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise InputError(
            "pour", twice[0], f"{twice[0]} is listed twice; list each once, under its own name."
        )
    glycols = sorted({product.fluid for product in products if not product.is_water})
    if len(glycols) > 1:
        raise InputError(
            "pour",
            " and ".join(glycols),
            f"{' and '.join(glycols)} are both listed. No instrument can read a mixture of "
            "glycols; list products of the one that is inside.",
        )
    return products


def read_on_hand(on_hand, products):
    """Return what there is of each product, (product, 1), or None where no end of any. [m3]."""
    if on_hand is None:
        return None
    if not hasattr(on_hand, "items"):
        raise InputError(
            "on_hand",
            on_hand,
            "give what is left by product, e.g. {can: '1 L'}; leave it out where there is enough.",
        )
    left = np.full((len(products), 1), np.inf)
    for product, volume in on_hand.items():
        if product not in products:
            name = getattr(product, "name", product)
            raise InputError(
                "on_hand", name, f"{name} is not among what is to be poured; list it there too."
            )
        left[products.index(product), 0] = units.read("on_hand", volume, "volume")
    return left


def strongest_of(products):
    """Return the strongest product, or None."""
    return max(products, key=lambda product: product.frac_mass) if products else None


def base_of(products):
    """Return what per cent of product means, where a Mixture does not say it."""
    strongest = strongest_of(products)
    return strongest and (strongest.made_from or strongest)


def read_found(found, products, field="found"):
    """Return what was measured, as `Found`."""
    base = base_of(products)
    if isinstance(found, Mixture):
        if not base.is_water and base.fluid != found.fluid:
            raise InputError(field, found.fluid, other_glycol(found.fluid, base.fluid))
        return Found(found, found)
    if base.is_water:
        base = _generic_inside(found, field)
    if isinstance(found, units.Q) or (isinstance(found, str) and "%" not in found):
        found = Refractometer(made_for=base.fluid).read(
            units.Q(units.read(field, found, "freezing point"), "kelvin")
        )
    if isinstance(found, Reading):
        return _found_by_reading(found.of(base.fluid), base, field)
    found = Strength.of(field, found)
    frac_mass, half_width = found.frac_mass(base), found.half_width_frac_mass(base)
    return Found(Mixture(product=base, frac_mass=frac_mass, half_width=half_width), found)


def _generic_inside(found, field):
    inside = (found.inside or found.line) if isinstance(found, Reading) else None
    if inside is None:
        raise InputError(
            field,
            found,
            f"{found} does not say which glycol is inside, and nothing poured tells; give a "
            "reading of an instrument made for it, or product.mix('50 % product').",
        )
    base = GENERIC.get(f"{inside} concentrate")
    if base is None:
        raise InputError(
            field,
            inside,
            f"there is no generic concentrate of {inside}; give found as "
            "product.mix(…) of the product that is inside.",
        )
    return base


def _found_by_reading(reading, base, field):
    if reading.inside != base.fluid:
        raise InputError(
            field,
            reading.inside,
            f"{other_glycol(reading.inside, base.fluid)} If {base.fluid} is inside and the line "
            f"for {reading.line} was read, say so (inside={base.fluid!r}): the reading is then "
            "converted.",
        )
    try:
        mixture = reading.mixture(base)
        bend = reading.bend(base)
        offset_share = reading.offset_share(base)
    except InputError as error:
        raise error.under(field) from None
    return Found(mixture, reading, bend, offset_share)


def other_glycol(inside, poured):
    """Say that two glycols do not go together."""
    return (
        f"{inside} is inside and {poured} is to be poured. No instrument can read a mixture of "
        "glycols: pour the one that is inside, or drain, flush and fill with one."
    )


def read_target(field, target, product):
    """Return a target, at most 60 mass % of glycol, as `Wanted`."""
    if isinstance(target, Mixture):
        if target.fluid != product.fluid:
            raise InputError(field, target.fluid, other_glycol(product.fluid, target.fluid))
        target = target.strength(GLYCOL_BY_MASS)
    if isinstance(target, Strength) or (isinstance(target, str) and "%" in target):
        strength = Strength.of(field, target)
        frac_mass = strength.frac_mass(product)
        if frac_mass > fluids.FRAC_MASS_SETTLED_MAX:
            most = Mixture(product=product, frac_mass=fluids.FRAC_MASS_SETTLED_MAX)
            raise InputError(
                field,
                str(strength),
                f"{strength} is stronger than 60 mass % of glycol "
                f"({most.strength(strength.basis)}): beyond it laboratories disagree, no gain can "
                "be counted on, and it cools less. Choose a weaker one.",
            )
        if frac_mass <= 0.0:
            raise InputError(field, str(strength), f"{strength} is plain water, not a mix.")
        return Wanted(frac_mass, strength)
    temp_k = read_freezing_point(field, target, product.fluid)
    frac_mass = fluids.frac_mass_from_freeze_temp_k(product.fluid, temp_k)
    if frac_mass <= 0.0:
        shown = units.show(temp_k, "temperature", "°C", 0)
        raise InputError(
            field,
            shown,
            f"{shown} is the freezing point of water, not of a mix. Choose a colder one.",
        )
    return Wanted(frac_mass, units.Q(temp_k, "kelvin"))


def read_aim(aim):
    """Return the chance that is aimed at, or None. [-]."""
    return None if aim is None else units.read("aim", aim, "share", low=0.5, high=0.999)


def read_mix(found, field="found"):
    """Return what is inside as `Found`, where nothing that is poured tells the glycol.

    `WATER` is plain water, as a mix without glycol.
    """
    if found is None or (isinstance(found, str) and not found.strip()):
        raise InputError(
            field,
            "",
            "nothing was entered; give a reading of an instrument made for the glycol inside, "
            "product.mix('50 % product'), or WATER for plain water.",
        )
    if isinstance(found, Product) and not found.is_water:
        raise InputError(
            field,
            found.name,
            f"{found.name} is a product, not what is inside; write how strong the mix is, such as "
            "product.mix('50 % product').",
        )
    if isinstance(found, Product):
        mixture = Mixture(product=GENERIC[GLYCOL_WITH_WATER], frac_mass=0.0)
        return Found(mixture, found)
    return read_found(found, (WATER,), field)


def read_altitude(altitude):
    """Return a height above the sea. [m]."""
    return units.read("altitude", altitude, "altitude")


def read_cap(cap, field="cap"):
    """Return the pressure at which a cap opens, above the outside air; None without a cap. [Pa].

    A pressure that does not say so is taken as gauge, as a cap is marked.
    """
    if cap is None:
        return None
    value = units.read(field, cap, "gauge pressure", low=0.0, high=CAP_MAX_PA)
    if value <= 0.0:
        raise InputError(
            field,
            cap,
            "a cap that holds nothing is as good as none; say that there is none (None).",
        )
    return value
