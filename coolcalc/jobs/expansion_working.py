"""How the answer of `expansion` was worked out, and how sure it is, line by line."""

from .. import units
from ..answers import Line
from ..units import Q
from .expansion_plan import FITS
from .printed import litres_by_hand
from .told_words import CAUSE_WORDS

#: Coolant in a textbook's problem (source key ``openstax-physics``). [1/K]
TEXTBOOK_PER_K = 400e-6

#: Of the causes that only this job has.
_CAUSES = CAUSE_WORDS | {"growth": "published growth of mixes"}


def _kpa(pressure_pa):
    return f"{pressure_pa / 1e3:.1f}"


def working_lines(job):
    """Yield each sum, to be checked by hand, in litres, kilopascal and kelvin."""
    here = job.heating
    cold_k, hot_k = here.cold_k, job.hot_k
    cold, hot = (float(job.before.density(Q(each, "kelvin")).m) for each in (cold_k, hot_k))
    volume = here.capacity_m3
    liquid = volume * here.liquid_share(hot_k)[0]
    metal = volume * here.metal_share(hot_k)[0]
    degrees = [units.show(each, "temperature", "°C", 0) for each in (cold_k, hot_k)]
    yield Line(
        "Density",
        f"{cold:.1f} kg/m³ at {degrees[0]}, {hot:.1f} kg/m³ at {degrees[1]}, additives counted.",
    )
    yield Line(
        "Coolant grows",
        f"{litres_by_hand(volume)} × ({cold:.1f} / {hot:.1f} − 1) = {litres_by_hand(liquid)}: the "
        "mass stays.",
    )
    growth = units.show(here.metal_per_k, "volume expansion", "ppm/K", 0)
    yield Line(
        "Metal makes room",
        f"{litres_by_hand(volume)} × {growth} × {hot_k - cold_k:.0f} K = {litres_by_hand(metal)}.",
    )
    rise = job.rise
    yield Line(
        "Level rises",
        f"{litres_by_hand(liquid)} − {litres_by_hand(metal)} = {litres_by_hand(rise.value)}; "
        f"{litres_by_hand(rise.low)} to {litres_by_hand(rise.high)} with the give or take.",
    )
    constant = volume * (TEXTBOOK_PER_K - here.metal_per_k) * (hot_k - cold_k)
    yield Line(
        "Textbook's constant",
        f"{litres_by_hand(volume)} × ({1e6 * TEXTBOOK_PER_K:.0f} − {1e6 * here.metal_per_k:.0f}) "
        f"ppm/K × {hot_k - cold_k:.0f} K = {litres_by_hand(constant)}: a physics textbook takes "
        "one coefficient for all coolants and temperatures; hot mixes grow more.",
    )
    if job.closed is not None and job.verdict == FITS:
        for space, each_rise, end in zip(
            job.closed, (rise.low, rise.high), ("least", "most"), strict=True
        ):
            yield from _gas_lines(job, space, each_rise, end)


def _gas_lines(job, space, rise_m3, end):
    outside = job.heating.outside_pa
    cold_vapor = float(space.space.cold_vapor_pa[0])
    gas_k = float(space.gas_k(job.hot_k)[0])
    vapor = space.vapor_pa(job.hot_k)
    if end == "least":
        yield Line(
            "Air when cold",
            f"{_kpa(outside)} kPa outside less {_kpa(cold_vapor)} kPa of vapour = "
            f"{_kpa(outside - cold_vapor)} kPa in {litres_by_hand(job.room_m3)} at "
            f"{job.heating.cold_k:.0f} K.",
        )
    left = job.room_m3 - rise_m3
    pressure = float(space.pressure_pa(job.hot_k)[0])
    squeezed = f"{litres_by_hand(job.room_m3)} / {litres_by_hand(left)}"
    warmed = f"{gas_k:.0f} K / {job.heating.cold_k:.0f} K"
    yield Line(
        f"Pressure, {end}",
        f"{_kpa(outside - cold_vapor)} × {squeezed} × {warmed} + {_kpa(vapor)} kPa of vapour = "
        f"{_kpa(pressure + outside)} kPa absolute, {_kpa(pressure)} kPa gauge.",
    )


def odds_lines(job):
    """Yield where the give or take of the rise comes from, as `Line`."""
    causes = {
        name: max(float(end[0]) for end in ends)
        for name, ends in job.heating.causes_m3(job.hot_k).items()
    }
    parts = "; ".join(
        f"{litres_by_hand(part)} from {_CAUSES[name]}"
        for name, part in causes.items()
        if part > 0.0
    )
    yield Line("Give or take of the rise", f"{parts}; added in squares, 95 times of 100.")
    if job.closed is not None and job.verdict == FITS:
        yield Line(
            "Of the pressure",
            "Mostly from how warm the gas is: the coolest gas with the least growth, the hottest "
            "with the most. A thermometer on the tank's side above the level narrows it.",
        )
