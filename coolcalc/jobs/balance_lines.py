"""Lines of a working that moves kilograms: what is inside, what goes, what comes, what it makes.

Each can be followed on a calculator: litres by kilograms a litre are kilograms.
"""

from .. import units
from ..answers import Line
from ..balance import ledger
from ..balance.composition import product_density_kg_m3, product_share_from_frac_mass


def volume(job, volume_m3):
    """Return a volume with hundredths, and in litres to a tenth of a millilitre. [m3]."""
    shown = units.show(float(volume_m3), "volume", job.unit_system.volume, 2)
    litres = units.show(float(volume_m3), "volume", "L", 4)
    return litres if job.unit_system.volume == "L" else f"{shown} ({litres})"


def share(frac_mass):
    """Return a strength by mass with hundredths. [kg/kg]."""
    return f"{100 * float(frac_mass):.2f} mass %"


def kilograms(state):
    """Return what is in a state, by kind."""
    glycol, water, additive = (float(each[0]) for each in state[:3])
    return f"glycol {glycol:.3f}, water {water:.3f}, additives {additive:.3f} kg"


def strength_line(job, label, frac_mass):
    """Return a strength by mass and as per cent of product."""
    product = job.before.product
    of_product = 100 * float(product_share_from_frac_mass(product.si(), frac_mass))
    return Line(
        label,
        f"{share(frac_mass)} of glycol in glycol + water, which is {of_product:.1f} % of "
        f"{job.product_word}.",
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


def apart_line(job, state, apart_m3):
    """Return what the parts take up apart and together. [m3]."""
    together = float(ledger.volume_m3(state, job.temp_k)[0])
    return Line(
        "Shrinking",
        f"{volume(job, apart_m3)} apart are {volume(job, together)} together: glycol and water "
        f"take up {volume(job, apart_m3 - together)} less.",
    )
