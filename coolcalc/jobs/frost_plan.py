"""The stack of margins: from the coldest air to a strength to fill to, and the limits of a reading.

Down to the limit every doubt about the vehicle is counted: how cold it gets, where the mix
freezes, what the reading is worth. They are independent, so they add in squares. What the filling
is uncertain by comes on top: it is no doubt about a vehicle that has been read, but decides how
much stronger to fill, so that it comes out within the limits.
"""

import math
from typing import Any, NamedTuple

import numpy as np

from .. import fluids
from ..balance import dilution, ledger
from ..balance.composition import REFERENCE_TEMP_K, mix_of_product
from ..balance.spread import HALF_WIDTH_SD, normal_cdf
from ..instruments import frac_mass_half_width
from ..mixture import Mixture
from ..strength import OF_PRODUCT, Strength
from .mix_plan import DUST, EQUAL, contents_of
from .winter_low import one_sided

#: What stands in the stack. Those of `SQUARED` are doubts, which add in squares.
PARTS = (
    *("hourly", "site", "night stop", "margin"),
    *("low", "site doubt", "curve", "instrument"),
    *("top-ups", "mixing"),
)
SQUARED = PARTS[4:8]

#: What can be switched off: a part, or all that chance has a hand in.
CHANCE = "confidence"
SWITCHES = (
    *("hourly", "site", "night stop", "margin", "low", "curve", "instrument"),
    *("top-ups", "mixing"),
)

#: What decides the strength.
FROST, FLOOR, CEILING, SHELF = "frost", "floor", "ceiling", "product"

#: Chances over which a doubt is averaged. [-]
CHANCES = tuple((at + 0.5) / 200 for at in range(200))

#: Less than this is printed as nothing. [K]
PRINTED_K = 0.05

#: Steps to the weakest strength; seven or eight do. [-]
_STEPS = 40


class Part(NamedTuple):
    """One row of the stack.

    Attributes
    ----------
    name : str
        One of `PARTS`.
    takes_k : float
        By how much it moves the answer to the cold, as counted: these add up. [K]
    alone_k : float
        What it would take by itself at the chance asked for. [K]
    counted : bool
        False where it was switched off.
    """

    name: str
    takes_k: float
    alone_k: float
    counted: bool


class Stop(NamedTuple):
    """A place where a vehicle stands on the coldest night.

    Attributes
    ----------
    name : str
        "" of the depot itself.
    low_k : float
        Low of the air there. [K]
    off_k : Callable or None
        Takes chances; gives by how much the low may be colder. None where it was not told. [K]
    half_width_k : float or None
        Give or take at 95 % of what was added for the site; None where it was not told. [K]
    """

    name: str
    low_k: float
    off_k: Any = None
    half_width_k: float | None = 0.0


class Reach(NamedTuple):
    """What can be mixed of what is listed: glycol over glycol + water. [kg/kg]."""

    least: float
    most: float


class Bound(NamedTuple):
    """Floor or ceiling: glycol over glycol + water [kg/kg], and how it was told."""

    frac_mass: float
    told: Strength

    @property
    def counted(self):
        """Up to 60 mass %: beyond it more glycol is no protection to count on. [kg/kg]."""
        return min(self.frac_mass, fluids.FRAC_MASS_SETTLED_MAX)


class Needs(NamedTuple):
    """What a standard asks for.

    Attributes
    ----------
    product : Product
        Whose per cent the strengths are.
    tool : Refractometer or Hydrometer
    chance : float
        One-sided. [-]
    margin_k, mixing, lost : float
        Kelvin kept free; give or take of the strength after filling at 95 %, in shares of
        product; share of the coolant that water takes the place of between two tests. [K, -, -]
    floor, ceiling : Bound
    reach : Reach
    without : frozenset of str
        Of `SWITCHES` and `CHANCE`.
    """

    product: Any
    tool: Any
    chance: float
    margin_k: float
    mixing: float
    lost: float
    floor: Bound
    ceiling: Bound
    reach: Reach
    without: frozenset

    def counts(self, name):
        """Whether a part is counted."""
        if name in ("low", "site doubt", "curve", "instrument", "mixing"):
            switch = "site" if name == "site doubt" else name
            return not {switch, CHANCE} & self.without
        return name not in self.without


