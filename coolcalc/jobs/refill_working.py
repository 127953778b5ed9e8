"""The working of a `Refill`: what is still inside, the balance by mass, and the sum by hand."""

from ..answers import Line
from ..balance import ledger, residual
from ..balance.composition import frac_mass_of, product_density_kg_m3
from .balance_lines import (
    apart_lines,
    inside_line,
    kilograms,
    of_product,
    poured_line,
    rule_line,
    strength_line,
    sum_line,
    volume,
)
from .refill_plan import with_back


def working_lines(job):
    """Yield what is inside, the balance, and the textbook rule beside it."""
    yield from _residual_lines(job)
    if job.blocked:
        yield strength_line(job, "Target", job.target_frac_mass)
        if job.reach is not None:
            yield strength_line(job, "Within reach", job.reach.frac_mass)
        return
    state = job.row.inside
    if job.kind != "nothing":
        yield strength_line(job, "Still inside", job.before.frac_mass)
        yield inside_line(job, "Still inside", state, job.temp_k)
    parts = [(job.held_m3, job.before.frac_mass)]
    if job.fill.back_m3 > 0.0:
        liquid = residual.old_mix_as_liquid(job.row.mix, job.start.old_frac_mass)
        density = float(product_density_kg_m3(liquid, job.temp_k))
        state = with_back(job.start, job.fill.back_m3).inside
        yield Line(
            "Poured back",
            f"{volume(job, job.fill.back_m3)} of {density / 1000:.4f} kg/L; then inside: "
            f"{kilograms(state)}.",
        )
        parts.append((job.fill.back_m3, float(frac_mass_of(liquid.share))))
    apart = float(ledger.volume_m3(state, job.temp_k)[0])
    for product, each in job.pours_m3():
        yield poured_line(job, f"Poured {product.name}", product, each)
        parts.append((each, product.frac_mass))
        apart += each
    yield sum_line(job, "Inside now", job.plan.after)
    yield inside_line(job, "Volume now", job.plan.after, job.temp_k)
    yield strength_line(job, "Strength afterwards, to the mark", job.after.frac_mass)
    yield from apart_lines(job, job.plan.after, apart)
    yield strength_line(job, "Target", job.target_frac_mass)
    yield _by_hand(job)
    yield rule_line(job, parts)


def _residual_lines(job):
    capacity, litres = job.row.capacity_m3, job.litres
    if job.kind == "nothing":
        yield Line("Still inside", "Nothing was entered as inside: a dry system.")
        return
    still = job.start.still
    value, half = float(still.value_m3[0]), float(still.half_width_m3[0])
    if litres["caught"] is not None:
        yield Line(
            "Still inside, litres",
            f"{volume(job, capacity)} − {volume(job, litres['caught'])} caught − "
            f"{volume(job, litres['spilled'])} spilled − {volume(job, job.low_m3)} missing before "
            f"= {volume(job, value)}.",
        )
    else:
        _, low, high = job.opened
        yield Line(
            "Still inside, litres",
            f"{volume(job, capacity)} less {100 * low:.0f} to {100 * high:.0f} % that comes out "
            f"= about {volume(job, value)}.",
        )
    yield Line(
        "Give or take",
        f"{volume(job, half)}, the errors added in squares, 95 times of 100"
        + ("; less than nothing is not inside." if value < half else "."),
    )


def _by_hand(job):
    """Say the trade's own sum: what is wanted over the weaker product, less what is there."""
    pours = job.pours_m3()
    if len(pours) != 2:
        return Line("By hand", "One liquid is poured: the rule below is the sum.")
    capacity, target = job.row.capacity_m3, of_product(job, job.target_frac_mass)
    inside = of_product(job, job.before.frac_mass)
    back_m3, back = job.fill.back_m3, of_product(job, job.start.old_frac_mass)
    strong, weak = (of_product(job, product.frac_mass) for product, _ in pours)
    rest = capacity - job.held_m3 - back_m3
    wanted = capacity * target - job.held_m3 * inside - back_m3 * back - rest * weak
    sums = f"{volume(job, capacity)} × {100 * target:.1f} %"
    sums += f" − {volume(job, job.held_m3)} × {100 * inside:.1f} %" if inside else ""
    sums += f" − {volume(job, back_m3)} × {100 * back:.1f} %" if back_m3 else ""
    sums += f" − {volume(job, rest)} × {100 * weak:.1f} %" if weak else ""
    over = f"({100 * strong:.1f} % − {100 * weak:.1f} %)" if weak else f"{100 * strong:.1f} %"
    return Line(
        "By hand",
        f"With volumes that add, {pours[0][0].name} over {pours[1][0].name}: ({sums}) / {over} = "
        f"{volume(job, wanted / (strong - weak))}.",
    )
