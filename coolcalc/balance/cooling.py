"""Kernel: what a mix gives away in cooling and costs in pumping, beside water or another mix.

Every figure is a ratio, mix over what it is compared with, at the same hot coolant and the same
outside air. Floats and arrays of shape (n,) run through the same source; nothing here raises for
a row: where flow would not be turbulent, a row has NaN and a status.
"""

from typing import NamedTuple

import numpy as np

from ..fluids import (
    conductivity_w_m_k_unchecked,
    density_kg_m3_unchecked,
    heat_capacity_j_kg_k_unchecked,
    viscosity_pa_s_unchecked,
)
from ..fluids.bands import CONDUCTIVITY, DENSITY, HEAT_CAPACITY, VISCOSITY

#: Power of the Prandtl number where the coolant is cooled, as in a radiator, and where it is
#: heated, as in an engine block. Source key ``dittus-boelter-1930``. [-]
COOLED, HEATED = 0.3, 0.4

#: Reynolds numbers from which `nusselt_gnielinski` holds. Source key ``gnielinski-1976``. [-]
TURBULENT_FROM = 3000.0

#: Power of the Reynolds number in the friction of smooth bores. Source key ``blasius-1913``. [-]
_BLASIUS = -0.25

#: Power of the kinematic viscosity that flow follows with a pump of flat curve: the head in
#: metres stays, and is lost to friction: V^(2 - 1/4) nu^(1/4) stays. With a steep one flow stays.
FLAT_CURVE = _BLASIUS / (2.0 + _BLASIUS)
STEEP_CURVE = 0.0

#: Strengths that differ by so much have errors of one curve that are little alike: they agree to
#: exp(-(difference / this)^2 / 2). By judgement: 60 over 50 mass % of ethylene glycol, published
#: viscosities differ by some 5 per cent more than that. [kg/kg]
ALIKE_WITHIN = 0.2


#: Whether the formulas hold, as bit flags: all over the band, not at an end of it, not at its
#: likely value, where the row is blank.
TURBULENT, MAY_NOT_BE_TURBULENT, NOT_TURBULENT = 0, 1, 2


class Radiator(NamedTuple):
    """A radiator and its flow with plain water, floats or (n,).

    Attributes
    ----------
    coolant_share : float or ndarray
        Share of the coolant's side in the resistance from coolant to air. [-]
    transfer_units : float or ndarray
        Conductance from coolant to air over the heat capacity rate of the air. [-]
    capacity_ratio : float or ndarray
        Heat capacity rate of the air over that of the water. [-]
    reynolds : float or ndarray
        Of the water in the tubes. [-]
    """

    coolant_share: np.ndarray
    transfer_units: np.ndarray
    capacity_ratio: np.ndarray
    reynolds: np.ndarray


#: Low, likely and high of each, where nothing better is known. Common practice, no source. [-]
COOLANT_SHARE = (0.05, 0.15, 0.30)
TRANSFER_UNITS = (0.5, 1.0, 1.5)
CAPACITY_RATIO = (0.1, 0.25, 0.5)
REYNOLDS_WATER = (5e3, 1e4, 2e4)


class Ratio(NamedTuple):
    """A ratio with its ends at 95 %. [-]."""

    low: np.ndarray
    value: np.ndarray
    high: np.ndarray


class GivenAway(NamedTuple):
    """Mix over what it is compared with; under 1 is given away, of pressure and power over 1.

    Attributes
    ----------
    film : Ratio
        Heat transfer coefficient of the coolant in the radiator's tubes.
    heat_carried : Ratio
        Heat that the stream carries for each kelvin; at a fixed flow that of each litre.
    pressure, power : Ratio
        Pressure drop, and power of the pump at an efficiency that stays.
    flow : Ratio
        Volume flow.
    heat_rejected : Ratio
        Heat that the radiator gives to the air.
    """

    film: Ratio
    heat_carried: Ratio
    pressure: Ratio
    power: Ratio
    flow: Ratio
    heat_rejected: Ratio


#: Fields of `GivenAway` that hold in any flow, at a fixed one.
_ANY_FLOW = ("heat_carried", "flow")


class CoolingGivenAway(NamedTuple):
    """The answer of `cooling_given_away`; ``status``: flags from `TURBULENT` on, int, (n,)."""

    at_fixed_flow: GivenAway
    at_fixed_pump: GivenAway
    status: np.ndarray