class Limits(NamedTuple):
    """What a vehicle is filled to, and between which readings it is left alone.

    Attributes
    ----------
    decides : str
        `FROST`, `FLOOR`, `CEILING`, or `SHELF`: what is listed to pour is too weak.
    weakest, strongest : float
        Limits of a reading, as strengths. [kg/kg]
    fill : float
        To fill to: a whole per cent of product. [kg/kg]
    short_k : float
        By how much ceiling or product fall short of the frost; 0 where they do not. [K]
    limits_hold : bool
        Whether a reading within both limits is one of a vehicle that holds, and is not too
        strong, at the chance asked for; else the limits only keep to the fill.
    """

    decides: str
    weakest: float
    strongest: float
    fill: float
    short_k: float
    limits_hold: bool


class Standard(NamedTuple):
    """What comes out.

    Attributes
    ----------
    parts : tuple of Part
        In the order of `PARTS`.
    where : str
        Night stop that decides; "" for the depot.
    air_k, hold_k : float
        Air that is counted on there, and that less the margin. [K]
    depot_air_k : float
        Air that is counted on at the depot itself. [K]
    limit_k : float
        Freezing point that a reading must not be warmer than, for frost alone. [K]
    fill_need_k : float
        Freezing point to fill to, for frost alone. [K]
    limits : Limits
    chance_holds : float
        That a vehicle filled to it holds. [-]
    chance_within : float
        That a vehicle just filled reads within the limits. [-]
    """

    parts: tuple
    where: str
    air_k: float
    hold_k: float
    depot_air_k: float
    limit_k: float
    fill_need_k: float
    limits: Limits
    chance_holds: float
    chance_within: float

    @property
    def decides(self):
        """What decides."""
        return self.limits.decides

    @property
    def weakest(self):
        """Weak limit of a reading. [kg/kg]."""
        return self.limits.weakest

    @property
    def strongest(self):
        """Strong limit of a reading. [kg/kg]."""
        return self.limits.strongest

    @property
    def fill(self):
        """Strength to fill to. [kg/kg]."""
        return self.limits.fill

    @property
    def short_k(self):
        """By how much it falls short. [K]."""
        return self.limits.short_k

    @property
    def limits_hold(self):
        """Whether a reading within the limits holds."""
        return self.limits.limits_hold


def plan_standard(low, site_k, site_half_width_k, stops, needs):
    """Return the `Standard` of a depot.

    Parameters
    ----------
    low : coolcalc.jobs.winter_low.WinterLow
        Of the station.
    site_k, site_half_width_k : float
        By how much the depot is colder than the station, and its give or take at 95 %. [K]
    stops : sequence of Stop
        Night stops. Where nothing is known of how sure one is, it is as sure as the station's low.
    needs : Needs
    """
    at = one_sided(needs.chance)
    hourly = low.hourly_k if needs.counts("hourly") else 0.0
    site = site_k if needs.counts("site") else 0.0
    depot = Stop("", low.low_k - hourly - site, low.off_k, site_half_width_k)
    places = [each if each.off_k else each._replace(off_k=low.off_k) for each in stops]

    def doubts_k(place):
        return max(float(place.off_k((needs.chance,))[0]), 0.0), at * (place.half_width_k or 0.0)

    def coldest_k(place):
        return place.low_k - math.hypot(*_counted(needs, SQUARED[:2], doubts_k(place)))

    coldest = min((depot, *places), key=coldest_k)
    there = coldest if needs.counts("night stop") else depot
    place_doubts_k = doubts_k(there)
    margin_k = needs.margin_k if needs.counts("margin") else 0.0
    hold_k = there.low_k - margin_k

    def squares(frac_mass):
        alone = (
            *place_doubts_k,
            at * _curve_half_width_k(needs, frac_mass),
            at * own_half_width(needs, frac_mass) * _slope(needs, frac_mass),
        )
        return alone, _counted(needs, SQUARED, alone)

    def short_of(frac_mass):
        """By how much a mix that reads so is too warm, after what it loses. [K]."""
        return (
            _freeze_k(needs, after_loss(needs, frac_mass))
            + math.hypot(*squares(frac_mass)[1])
            - hold_k
        )

    frost = _weakest_that(short_of)
    read = fluids.FRAC_MASS_SETTLED_MAX if frost is None else frost
    alone, doubts = squares(read)
    together_k = math.hypot(*doubts)
    limit_k = hold_k - together_k
    loss_alone_k = _freeze_k(needs, _diluted(needs, read)) - _freeze_k(needs, read)
    loss_k = loss_alone_k if needs.counts("top-ups") else 0.0
    mixing_alone_k = _colder_by(needs, read, at * half_width_of_mixing(needs, read))
    mixing_k = mixing_alone_k if needs.counts("mixing") else 0.0
    shares = (each**2 / together_k if together_k else 0.0 for each in doubts)
    taken = {
        "hourly": (hourly, low.hourly_k),
        "site": (site, site_k),
        "night stop": (depot.low_k - there.low_k, depot.low_k - coldest.low_k),
        "margin": (margin_k, needs.margin_k),
        **dict(zip(SQUARED, zip(shares, alone, strict=True), strict=True)),
        "top-ups": (loss_k, loss_alone_k),
        "mixing": (mixing_k, mixing_alone_k),
    }
    fill_need_k = limit_k - loss_k - mixing_k
    limits = _limits(needs, at, frost, fill_need_k)
    return Standard(
        parts=tuple(Part(name, *taken[name], needs.counts(name)) for name in PARTS),
        where=there.name,
        air_k=there.low_k,
        hold_k=hold_k,
        depot_air_k=depot.low_k,
        limit_k=limit_k - loss_k,
        fill_need_k=fill_need_k,
        limits=limits,
        chance_holds=_chance_holds(needs, limits.fill, hold_k, there),
        chance_within=_chance_within(needs, limits),
    )


