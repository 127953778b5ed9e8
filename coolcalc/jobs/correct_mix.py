"""Correct a measured mix: what to take out, what to pour, what to read afterwards."""

import dataclasses

from .. import fluids, units
from ..errors import BLOCKED, CoolcalcError, FormError, InputError, Status, one_of
from ..instruments import (
    Reading,
    Refractometer,
    frac_mass_half_width,
    read_freezing_point,
)
from ..mixture import Mixture
from ..product import GENERIC, Product
from ..strength import GLYCOL_BY_MASS, Strength
from ..system import CoolingSystem
from .mix_correction import MixCorrection
from .mix_plan import plan_row, reach_row, row_of, spread_row

#: Litres are measured out cold, on an engine that has stood in the shade. [K]
WORK_TEMP_K = (273.15, 313.15)

#: Most that a mix may lie on the weak side of the target and be left alone unasked: the accuracy
#: of a good refractometer, source key ``astm-d3321``. [K]
WEAK_SIDE_K = 2 / 1.8


def correct_mix(
    *, system, found, target, pour, temp="20 °C", low="0 L", accept=None, show_in="metric"
):
    """Bring a measured mix to a target with one drain and fill, draining as little as possible.

    Litres are balanced by mass; what is printed has been rounded to a measuring step, and the
    outcome is computed from the rounded figures.

    Parameters
    ----------
    system : CoolingSystem
    found : Reading, Strength, Mixture or text
        What was measured. Text is a freezing point ("-16 °C", taken as read on a refractometer
        made for the glycol that is poured) or a strength ("30 % product"). The old mix is taken
        to carry the additives of the product that is poured; a Mixture names another product.
    target : Strength, text or Quantity
        What is wanted: a freezing point, or a strength that says per cent of what. At most
        60 mass % of glycol.
    pour : sequence of Product
        What there is to pour: the strongest and the weakest are used. One glycol only.
    temp : text or Quantity
        Temperature at which litres are measured, on a cold engine; above 0 °C. [K]
    low : text or Quantity
        What is missing below the cold mark. [m3]
    accept : pair of Strength, text or Quantity, optional
        Weakest and strongest mix that is left alone; without it, the target give or take the
        reading's own error, on the weak side at most 2 °F.
    show_in : str
        One of `coolcalc.units.SYSTEMS`: "metric", "US", "imperial". Litres are rounded in it.

    Returns
    -------
    MixCorrection
        Also where the target cannot be reached: it then says why, what is within reach, and
        what to do next, and carries no litres.

    Raises
    ------
    InputError
        The field, the value found, the limit and what to do.
    FormError
        If several inputs cannot be used: all of them.

    Examples
    --------
    >>> import coolcalc as cc
    >>> can = cc.Product.generic("ethylene glycol concentrate")
    >>> job = cc.correct_mix(
    ...     system=cc.CoolingSystem(capacity="10 L"), found="30 % product",
    ...     target="50 % product", pour=[can, cc.WATER])
    >>> job.drain.to("L").magnitude
    2.85
    """
    errors = []

    def reading(read, *args):
        try:
            return read(*args)
        except FormError as error:
            errors.extend(error.errors)
        except CoolcalcError as error:
            errors.append(error)
        return None

    # What does not depend on anything else first, so that every slip is told at once.
    system_given = reading(_system, system)
    shelf = reading(_shelf, pour)
    temp_k = reading(_temp, temp)
    low_m3 = reading(_low, low, system_given)
    unit_system = reading(_unit_system, show_in)
    old = None if shelf is None else reading(_found, found, shelf)
    # Even where the reading is refused, a target can be held against the product's glycol.
    product = _base(shelf) if old is None else old.mixture.product
    wanted = None
    if product is not None and not product.is_water:
        wanted = reading(_target, "target", target, product)
    band = None
    if wanted is not None and old is not None:
        band = reading(_band, accept, wanted.frac_mass, old)
    if errors:
        raise errors[0] if len(errors) == 1 else FormError(errors)

    return _answer(
        system_given, old, wanted, band, shelf, temp_k, low_m3, unit_system, accept is not None
    )


@dataclasses.dataclass(frozen=True)
class _Found:
    """What was measured: the mix, and how it was told."""

    mixture: Mixture
    told: object


@dataclasses.dataclass(frozen=True)
class _Wanted:
    frac_mass: float
    told: object


def _system(system):
    if not isinstance(system, CoolingSystem):
        found = repr(system) if isinstance(system, str) else type(system).__name__
        raise InputError(
            "system", found, f"{found} is not a cooling system; write CoolingSystem(capacity=…)."
        )
    return system


def _temp(temp):
    temp_k = units.read("temp", temp, "temperature")
    shown = units.show(temp_k, "temperature", "°C", 0)
    if temp_k < WORK_TEMP_K[0]:
        raise InputError(
            "temp", shown, f"{shown}: water to pour is ice below 0 °C; warm the liquids."
        )
    if temp_k > WORK_TEMP_K[1]:
        raise InputError(
            "temp",
            shown,
            f"{shown} is not the temperature of a cold engine. Litres are measured cold: let it "
            "cool until it is cold to the hand, and enter the temperature of the liquids then.",
        )
    return temp_k


def _unit_system(show_in):
    return units.SYSTEMS[one_of("show_in", show_in, units.SYSTEMS)]


def _low(low, system):
    value = units.read("low", low, "volume")
    if system is None:
        return value
    least = system.capacity_m3 - system.capacity_error_m3
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