class Liquid(NamedTuple):
    """Properties of a liquid, floats or (n,). [kg/m3, J/(kg K), W/(m K), Pa s]."""

    density: np.ndarray
    heat_capacity: np.ndarray
    conductivity: np.ndarray
    viscosity: np.ndarray

    @property
    def kinematic(self):
        """Kinematic viscosity. [m2/s]."""
        return self.viscosity / self.density

    @property
    def prandtl(self):
        """Prandtl number. [-]."""
        return self.viscosity * self.heat_capacity / self.conductivity

    @property
    def heat_per_volume(self):
        """Heat that a volume carries for each kelvin. [J/(m3 K)]."""
        return self.density * self.heat_capacity


def liquid_of(fluid, frac_mass, temp_k):
    """Return the properties of a mix. [-, K]."""
    return Liquid(
        density_kg_m3_unchecked(fluid, frac_mass, temp_k),
        heat_capacity_j_kg_k_unchecked(fluid, frac_mass, temp_k),
        conductivity_w_m_k_unchecked(fluid, frac_mass, temp_k),
        viscosity_pa_s_unchecked(fluid, frac_mass, temp_k),
    )


def _widths(fluid, frac_mass, temp_k):
    """Half-widths of the bands at 95 %, as shares. [-]."""
    density = density_kg_m3_unchecked(fluid, frac_mass, temp_k)
    return Liquid(
        DENSITY[fluid].at(frac_mass, temp_k) / density,
        HEAT_CAPACITY[fluid].at(frac_mass, temp_k),
        CONDUCTIVITY[fluid].at(frac_mass, temp_k),
        VISCOSITY[fluid].at(frac_mass, temp_k),
    )


# --- the published formulas -----------------------------------------------------------------------


def nusselt_dittus_boelter(reynolds, prandtl, power=COOLED):
    """Nusselt number of turbulent flow in a round bore, from a Reynolds number of 10,000. [-].

    Source key ``dittus-boelter-1930``, in the form of ``incropera``.
    """
    return 0.023 * reynolds**0.8 * prandtl**power


def friction_petukhov(reynolds):
    """Friction factor (Darcy's) of a smooth bore. [-].

    Source key ``petukhov-1970``.
    """
    return (0.790 * np.log(reynolds) - 1.64) ** -2.0


def nusselt_gnielinski(reynolds, prandtl, friction=None):
    """Nusselt number of turbulent flow in a bore, from `TURBULENT_FROM`; NaN below it. [-].

    Source key ``gnielinski-1976``; without a friction factor that of `friction_petukhov`.
    """
    reynolds = np.where(reynolds >= TURBULENT_FROM, reynolds, np.nan)
    eighth = (friction_petukhov(reynolds) if friction is None else friction) / 8.0
    bend = 1.0 + 12.7 * np.sqrt(eighth) * (prandtl ** (2.0 / 3.0) - 1.0)
    return eighth * (reynolds - 1000.0) * prandtl / bend


def friction_blasius(reynolds):
    """Friction factor (Darcy's) of a smooth bore, to a Reynolds number of 100,000. [-].

    Source key ``blasius-1913``.
    """
    return 0.3164 * reynolds**_BLASIUS


def friction_of_bends(reynolds):
    """Loss that no viscosity changes, as of bends, valves and rough bores; any unit will do. [-].

    Common practice, no source.
    """
    return np.ones_like(reynolds)


def crossflow_effectiveness(transfer_units, capacity_ratio):
    """Heat over the most there could be, both streams unmixed across each other. [-].

    Parameters
    ----------
    transfer_units : float or ndarray
        Conductance over the smaller heat capacity rate. [-]
    capacity_ratio : float or ndarray
        Smaller heat capacity rate over the larger. [-]

    Notes
    -----
    The approximation of ``incropera``, exact for a ratio near 0.
    """
    ratio = np.maximum(capacity_ratio, 1e-9)
    used = -np.expm1(-ratio * transfer_units**0.78) / ratio
    return -np.expm1(-used * transfer_units**0.22)


# --- mix over what it is compared with ------------------------------------------------------------


class _Streams(NamedTuple):
    """A mix, what it is compared with, and the water that the radiator is told of."""

    mix: Liquid
    against: Liquid
    water: Liquid


def _film(liquid, water, reynolds_water, flow, nusselt):
    """Film of a liquid, times the bore. [W/(m K)]."""
    reynolds = reynolds_water * flow * water.kinematic / liquid.kinematic
    return nusselt(reynolds, liquid.prandtl) * liquid.conductivity