def _counted(needs, names, doubts_k):
    """Return doubts, 0 where one was switched off. [K]."""
    return tuple(
        each if needs.counts(name) else 0.0 for name, each in zip(names, doubts_k, strict=True)
    )


def _limits(needs, at, frost, fill_need_k):
    """Set the frost between floor and ceiling, and go on to the strength to fill to."""

    def guard(frac_mass, *names):
        halves = {"instrument": own_half_width, "mixing": half_width_of_mixing}
        return at * math.hypot(
            *(halves[name](needs, frac_mass) for name in names if needs.counts(name))
        )

    least, ceiling = needs.floor.counted, needs.ceiling.counted
    floor = least + guard(least, "instrument")
    strongest = ceiling - guard(ceiling, "instrument")
    top = max(whole(needs, ceiling - guard(ceiling, "mixing"), math.floor), needs.reach.least)
    most = min(top, needs.reach.most)
    need = fluids.FRAC_MASS_SETTLED_MAX if frost is None else frost
    weakest = max(floor, need)
    fill = whole(needs, weakest + guard(weakest, "mixing"), math.ceil)
    fill = max(fill, needs.reach.least)
    decides = FLOOR if floor >= need else FROST
    short_k = 0.0
    if frost is None or fill > most + DUST:
        fill = most
        short_k = max(_freeze_k(needs, most) - fill_need_k, 0.0)
        short_k = 0.0 if short_k < PRINTED_K else short_k
        if short_k:
            decides = CEILING if top <= needs.reach.most else SHELF
    # Where there is no room between the limits, or the fill itself is short, they keep to it.
    own = guard(fill, "instrument", "mixing")
    weak_end = fill - own if decides in (CEILING, SHELF) else fill
    limits_hold = weakest <= weak_end + DUST and fill <= strongest + DUST
    if weakest > weak_end + DUST:
        weakest = max(fill - own, least)
    if strongest < fill - DUST:
        strongest = max(min(fill + own, ceiling), fill)
    return Limits(decides, weakest, strongest, fill, short_k, limits_hold)


def _weakest_that(short_of):
    """Return the weakest strength that is not too warm; None where none up to 60 mass % is.

    False position, the end that stays put halved (Illinois).
    """
    weak, strong = 0.0, fluids.FRAC_MASS_SETTLED_MAX
    warm, cold = short_of(weak), short_of(strong)
    if cold > 0.0:
        return None
    if warm <= 0.0:
        return weak
    stayed = 0.0
    for _ in range(_STEPS):
        at = (weak * cold - strong * warm) / (cold - warm)
        off = short_of(at)
        if abs(off) < EQUAL:
            return at
        again = off * stayed > 0.0
        if off > 0.0:
            weak, warm, cold = at, off, cold / 2 if again else cold
        else:
            strong, cold, warm = at, off, warm / 2 if again else warm
        stayed = off
    return strong


