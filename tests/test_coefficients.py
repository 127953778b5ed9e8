"""Which coefficients the published rows hold: each is moved by 1 % of itself.

A coefficient that moves no row out of its tolerance is named in INSENSITIVE; the list is what
this test found, so that it can neither grow nor shrink unseen. The freezing, pure-glycol volume
and index sets, each moved as a whole, must fail a row, whatever single coefficients do.
"""

import itertools

import pytest

from coolcalc import fluids
from coolcalc.evidence import model_value, name, tolerance

from .published import DISAGREEMENTS
from .test_published_rows import rows_of

PARTS = {
    "freeze": "freezing_point",
    "melt": "freezing_point",
    "glycol_volume": "density",
    "cross_volume": "density",
    "index_rise": ("refractive_index", "refractive_index_temp_coefficient"),
    "index_drift": ("refractive_index", "refractive_index_temp_coefficient"),
    "heat_capacity_glycol": "heat_capacity",
    "heat_capacity_excess": "heat_capacity",
    "conductivity_glycol": "conductivity",
    "conductivity_excess": "conductivity",
    "viscosity_glycol": "viscosity",
    "viscosity_excess": "viscosity",
    "glycol_vapor": ("vapor_pressure", "boiling_point"),
    "activity": ("vapor_pressure", "boiling_point"),
    "activity_drift": "excess_enthalpy",
    "activity_curve": "excess_enthalpy",
}

#: Properties of mixes for which only formulas were found: their computed rows must fail instead.
COMPUTED_ONLY = {"heat_capacity", "conductivity"}

#: By fluid and part, the flat positions. Most of ethylene glycol's tolerances are wide (CRC's
#: grow to 1 K at 60 mass %), and rows hold sums of coefficients better than single ones: the
#: freezing curves of the two others are written as polynomials, but one number each was fitted.
INSENSITIVE = {
    ("ethylene glycol", "freeze"): (0, 1, 3),  # of 4
    ("propylene glycol", "freeze"): (2, 3, 4, 6, 7),  # of 8
    ("glycerol", "freeze"): (1, 2, 3, 4, 5, 6, 7),  # of 8
    ("ethylene glycol", "melt"): tuple(range(6)),  # of 6
    ("propylene glycol", "melt"): (0,),  # of 1
    ("glycerol", "melt"): (1, 2, 3, 4, 5),  # of 6
    ("ethylene glycol", "glycol_volume"): (2, 3),  # of 4
    ("propylene glycol", "glycol_volume"): (1, 2, 3),  # of 4
    ("glycerol", "glycol_volume"): (2,),  # of 3
    ("ethylene glycol", "cross_volume"): (2, 3, 4, 5, 6, 7, 8),  # of 9
    ("propylene glycol", "cross_volume"): (1, 2, 3, 4, 5, 6, 7, 8),  # of 9
    ("glycerol", "cross_volume"): (2, 3, 4, 5, 6, 7, 8),  # of 9
    ("ethylene glycol", "index_rise"): (1, 2),  # of 3
    ("propylene glycol", "index_rise"): (),  # of 4
    ("glycerol", "index_rise"): (),  # of 4
    ("ethylene glycol", "index_drift"): tuple(range(6)),  # of 6
    ("propylene glycol", "index_drift"): tuple(range(6)),  # of 6
    ("glycerol", "index_drift"): tuple(range(6)),  # of 6
    ("ethylene glycol", "heat_capacity_glycol"): (1, 2),  # of 3
    ("propylene glycol", "heat_capacity_glycol"): (1, 2),  # of 3
    ("glycerol", "heat_capacity_glycol"): (1,),  # of 2
    ("ethylene glycol", "heat_capacity_excess"): tuple(range(6)),  # of 6
    ("propylene glycol", "heat_capacity_excess"): tuple(range(6)),  # of 6
    ("glycerol", "heat_capacity_excess"): tuple(range(6)),  # of 6
    ("ethylene glycol", "conductivity_glycol"): (1, 2),  # of 3
    ("propylene glycol", "conductivity_glycol"): (1,),  # of 2
    ("glycerol", "conductivity_glycol"): (0, 1),  # of 2
    ("ethylene glycol", "conductivity_excess"): tuple(range(5)),  # of 5
    ("propylene glycol", "conductivity_excess"): (3, 4),  # of 5
    ("glycerol", "conductivity_excess"): tuple(range(5)),  # of 5
    ("ethylene glycol", "viscosity_glycol"): (2,),  # of 3
    ("propylene glycol", "viscosity_glycol"): (2, 3, 4),  # of 5
    ("glycerol", "viscosity_glycol"): (2, 3),  # of 4
    ("ethylene glycol", "viscosity_excess"): tuple(range(9)),  # of 9
    ("propylene glycol", "viscosity_excess"): tuple(range(8)),  # of 8
    ("glycerol", "viscosity_excess"): (1, 2, 4, 6, 8),  # of 9
    ("ethylene glycol", "glycol_vapor"): (2, 3),  # of 4
    ("propylene glycol", "glycol_vapor"): (2,),  # of 3
    ("glycerol", "glycol_vapor"): (2, 3),  # of 4
    ("ethylene glycol", "activity"): tuple(range(4)),  # of 4
    ("propylene glycol", "activity"): (0, 1, 3),  # of 4
    ("glycerol", "activity"): (0, 1, 2),  # of 3
    ("ethylene glycol", "activity_drift"): (),  # of 4
    ("propylene glycol", "activity_drift"): (),  # of 4
    ("glycerol", "activity_drift"): (0, 1, 2),  # of 3
    ("ethylene glycol", "activity_curve"): (),  # of 4
    ("propylene glycol", "activity_curve"): (),  # of 4
    ("glycerol", "activity_curve"): (),  # of 0
}