def _heat(liquid, water, radiator, flow, film):
    """Heat to the air, over the air's heat capacity rate and the warmth of the coolant. [-].

    ``film`` is that of the liquid over that of water.
    """
    share = radiator.coolant_share
    resistance = 1.0 - share + share / film
    coolant = liquid.heat_per_volume / water.heat_per_volume * flow / radiator.capacity_ratio
    small, large = np.minimum(coolant, 1.0), np.maximum(coolant, 1.0)
    units = radiator.transfer_units / resistance / small
    return crossflow_effectiveness(units, small / large) * small


def _logs(streams, radiator, curve, nusselt=nusselt_dittus_boelter, friction=friction_blasius):
    """Logarithms of the ratios in the order of `GivenAway`, (6, n). [-].

    Parameters
    ----------
    streams : _Streams
    radiator : Radiator
    curve : float
        Power of the kinematic viscosity that flow follows, `FLAT_CURVE` to `STEEP_CURVE`. [-]
    nusselt, friction : function
        Of the Reynolds and the Prandtl number, and of the Reynolds number.
    """
    water = streams.water
    plain_film = _film(water, water, radiator.reynolds, 1.0, nusselt)
    found = []
    for liquid in (streams.mix, streams.against):
        flow = (liquid.kinematic / water.kinematic) ** curve
        film = _film(liquid, water, radiator.reynolds, flow, nusselt) / plain_film
        reynolds = radiator.reynolds * flow * water.kinematic / liquid.kinematic
        pressure = friction(reynolds) * liquid.density * flow**2
        found.append(
            (
                film,
                liquid.heat_per_volume * flow,
                pressure,
                pressure * flow,
                flow,
                _heat(liquid, water, radiator, flow, film),
            )
        )
    return np.array(
        np.broadcast_arrays(*(np.log(mix / other) for mix, other in zip(*found, strict=True)))
    )


def _square_of_properties(streams, widths, alike, radiator, curve):
    """Squares of what the bands of the properties move the logarithms by, (6, n)."""

    def moved(which, name, width):
        liquid = getattr(streams, which)
        ends = (
            streams._replace(
                **{which: liquid._replace(**{name: getattr(liquid, name) * (1.0 + step)})}
            )
            for step in (width, -width)
        )
        up, down = (_logs(end, radiator, curve) for end in ends)
        return (up - down) / 2.0

    total = 0.0
    for name in Liquid._fields:
        mix = moved("mix", name, getattr(widths.mix, name))
        other = moved("against", name, getattr(widths.against, name))
        # One curve: near strengths err alike, so that what both share drops out.
        total = total + (mix + other) ** 2 - 2.0 * (1.0 - alike) * mix * other
    return np.maximum(total, 0.0)


def _span(streams, widths, alike, bands, curve):
    """Low, value and high of the logarithms at one pump curve, (3, 6, n)."""
    likely = Radiator(*(band[1] for band in bands))
    value = _logs(streams, likely, curve)
    below = above = _square_of_properties(streams, widths, alike, likely, curve)
    causes = []
    for name in ("coolant_share", "transfer_units", "capacity_ratio"):
        low, _, high = getattr(bands, name)
        ends = (likely._replace(**{name: end}) for end in (low, high))
        causes.append([_logs(streams, end, curve) - value for end in ends])
    others = (likely._replace(reynolds=end) for end in bands.reynolds)
    # The other formula of the film; where it does not hold it tells nothing.
    causes.append(
        [
            np.nan_to_num(_logs(streams, end, curve, nusselt_gnielinski) - value, nan=0.0)
            for end in others
        ]
    )
    if curve == STEEP_CURVE:  # with another one the flow falls no further than friction lets it
        causes.append([_logs(streams, likely, curve, friction=friction_of_bends) - value])
    for cause in causes:
        below = below + np.minimum(np.min(cause, axis=0), 0.0) ** 2
        above = above + np.maximum(np.max(cause, axis=0), 0.0) ** 2
    return np.array([value - np.sqrt(below), value, value + np.sqrt(above)])


def _given_away(logs, holds, any_flow=()):
    """Ratios of logarithms (3, 6, n), with NaN where flow is not turbulent."""
    ratios = np.exp(logs)
    return GivenAway(
        *(
            Ratio(*(ratios[:, at] if name in any_flow else np.where(holds, ratios[:, at], np.nan)))
            for at, name in enumerate(GivenAway._fields)
        )
    )


