"""Top-ups of one system for the kernels: what they give, and how sure it is."""

from ..balance import dilution, ledger, spread
from .mix_plan import DUST, contents_of, spread_inputs


def _after(row, volumes_m3, steam):
    """Return the strength afterwards as a function of what is truly inside."""

    def after(frac_mass, capacity_m3, at):
        inside = contents_of(row.mix, capacity_m3, frac_mass, row.temp_k)
        return ledger.frac_mass(_last(inside, volumes_m3, row.temp_k, steam))

    return after


def _last(inside, volumes_m3, temp_k, steam):
    return dilution.top_up(inside, volumes_m3, temp_k, steam=steam).full[-1]


def topup_spread(row, volumes_m3, steam, inputs):
    """Return the `spread.Spread` of the strength after top-ups, held fixed. [kg/kg].

    Parameters
    ----------
    row : MixRow
    volumes_m3 : sequence of float
        [m3]
    steam : bool
    inputs : MixInputs
    """
    return spread.spread_of(_after(row, volumes_m3, steam), spread_inputs(row, inputs, 1))


def topup_chance(row, volumes_m3, steam, inputs, after, hold):
    """Return the chance that the mix still holds. [-].

    Parameters
    ----------
    row, volumes_m3, steam, inputs
        As for `topup_spread`.
    after : spread.Spread
        What that gave.
    hold : spread.Hold
        [kg/kg]
    """
    known = spread_inputs(row, inputs, 1)
    chance = spread.chance_to_hold(_after(row, volumes_m3, steam), known, after, hold)
    return float(chance[0])


def count_until_lost(row, volume_m3, weakest):
    """Return after how many equal top-ups a strength is lost; None past the last counted."""
    # The dust of a sum is no loss of what is just held.
    counted = dilution.count_until_weaker(row.inside, volume_m3, row.temp_k, weakest - DUST)
    count = int(counted[0])
    return None if count < 0 else count
