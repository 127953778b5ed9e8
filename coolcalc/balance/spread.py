"""First-order spread of an array function: how far the result moves with each input."""

from typing import NamedTuple

import numpy as np

from . import exchange, ledger


def first_order(func, values, half_widths):
    """Half-width of ``func(**values)`` from the half-widths of its inputs.

    Inputs are independent; central differences over one half-width.

    Parameters
    ----------
    func : callable
        Takes ``values`` by name, returns an (n,) array.
    values, half_widths : dict of str to ndarray
        Same names; a name without a half-width is exact. [unit of the input]

    Returns
    -------
    total : ndarray, (n,)
        Root of the sum of squares, with the confidence of the half-widths. [unit of func]
    parts : dict of str to ndarray
        What each input gives alone. [unit of func]

    Examples
    --------
    >>> total, parts = first_order(
    ...     lambda a, b: a * b, {"a": 2.0, "b": 3.0}, {"a": 0.1, "b": 0.1})
    >>> round(float(total), 4), {name: round(float(part), 4) for name, part in parts.items()}
    (0.3606, {'a': 0.3, 'b': 0.2})
    """
    parts = {}
    for name, width in half_widths.items():
        up, down = ({**values, name: values[name] + sign * width} for sign in (1, -1))
        parts[name] = np.abs(func(**up) - func(**down)) / 2
    return np.sqrt(sum(part**2 for part in parts.values())), parts


class OldMix(NamedTuple):
    """What old mix carries beside glycol and water, and which glycol it is.

    ``additive_per_glycol`` in kg/kg, ``additive_volume_m3_kg`` in m3/kg of additives.
    """

    fluid: str
    additive_per_glycol: float
    additive_volume_m3_kg: float


def outcome_spread(mix, plan, products, temp_k, low_m3, values, half_widths):
    """Give or take of the strength after a plan whose litres are held fixed, (n,). [kg/kg].

    Parameters
    ----------
    mix : OldMix
    plan : exchange.Plan
        As it was printed.
    products : sequence of ProductSI
    temp_k, low_m3 : float or ndarray
        Temperature of the litres; what is missing below the mark. [K, m3]
    values, half_widths : dict
        ``frac_mass`` [kg/kg] and ``capacity_m3`` [m3] as found, and their give or take.

    Returns
    -------
    tuple
        As `first_order`.
    """

    def reached(frac_mass, capacity_m3):
        inside = ledger.contents(mix[0], capacity_m3 - low_m3, frac_mass, *mix[1:], temp_k)
        return ledger.frac_mass(exchange.outcome(inside, plan, products, temp_k))

    return first_order(reached, values, half_widths)
