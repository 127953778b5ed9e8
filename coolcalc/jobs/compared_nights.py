"""Nights on which a yard was read beside its station: by how much it is colder, and how sure."""

import math

from .. import units
from ..errors import InputError, Reader

#: Fewest nights that tell a difference, and how many make a good one. By judgement, no source.
NIGHTS_MIN, NIGHTS_GOOD = 5, 10
NIGHTS_MAX = 1000

#: No yard is farther from its station than this. [K]
APART_K = 30.0


def read_nights(nights):
    """Return by how much a yard was colder than its station, and how far one night may differ.

    Parameters
    ----------
    nights : sequence of pairs of text or Quantity
        Lowest of the night at the station, and in the yard: cold, clear, still nights. [K]

    Returns
    -------
    colder_k, half_width_k : float
        Mean of the differences; give or take at 95 % of one more such night, by Student's t. [K]
    count : int

    Raises
    ------
    InputError
        If there are fewer than five, or one is no pair of temperatures.
    """
    try:
        pairs = () if isinstance(nights, str) else tuple(tuple(night) for night in nights)
    except TypeError:
        pairs = ()
    if not NIGHTS_MIN <= len(pairs) <= NIGHTS_MAX or any(len(pair) != 2 for pair in pairs):
        raise InputError(
            "nights",
            len(pairs),
            f"list {NIGHTS_MIN} to {NIGHTS_MAX} nights, better {NIGHTS_GOOD} or more, each as a "
            "pair, station and yard: ('−12 °C', '−15 °C').",
        )
    reader = Reader()
    differences = [reader(_difference, number, *pair) for number, pair in enumerate(pairs, 1)]
    reader.raise_if_any()
    from scipy.stats import t

    count = len(differences)
    mean = math.fsum(differences) / count
    deviation = math.sqrt(math.fsum((each - mean) ** 2 for each in differences) / (count - 1))
    half_width = float(t.ppf(0.975, count - 1)) * deviation * math.sqrt(1.0 + 1.0 / count)
    return mean, half_width, count


def _difference(number, station, yard):
    try:
        at_station, in_yard = (
            units.read("nights", each, "temperature") for each in (station, yard)
        )
    except InputError as error:
        raise InputError("nights", error.found, f"night {number}: {error.what}") from None
    if abs(at_station - in_yard) > APART_K:
        shown = units.show(at_station - in_yard, "temperature difference", "K", 1)
        raise InputError(
            "nights",
            shown,
            f"night {number}: station and yard are {shown} apart, more than {APART_K:.0f} K; check "
            "both figures.",
        )
    return at_station - in_yard
