"""Which coefficients the published rows hold: each is moved by 1 % of itself.

A coefficient that moves no row out of its tolerance is named in INSENSITIVE; the list is what
this test found, so that it can neither grow nor shrink unseen. The freezing, pure-glycol volume
and index sets, each moved as a whole, must fail a row, whatever single coefficients do.
"""

import pytest

from coolcalc import fluids

from .published import name
from .test_published_rows import DISAGREEMENTS, model_value, rows_of

PARTS = {
    "freeze": "freezing_point",
    "melt": "freezing_point",
    "glycol_volume": "density",
    "excess_volume": "density",
    "index_rise": "refractive_index",
    "index_warm": "refractive_index",
}

#: By fluid and part, the flat positions. Most of ethylene glycol's tolerances are wide (CRC's
#: grow to 1 K at 60 mass %), and rows hold sums of coefficients better than single ones: the
#: freezing curves of the two others are written as polynomials, but one number each was fitted.
INSENSITIVE = {
    ("ethylene glycol", "freeze"): (0, 1, 2, 3),  # of 4
    ("ethylene glycol", "glycol_volume"): (1, 2, 3),  # of 4
    ("ethylene glycol", "excess_volume"): (0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10),  # of 11
    ("ethylene glycol", "index_rise"): (1, 2),  # of 3
    ("ethylene glycol", "index_warm"): (0, 1),  # of 2
    ("propylene glycol", "freeze"): (2, 3, 4, 5, 6, 7),  # of 8
    ("propylene glycol", "glycol_volume"): (2, 3),  # of 4
    ("propylene glycol", "excess_volume"): (1, 2, 3, 4, 5, 8, 9, 11, 12, 13, 14, 15),  # of 17
    ("propylene glycol", "index_rise"): (),  # of 4
    ("propylene glycol", "index_warm"): (0, 1),  # of 2
    ("glycerol", "freeze"): (1, 2, 3, 4, 5, 6, 7),  # of 8
    # No published row of a pure mix; the end and the slope there have a test of their own.
    ("ethylene glycol", "melt"): (0, 1, 2, 3, 4, 5),  # of 6
    ("propylene glycol", "melt"): (0,),  # it has no glycol side
    ("glycerol", "melt"): (1, 2, 3, 4, 5),  # of 6
    ("glycerol", "glycol_volume"): (1, 2),  # of 3
    ("glycerol", "excess_volume"): (1, 2, 3, 4, 5, 6, 7, 8),  # of 9
    ("glycerol", "index_rise"): (2, 3),  # of 4
    ("glycerol", "index_warm"): (0, 1),  # of 2
}


def met(fluid, prop):
    """Return the names of the published rows of a property that are met."""
    return {
        name(row)
        for row in rows_of("published")
        if row["fluid"] == fluid
        and row["property"].startswith(prop)
        and name(row) not in DISAGREEMENTS
        and abs(model_value(row) - float(row["value"])) <= float(row["tolerance"])
    }


def moved(values, factor, at=None):
    """Return coefficients, nested or not, with one flat position (or all) multiplied."""
    count = 0

    def walk(part):
        nonlocal count
        if isinstance(part, tuple):
            return tuple(walk(each) for each in part)
        count += 1
        return part * factor if at is None or at == count - 1 else part

    result = walk(values)
    return result, count


def insensitive(monkeypatch, fluid, part, prop):
    """Return the flat positions whose move leaves every row met."""
    here = fluids.FLUIDS[fluid]
    values = getattr(here, part)
    before = met(fluid, prop)
    _, count = moved(values, 1.0)
    idle = []
    for at in range(count):
        changed = here._replace(**{part: moved(values, 1.01, at)[0]})
        with monkeypatch.context() as patch:
            patch.setitem(fluids.FLUIDS, fluid, changed)
            if met(fluid, prop) == before:
                idle.append(at)
    return idle


@pytest.mark.parametrize("fluid", fluids.FLUIDS)
@pytest.mark.parametrize("part", PARTS)
def test_insensitive_coefficients_are_listed(monkeypatch, fluid, part):
    found = insensitive(monkeypatch, fluid, part, PARTS[part])
    assert found == list(INSENSITIVE.get((fluid, part), ()))


@pytest.mark.parametrize("fluid", fluids.FLUIDS)
@pytest.mark.parametrize("part", ["freeze", "glycol_volume", "index_rise"])
def test_one_per_cent_on_all_of_them_fails_a_published_row(monkeypatch, fluid, part):
    here = fluids.FLUIDS[fluid]
    before = met(fluid, PARTS[part])
    changed = here._replace(**{part: moved(getattr(here, part), 1.01)[0]})
    monkeypatch.setitem(fluids.FLUIDS, fluid, changed)
    assert met(fluid, PARTS[part]) < before
