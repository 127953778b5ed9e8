"""Lines of a working that moves kilograms: what is inside, what goes, what comes, what it makes.

Each can be followed on a calculator: litres by kilograms a litre are kilograms.
"""

from .. import units
from ..answers import Line
from ..balance import ledger
from ..balance.composition import product_density_kg_m3, product_share_from_frac_mass
from .mix_plan import NOTHING_M3


def hundredths(job, volume_m3):
    """Return a volume with hundredths. [m3]."""
    return units.show(float(volume_m3), "volume", job.unit_system.volume, 2)


def volume(job, volume_m3):
    """Return a volume with hundredths, and in litres as far as kilograms follow from. [m3]."""
    litres = round(units.to_display(float(volume_m3), "volume", "L"), 4)
    # To a tenth of a millilitre, unless it is a whole number of hundredths anyway.
    digits = 2 if litres == round(litres, 2) else 4
    fine = units.show(float(volume_m3), "volume", "L", digits)
    return fine if job.unit_system.volume == "L" else f"{hundredths(job, volume_m3)} ({fine})"


def share(frac_mass):
    """Return a strength by mass with hundredths. [kg/kg]."""
    return f"{100 * float(frac_mass):.2f} mass %"


def kilograms(state):
    """Return what is in a state, by kind."""
    glycol, water, additive = (float(each[0]) for each in state[:3])
    return f"glycol {glycol:.3f}, water {water:.3f}, additives {additive:.3f} kg"


def strength_line(job, label, frac_mass):
    """Return a strength by mass and as per cent of product."""
    return Line(
        label,
        f"{share(frac_mass)} of glycol in glycol + water, which is "
        f"{100 * of_product(job, frac_mass):.1f} % of {job.product_word}.",
    )


def inside_line(job, label, state, temp_k):
    """Return volume, density and kilograms of a state."""
    held = float(ledger.volume_m3(state, temp_k)[0])
    total = sum(float(each[0]) for each in state[:3])
    return Line(
        label,
        f"{volume(job, held)} of {total / held / 1000:.4f} kg/L = {total:.3f} kg: "
        f"{kilograms(state)}.",
    )


def taken_line(job, label, state, taken_m3, temp_k):
    """Return what a volume taken out leaves."""
    held = float(ledger.volume_m3(state, temp_k)[0])
    left = ledger.drain(state, taken_m3, temp_k)
    return Line(
        label,
        f"{volume(job, taken_m3)} of {volume(job, held)}, which leaves "
        f"{100 * max(1.0 - taken_m3 / held, 0.0):.2f} % of everything: {kilograms(left)}.",
    )


def poured_line(job, label, product, volume_m3):
    """Return what a volume of a product brings."""
    si = product.si(job.before.fluid)
    density = float(product_density_kg_m3(si, job.temp_k))
    mass = volume_m3 * density
    parts = (
        f"{name} {mass * part:.3f}"
        for name, part in zip(("glycol", "water", "additives"), product.share, strict=True)
    )
    return Line(
        label,
        f"{volume(job, volume_m3)} of {density / 1000:.4f} kg/L = {mass:.3f} kg: "
        f"{', '.join(parts)} kg.",
    )


def sum_line(job, label, state):
    """Return the sums of a state, and the strength that they are."""
    glycol, water = float(state.glycol_kg[0]), float(state.water_kg[0])
    return Line(
        label,
        f"{kilograms(state)}; glycol {glycol:.3f} / (glycol + water {glycol + water:.3f} kg) = "
        f"{share(ledger.frac_mass(state)[0])}.",
    )


def apart_lines(job, state, apart_m3, label="Shrinking"):
    """Yield what the parts take up apart and together, where it is not one liquid. [m3]."""
    together = float(ledger.volume_m3(state, job.temp_k)[0])
    if abs(apart_m3 - together) < NOTHING_M3:
        return
    yield Line(
        label,
        f"{volume(job, apart_m3)} apart are {volume(job, together)} together: glycol and water "
        f"take up {volume(job, apart_m3 - together)} less.",
    )


def of_product(job, frac_mass):
    """Return a strength as a share of the product that strengths are told of. [m3/m3]."""
    return float(product_share_from_frac_mass(job.before.product.si(), frac_mass))


def rule_line(job, parts):
    """Return what volumes that add would give, beside the balance by mass.

    Parameters
    ----------
    job : AfterWork
    parts : sequence of (float, float)
        Volume of each part and its glycol over glycol + water. [m3, kg/kg]
    """
    parts = [(each, of_product(job, frac)) for each, frac in parts if each > NOTHING_M3]
    total = sum(each for each, _ in parts)
    rule = sum(each * strength for each, strength in parts) / total
    sums = " + ".join(f"{volume(job, each)} × {100 * strength:.1f} %" for each, strength in parts)
    mass = job.after.frac_mass
    return Line(
        "Textbook rule",
        f"{_volumes_add(job)} ({sums}) / {volume(job, total)} = "
        f"{100 * rule:.1f} %; by mass it is {100 * of_product(job, mass):.1f} % of "
        f"{job.product_word} ({share(mass)}).",
    )


def blend_m3(volume_m3, target, first, rest):
    """Return how much of a first liquid makes a volume with a second, by volumes that add. [m3].

    Parameters
    ----------
    volume_m3 : float
        Of both together. [m3]
    target, first, rest : float
        Strength of the blend, of the first and of the second liquid, on one basis. [-]
    """
    return volume_m3 * (target - rest) / (first - rest)


def blend_line(job, volume_m3, strong, weak):
    """Return the rule of a blend of two products to the target, volumes adding. [m3]."""
    high, low, target = (
        of_product(job, each) for each in (strong.frac_mass, weak.frac_mass, job.target_frac_mass)
    )
    first = blend_m3(volume_m3, target, high, low)
    return Line(
        "Blend by the rule",
        f"{_volumes_add(job)} {volume(job, volume_m3)} × "
        f"({100 * target:.1f} − {100 * low:.1f}) / ({100 * high:.1f} − {100 * low:.1f}) = "
        f"{volume(job, first)} of {strong.name}, and {volume(job, volume_m3 - first)} of "
        f"{weak.name}.",
    )


def _volumes_add(job):
    return f"With volumes that add, in % of {job.product_word}:"
