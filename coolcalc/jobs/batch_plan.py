"""The plan of a batch: the exchange of a vessel that is open, and the steps of a scale."""

from typing import Any, NamedTuple

import numpy as np

from .. import units
from ..balance import exchange, ladder, ledger
from ..balance.composition import frac_mass_of, product_density_kg_m3
from ..errors import BLOCKED
from .mix_plan import EQUAL, NOTHING_M3, plan_row, row_of, told_plan

#: Volumes tried at once, and how often, until the step between them is dust.
GRID, ROUNDS = 33, 7

_LITRE = 1e-3  # [m3]


class MassStep(NamedTuple):
    """A step of a scale in its unit and in kg, and the decimals that show it."""

    in_unit: float
    kg: float
    decimals: int


class Mixed(NamedTuple):
    """A plan, the row that it is for, and what comes out before it.

    ``spare_m3`` is what is inside beyond the volume wanted; ``emptied`` says that all of the
    remnant comes out. [m3]
    """

    row: Any
    plan: exchange.Plan
    spare_m3: float
    emptied: bool


def batch_row(mixture, volume_m3, remnant_m3, shelf, temp_k):
    """Return the `MixRow` of a vessel that is to hold a volume, with a remnant inside. [m3, K]."""
    # All of a remnant can be poured out: what is drainable of a full vessel is all of it.
    return row_of(mixture, volume_m3, volume_m3 - remnant_m3, shelf, temp_k)


def mass_step_of(mass_kg, unit):
    """Return the step of a scale for a batch: half a per cent of its mass, as for litres."""
    spec = units.KINDS["mass"].units[unit]
    # The rule goes by the number alone, so it is asked as if kilograms were litres.
    step = units.measuring_step(units.to_display(mass_kg, "mass", unit) * _LITRE, "L")
    return MassStep(step.in_unit, step.in_unit * spec.factor, step.decimals)


def mass_steps(row, step_kg):
    """Return the volumes that steps of a scale are, of what is inside and of each product."""
    held = float(ledger.volume_m3(row.inside, row.temp_k)[0])
    mass = sum(float(each[0]) for each in row.inside[:3])
    pours = tuple(step_kg / product_density_kg_m3(each, row.temp_k) for each in row.products)
    return ladder.Steps(step_kg * held / mass if mass else 0.0, pours)


def planned(row, target, steps):
    """Plan a batch: the kernel's exchange, after what a vessel holds beyond the volume wanted.

    Parameters
    ----------
    row : MixRow
        As `batch_row` gives it.
    target : float
        [kg/kg]
    steps : coolcalc.balance.ladder.Steps
        [m3]

    Returns
    -------
    Mixed
    """
    over = max(_held(row) - row.capacity_m3, 0.0)
    spare = float(ladder.round_up(over, steps.drain_m3))
    inside = ledger.drain(row.inside, spare, row.temp_k)
    row = row._replace(inside=inside, low_m3=row.low_m3 + spare)
    plan = plan_row(row, target, (target, target), steps)
    if int(plan.status[0]) & BLOCKED:
        poured = _poured_as_it_is(row, target, steps)
        return (poured or Mixed(row, plan, spare, False))._replace(spare_m3=spare)
    drained = float(plan.drain_m3[0, 0])
    if drained > 0.0 and _held(row) - drained < max(steps.drain_m3, NOTHING_M3):
        # What would stay is less than can be measured: out with all of it.
        return planned(_emptied(row), target, steps)._replace(emptied=True)
    return Mixed(row, plan, spare, False)


def _held(row):
    return float(ledger.volume_m3(row.inside, row.temp_k)[0])


def _emptied(row):
    return row._replace(inside=ledger.keep(row.inside, 0.0), low_m3=row.capacity_m3)


def _poured_as_it_is(row, target, steps):
    """Fill with one product that has the strength wanted; None where there is none."""
    for at, product in enumerate(row.products):
        if abs(frac_mass_of(product.share) - target) > EQUAL:
            continue
        stays = abs(float(ledger.frac_mass(row.inside)[0]) - target) <= EQUAL
        emptied = _held(row) > NOTHING_M3 and not stays
        own = _emptied(row) if emptied else row
        fill = ladder.fill_to_mark_m3(own.inside, product, row.capacity_m3, row.temp_k)
        pours = np.zeros(len(row.products))
        pours[at] = ladder.round_down(float(fill[0]), steps.pour_m3[at])
        return Mixed(own, told_plan(own, 0.0, pours), 0.0, emptied)
    return None


def whole_m3(row, target, step_m3, most_m3):
    """Return the volume of a batch that uses all of a remnant, nothing taken out. [m3].

    In whole measuring steps; None where there is none up to ``most_m3``.
    """
    remnant = _held(row)

    def plans(volumes_m3):
        """Return whether there is no plan for volumes, and whether one throws some out."""
        count = np.size(volumes_m3)
        inside = ledger.repeated(row.inside, count)
        wanted = np.full(count, target)
        plan = exchange.plan_exchange(
            inside,
            volumes_m3,
            volumes_m3,
            wanted,
            row.products,
            exchange.Limits(wanted, wanted),
            row.temp_k,
        )
        blocked = (plan.status & int(BLOCKED)) > 0
        return blocked, ~blocked & (plan.drain_m3[0] > 0.0)

    def too_small(volume_m3):
        return bool(plans(np.array([volume_m3]))[1][0])

    low, high = remnant, row.capacity_m3
    if high <= low or too_small(high):
        low, high = max(low, high), most_m3
    if high <= low or not too_small(low) or too_small(high):
        return None
    for _ in range(ROUNDS):
        volumes = np.linspace(low, high, GRID)
        first = int(np.argmin(plans(volumes)[1]))  # the first that throws nothing out
        low, high = float(volumes[max(first - 1, 0)]), float(volumes[first])
    up = ladder.round_up(high, step_m3)
    # Where only one volume does it, a larger one cannot be made.
    whole = ladder.round_down(low, step_m3) if plans(np.array([up]))[0][0] else up
    return whole if 0.0 < whole <= most_m3 else None
