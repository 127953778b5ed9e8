"""The working of a `BoilMargin`: sums by hand, the rule of thumb, and what it is uncertain by."""

from .. import units
from ..answers import Line
from ..balance import boiling
from ..balance.atmosphere import (
    LAPSE_K_M,
    LAPSE_POWER,
    SEA_LEVEL_K,
    SEA_LEVEL_PA,
    geopotential_m,
)
from ..balance.composition import REFERENCE_TEMP_K, density_kg_m3
from ..fluids import TEMP_MAX_K, heat_capacity_j_kg_k_unchecked
from .boil_margin_words import holds_words, span_words, steam_words

#: What a cap raises the boiling point by, as the trade reckons: 3 °F a psi. Common practice, no
#: source. [K/Pa]
RULE_K_PA = 3.0 / 1.8 / 6894.757

_CAUSES = {
    "strength": "The strength found",
    "liquid": "The curve, and additives that may count as glycol",
    "cap": "What the cap holds",
    "weather": "The weather",
}


def working_lines(job):
    """Yield the sums by hand, in the order of the work."""
    yield Line("Outside air", _air_sum(job))
    held = job.absolute_words(job.outside_pa + job.held_pa)
    if job.held_pa:
        yield Line(
            "Pressure on the coolant",
            f"{job.absolute_words(job.outside_pa)} + {job.pressure_words(job.held_pa)} = {held}.",
        )
    yield Line(
        "Boiling point without pressure",
        f"{job.temp_words(job.open_k.value, 1)} at {job.absolute_words(job.outside_pa)}, "
        f"{100 * job.before.frac_mass:.1f} mass % of glycol.",
    )
    if job.held_pa:
        yield Line(
            f"Boiling point {holds_words(job)}",
            f"{job.temp_words(job.held_k.value, 1)} at {held}.",
        )
        yield Line("Rule of thumb", _rule_sum(job))
    if job.marked_k is not None and job.tested:
        yield Line(
            "Boiling point under the cap as marked",
            f"{job.temp_words(job.marked_k.value, 1)} at "
            f"{job.absolute_words(job.outside_pa + job.cap_pa)}.",
        )
    if job.margin_k is not None:
        yield Line(
            "Margin",
            f"{job.temp_words(job.held_k.value, 1)} − {job.temp_words(job.hot_k, 1)} = "
            f"{job.difference_words(job.margin_k.value, 1)}.",
        )
    if job.air_to_boil_k is not None:
        yield Line(
            "Air to boil",
            f"{job.temp_words(job.held_k.value, 1)} − ({job.temp_words(job.top_tank_k, 1)} − "
            f"{job.temp_words(job.outside_k, 1)}) = {job.temp_words(job.air_to_boil_k.value, 1)}.",
        )
    if job.flash is not None:
        yield Line("Steam", _steam_sum(job))


def _air_sum(job):
    height = geopotential_m(job.altitude_m)
    shown = job.absolute_words(job.outside_pa)
    also = "" if shown.endswith("kPa absolute") else f", which is {shown}"
    return (
        f"{SEA_LEVEL_PA / 1e3} kPa × (1 − {LAPSE_K_M} K/m × {height:.0f} m / {SEA_LEVEL_K} K)"
        f"^{LAPSE_POWER:.4f} = {job.outside_pa / 1e3:.1f} kPa absolute{also}."
    )


def _rule_sum(job):
    by_rule = RULE_K_PA * job.held_pa
    real = job.held_k.value - job.open_k.value
    return (
        f"3 °F a psi, or 1.7 K for each 7 kPa, gives {job.difference_words(by_rule)} more; it is "
        f"{job.difference_words(real)} (the rule: common practice, no source)."
    )


def _steam_sum(job):
    mixture, share = job.before, job.before.share
    drop = job.hot_k - float(job.flash.left_k)
    middle = job.hot_k - 0.5 * drop
    capacity = heat_capacity_j_kg_k_unchecked(
        mixture.fluid, mixture.frac_mass, min(middle, TEMP_MAX_K)
    )
    volume = boiling.steam_volume_m3_kg(job.outside_pa, float(job.flash.left_k))
    density = density_kg_m3(
        mixture.fluid, share, REFERENCE_TEMP_K, mixture.product.additive_volume_m3_kg
    )
    heat = boiling.heat_of_vaporization_j_kg(middle)
    return (
        f"{capacity / 1e3:.2f} kJ/(kg K) × {drop:.1f} K / {heat / 1e3:.0f} kJ/kg × "
        f"{1e3 * volume:.0f} L/kg × {density * (1.0 - share.additive) / 1e3:.3f} kg/L = about "
        f"{steam_words(job, job.steam_ratio)} L from each litre. It is worked out in "
        f"{boiling.STEPS} steps, as what is left grows stronger."
    )


def odds_lines(job):
    """Yield by which cause the boiling point may be lower or higher."""
    yield Line("Boiling point " + holds_words(job), f"{span_words(job, job.held_k)}, at 95 %.")
    for name, words in _CAUSES.items():
        # What the cap holds stands last of the three points.
        below, above = (
            float(getattr(side, name)[-1]) for side in (job.points.below, job.points.above)
        )
        if below or above:
            yield Line(words, f"{_less(job, below)} to {_more(job, above)}.")
    yield Line(
        "Together",
        "They add in squares. No chance of boiling is worked out: how the engine is loaded, and "
        "what happens at its hot spots, is not in these figures.",
    )


def _less(job, part_k):
    return f"{units.MINUS}{job.difference_words(part_k, 1)}"


def _more(job, part_k):
    return f"+{job.difference_words(part_k, 1)}"