def _shelf(pour):
    if isinstance(pour, Product):
        pour = (pour,)
    try:
        products = () if isinstance(pour, str) else tuple(pour)
    except TypeError:
        products = ()
    if not products:
        raise InputError("pour", pour, "nothing is listed; list what there is to pour, with WATER.")
    for product in products:
        if not isinstance(product, Product):
            raise InputError(
                "pour", product, f"{product!r} is not a product; use Product.generic(…) or WATER."
            )
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


def _strongest(products):
    return max(products, key=lambda product: product.frac_mass) if products else None


def _base(products):
    """Return what per cent of product means, where a Mixture does not say it."""
    strongest = _strongest(products)
    return strongest and (strongest.made_from or strongest)


def _found(found, products):
    base = _base(products)
    if isinstance(found, Mixture):
        if not base.is_water and base.fluid != found.fluid:
            raise InputError("found", found.fluid, _other_glycol(found.fluid, base.fluid))
        return _Found(found, found)
    if base.is_water:
        if not isinstance(found, Reading):
            raise InputError(
                "found",
                found,
                f"{found} does not say which glycol is inside, and only water is poured; give a "
                "reading of an instrument made for it, or product.mix('65 % product').",
            )
        base = GENERIC.get(f"{found.instrument.made_for} concentrate")
        if base is None:
            raise InputError(
                "found",
                found.instrument.made_for,
                f"there is no generic concentrate of {found.instrument.made_for}; give found as "
                "product.mix(…) of the product that is inside.",
            )
    if isinstance(found, units.Q) or (isinstance(found, str) and "%" not in found):
        found = Refractometer(made_for=base.fluid).read(
            units.Q(units.read("found", found, "freezing point"), "kelvin")
        )
    if isinstance(found, Reading):
        found.instrument.must_suit(base.fluid, "found")
        frac_mass, half_width = found.frac_mass, found.half_width_frac_mass
    else:
        found = Strength.of("found", found)
        frac_mass, half_width = found.frac_mass(base), found.half_width_frac_mass(base)
    return _Found(Mixture(product=base, frac_mass=frac_mass, half_width=half_width), found)


def _other_glycol(inside, poured):
    return (
        f"{inside} is inside and {poured} is to be poured. No instrument can read a mixture of "
        "glycols: pour the one that is inside, or drain, flush and fill with one."
    )


def _target(field, target, product):
    if isinstance(target, Mixture):
        if target.fluid != product.fluid:
            raise InputError(field, target.fluid, _other_glycol(product.fluid, target.fluid))
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
        return _Wanted(frac_mass, strength)
    temp_k = read_freezing_point(field, target, product.fluid)
    frac_mass = fluids.frac_mass_from_freeze_temp_k(product.fluid, temp_k)
    if frac_mass <= 0.0:
        shown = units.show(temp_k, "temperature", "°C", 0)
        raise InputError(
            field,
            shown,
            f"{shown} is the freezing point of water, not of a mix. Choose a colder one.",
        )
    return _Wanted(frac_mass, units.Q(temp_k, "kelvin"))


def _band(accept, target, old):
    if accept is None:
        width = old.mixture.half_width
        if isinstance(old.told, Reading):
            # The reading's error as it is at the target, where the two are compared.
            width = frac_mass_half_width(old.mixture.fluid, target, old.told.instrument.error_k)
        weak = min(width, frac_mass_half_width(old.mixture.fluid, target, WEAK_SIDE_K))
        return target - weak, target + width
    try:
        weakest, strongest = accept
    except (TypeError, ValueError):
        raise InputError(
            "accept", accept, "give two: the weakest and the strongest mix that is left alone."
        ) from None
    product = old.mixture.product
    weak = _target("accept, weakest", weakest, product).frac_mass
    strong = _target("accept, strongest", strongest, product).frac_mass
    if not weak <= target <= strong:
        raise InputError(
            "accept",
            f"{weakest} to {strongest}",
            f"{weakest} to {strongest} does not hold the target; give the weakest first.",
        )
    return weak, strong


def _answer(system, old, wanted, band, shelf, temp_k, low_m3, unit_system, band_given):
    mixture = old.mixture
    row = row_of(mixture, system.capacity_m3, low_m3, shelf, temp_k)
    told = system.drainable_m3
    drainable = system.capacity_m3 if told is None else told
    # A ready-mixed product a hair weaker than the target never reaches it. Where it lies inside
    # what is near enough, the litres aim at that edge instead, and the answer says so.
    strongest = _strongest(shelf).frac_mass
    edge_aimed = mixture.frac_mass < band[0] < strongest <= wanted.frac_mass
    target = band[0] if edge_aimed else wanted.frac_mass
    step = units.measuring_step(system.capacity_m3, unit_system.volume)
    plan = plan_row(row, target, band, drainable, step.m3)
    status = Status(int(plan.status[0]))
    half_width, causes, reach = 0.0, {}, None
    if status & BLOCKED:
        reach = Mixture(product=mixture.product, frac_mass=reach_row(row, target, drainable))
    else:
        half_width, causes = spread_row(row, plan, mixture, system.capacity_error_m3)
    return MixCorrection(
        system=system,
        found=old.told,
        before=mixture,
        target=wanted.told,
        target_frac_mass=wanted.frac_mass,
        edge_aimed=edge_aimed,
        shelf=shelf,
        temp_k=temp_k,
        low_m3=low_m3,
        band=band,
        band_given=band_given,
        unit_system=unit_system,
        step=step,
        plan=plan,
        exact=plan_row(row, target, band, drainable),
        inside=row.inside,
        status=status,
        half_width=half_width,
        causes=causes,
        reach=reach,
    )