def cooling_given_away(
    fluid,
    frac_mass,
    temp_k,
    against_frac_mass=0.0,
    coolant_share=COOLANT_SHARE,
    transfer_units=TRANSFER_UNITS,
    capacity_ratio=CAPACITY_RATIO,
    reynolds_water=None,
):
    """Return what a mix gives away in cooling and costs in pumping, beside another or water.

    Parameters
    ----------
    fluid : str
    frac_mass, against_frac_mass : float or ndarray
        Glycol over glycol + water; 0 is plain water. [kg/kg]
    temp_k : float or ndarray
        The coolant, about midway through the radiator. [K]
    coolant_share, transfer_units, capacity_ratio : tuple of float or ndarray
        Low, likely and high of the radiator with plain water; see `Radiator`. [-]
    reynolds_water : tuple of float or ndarray, optional
        Low, likely and high Reynolds number of plain water in the tubes at `temp_k`. Without it
        `REYNOLDS_WATER` widens the band, and no row is blank. [-]

    Returns
    -------
    CoolingGivenAway
        At a volume flow that stays, and with a pump whose curve is not known: its ends enclose
        those of a flat and of a steep curve, its value is that of a curve midway.

    Notes
    -----
    Film: `nusselt_dittus_boelter` with the power of a liquid that is cooled, so that it goes with
    rho^0.8 k^0.7 cp^0.3 mu^-0.5; `nusselt_gnielinski` over the band of Reynolds numbers is a
    further end. Pressure: `friction_blasius`, so that it goes with rho^0.75 mu^0.25 at a flow
    that stays; its low end is that of `friction_of_bends`, where it goes with rho. Heat rejected:
    the coolant's share of the resistance goes with the film, the rest stays, and
    `crossflow_effectiveness` makes heat of it. The radiator is told for plain water; both mixes
    are taken from there.

    The ends add in squares of logarithms: the band of each property at 95 %, with errors of near
    strengths alike (`ALIKE_WITHIN`); the ends of each parameter, one at a time; the two formulas
    of the film. The two pump curves are bounds, so they enclose and do not add.

    Left out: fouling, boiling at the hot walls, the pump's efficiency in a thicker liquid, and
    that properties change as the coolant runs hotter.
    """
    given = reynolds_water is not None
    bands = Radiator(
        coolant_share,
        transfer_units,
        capacity_ratio,
        reynolds_water if given else REYNOLDS_WATER,
    )
    strengths = (frac_mass, against_frac_mass)
    streams = _Streams(*(liquid_of(fluid, each, temp_k) for each in (*strengths, 0.0)))
    widths = _Streams(*(_widths(fluid, each, temp_k) for each in (*strengths, 0.0)))
    alike = np.exp(-(((frac_mass - against_frac_mass) / ALIKE_WITHIN) ** 2) / 2.0)
    middle = (FLAT_CURVE + STEEP_CURVE) / 2.0
    flat, half, steep = (
        _span(streams, widths, alike, bands, curve) for curve in (FLAT_CURVE, middle, STEEP_CURVE)
    )
    pump = np.array(
        [
            np.minimum(np.minimum(flat[0], half[0]), steep[0]),
            half[1],
            np.maximum(np.maximum(flat[2], half[2]), steep[2]),
        ]
    )

    def least_reynolds(reynolds, curve):
        thicker = np.maximum(streams.mix.kinematic, streams.against.kinematic)
        ratio = np.maximum(thicker / streams.water.kinematic, 1.0)
        return reynolds * ratio ** (curve - 1.0)

    sure = least_reynolds(bands.reynolds[0], FLAT_CURVE) >= TURBULENT_FROM
    status = np.where(sure, TURBULENT, MAY_NOT_BE_TURBULENT)
    holds = [
        (least_reynolds(bands.reynolds[1], curve) >= TURBULENT_FROM) | (not given)
        for curve in (STEEP_CURVE, middle)
    ]
    status = status | np.where(holds[0] & holds[1], 0, NOT_TURBULENT)
    return CoolingGivenAway(
        _given_away(steep, holds[0], _ANY_FLOW), _given_away(pump, holds[1]), status
    )


def hotter_k(heat_rejected, above_air_k):
    """How much hotter the coolant must be to reject the same heat, low, likely and high. [K].

    Parameters
    ----------
    heat_rejected : Ratio
        As found by `cooling_given_away`.
    above_air_k : float or ndarray
        Coolant into the radiator less outside air, with what the mix is compared with. [K]
    """
    low, value, high = heat_rejected
    return Ratio(*(above_air_k * (1.0 / ratio - 1.0) for ratio in (high, value, low)))