def _freeze_k(needs, frac_mass):
    near = min(max(frac_mass, 0.0), fluids.FRAC_MASS_SETTLED_MAX)
    return float(fluids.freeze_temp_k(needs.product.fluid, near))


def _colder_by(needs, frac_mass, more):
    """By how much a stronger mix freezes colder; beyond the end of the curve by its slope. [K]."""
    if frac_mass + more > fluids.FRAC_MASS_SETTLED_MAX:
        return _slope(needs, frac_mass) * more
    return _freeze_k(needs, frac_mass) - _freeze_k(needs, frac_mass + more)


def _slope(needs, frac_mass):
    """By how many kelvin the freezing point falls with the strength. [K per kg/kg]."""
    return 1.0 / frac_mass_half_width(needs.product.fluid, frac_mass, 1.0)


def own_half_width(needs, frac_mass):
    """Give or take of one reading at 95 %. [kg/kg]."""
    reading = needs.tool.reading_on(needs.product.fluid)
    return math.hypot(*needs.tool.own_half_widths(frac_mass, reading, needs.product))


def _curve_half_width_k(needs, frac_mass):
    """Give or take of the freezing curve at 95 %. [K]."""
    near = min(frac_mass, fluids.FRAC_MASS_SETTLED_MAX)
    low, high, _ = fluids.band("freeze_temp_k", needs.product.fluid, near)
    return float(high - low) / 2


def after_loss(needs, frac_mass):
    """Strength after what is lost between two tests has been made up with water. [kg/kg]."""
    return _diluted(needs, frac_mass) if needs.counts("top-ups") else frac_mass


def _diluted(needs, frac_mass):
    if not needs.lost:
        return frac_mass
    mix = mix_of_product(needs.product.si())
    inside = contents_of(mix, 1.0, frac_mass, REFERENCE_TEMP_K)
    (full,) = dilution.top_up(inside, np.array([needs.lost]), REFERENCE_TEMP_K).full
    return float(ledger.frac_mass(full)[0])


def share_of(needs, frac_mass):
    """Share of product of a strength. [m3/m3]."""
    return Mixture(product=needs.product, frac_mass=frac_mass).strength().share


def of_share(needs, share):
    """Strength of a share of product. [kg/kg]."""
    return Strength(share, OF_PRODUCT).frac_mass(needs.product)


def whole(needs, frac_mass, rounding):
    """Return a strength at a whole per cent of product, at most the product. [kg/kg].

    ``rounding`` is `math.ceil` or `math.floor`.
    """
    percent = 100.0 * share_of(needs, frac_mass)
    dust = 1e-6 if rounding is math.floor else -1e-6
    return of_share(needs, min(rounding(percent + dust) / 100.0, 1.0))


def half_width_of_mixing(needs, frac_mass):
    """Give or take of the strength after filling at 95 %. [kg/kg]."""
    share = share_of(needs, frac_mass)
    ends = (min(max(share + sign * needs.mixing, 0.0), 1.0) for sign in (-1, 1))
    weak, strong = (of_share(needs, each) for each in ends)
    return (strong - weak) / 2


def _chance_holds(needs, fill, hold_k, there):
    """Chance that a vehicle filled to a strength holds, no reading made. [-].

    With every doubt but the instrument's, also those that were switched off. That of the low is
    skewed, so it is taken as it is; the others are normal.
    """
    rest_k = math.hypot(
        there.half_width_k or 0.0,
        _curve_half_width_k(needs, fill),
        _slope(needs, fill) * half_width_of_mixing(needs, fill),
    )
    room_k = hold_k - _freeze_k(needs, _diluted(needs, fill)) - there.off_k(CHANCES)
    if not rest_k:
        return float(np.mean(room_k >= 0.0))
    return float(np.mean(normal_cdf(HALF_WIDTH_SD * room_k / rest_k)))


def _chance_within(needs, limits):
    """Chance that a vehicle just filled reads within the limits. [-]."""
    half = math.hypot(half_width_of_mixing(needs, limits.fill), own_half_width(needs, limits.fill))
    low, high = (
        float(normal_cdf(HALF_WIDTH_SD * (edge - limits.fill) / half))
        if half
        else float(edge + DUST >= limits.fill)
        for edge in (limits.weakest, limits.strongest)
    )
    return high - low