def met(fluid, prop):
    """Return the names of the published rows of a property, or of several, that are met."""
    kinds = ("published", "computed") if prop in COMPUTED_ONLY else ("published",)
    props = prop if isinstance(prop, tuple) else (prop,)
    return {
        name(row)
        for row in itertools.chain(*map(rows_of, kinds))
        if row["fluid"] == fluid
        and row["property"] in props
        and name(row) not in DISAGREEMENTS
        and abs(model_value(row) - float(row["value"])) <= tolerance(row)
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
    """Return the flat positions whose move, either way, leaves every row met."""
    here = fluids.FLUIDS[fluid]
    values = getattr(here, part)
    before = met(fluid, prop)
    _, count = moved(values, 1.0)
    idle = []
    for at in range(count):
        with monkeypatch.context() as patch:
            for factor in (1.01, 0.99):
                changed = here._replace(**{part: moved(values, factor, at)[0]})
                patch.setitem(fluids.FLUIDS, fluid, changed)
                if met(fluid, prop) != before:
                    break
            else:
                idle.append(at)
    return idle


@pytest.mark.parametrize("fluid", fluids.FLUIDS)
@pytest.mark.parametrize("part", PARTS)
def test_insensitive_coefficients_are_listed(monkeypatch, fluid, part):
    found = insensitive(monkeypatch, fluid, part, PARTS[part])
    assert found == list(INSENSITIVE.get((fluid, part), ()))


@pytest.mark.parametrize("fluid", fluids.FLUIDS)
@pytest.mark.parametrize(
    "part", ["freeze", "glycol_volume", "index_rise", "glycol_vapor", "viscosity_glycol"]
)
def test_one_per_cent_on_all_of_them_fails_a_published_row(monkeypatch, fluid, part):
    here = fluids.FLUIDS[fluid]
    before = met(fluid, PARTS[part])
    changed = here._replace(**{part: moved(getattr(here, part), 1.01)[0]})
    monkeypatch.setitem(fluids.FLUIDS, fluid, changed)
    assert met(fluid, PARTS[part]) < before


@pytest.mark.parametrize("fluid", fluids.FLUIDS)
@pytest.mark.parametrize("part", ["heat_capacity_glycol", "conductivity_glycol"])
def test_five_per_cent_on_a_pure_line_fails_a_row(monkeypatch, fluid, part):
    here = fluids.FLUIDS[fluid]
    before = met(fluid, PARTS[part])
    changed = here._replace(**{part: moved(getattr(here, part), 1.05)[0]})
    monkeypatch.setitem(fluids.FLUIDS, fluid, changed)
    assert met(fluid, PARTS[part]) < before
