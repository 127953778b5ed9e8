"""Rows beside the model: tables, figures, and what is refused."""

import pytest

from coolcalc import charts, evidence
from coolcalc import evidence_views as views
from coolcalc.errors import UnknownChoiceError

from .published import DISAGREEMENTS, ROWS


def test_rows_beside_the_model():
    table = views.compare(ROWS, "freezing_point", "ethylene glycol")
    crc = table[table["source"] == "crc-concentrative"]
    assert len(crc) == 19  # the handbook's rows from 0.5 to 60 mass %
    assert (crc["off"] == crc["model"] - crc["published"]).all()
    assert crc["coolprop"].notna().all()
    lines = views.by_source(ROWS, "freezing_point", "ethylene glycol")
    assert lines.loc["crc-concentrative", ["fit", "check"]].sum() == 19
    assert lines.loc["melinder-2010", "CoolProp"] < 0.01  # made from it


def test_shares_are_told_in_per_cent():
    lines = views.by_source(ROWS, "viscosity", "propylene glycol")
    assert lines["largest"].max() < 20
    (row,) = (
        row for row in ROWS if row["source"] == "tanaka-1988" and row["concentration"] == "100"
    )
    off = 100 * (evidence.model_value(row) / float(row["value"]) - 1)
    assert lines.loc["tanaka-1988", "largest"] >= abs(off) - 1e-9


def test_products_are_compared_apart():
    table = views.compare(ROWS, "boiling_point", "propylene glycol", products=True)
    assert set(table["source"]) == {"sae-j814", "army-tm-5-3895"}
    assert table["coolprop"].isna().all()
    pure = views.compare(ROWS, "boiling_point", "propylene glycol")
    assert not set(pure["source"]) & set(table["source"])


def test_bands_at_half_name_every_fluid():
    table = views.bands_at_half(ROWS, ("freezing_point", "boiling_point", "viscosity"))
    assert len(table) == 9
    assert not table.isna().any().any()
    asymmetric = table[(table["property"] == "boiling_point")].iloc[1]["±"]
    assert asymmetric.startswith("-") and "+" in asymmetric
    boils = table[table["property"] == "boiling_point"].set_index("fluid")
    # The rows of propylene glycol are of the pure glycol: of its mixes there is none.
    assert boils.loc["propylene glycol", ["print", "formula"]].sum() == 0
    assert boils.loc["propylene glycol", "pure"] > 0


def test_curve_says_where_nothing_is_settled():
    line = views.curve("freezing_point", "ethylene glycol", points=11)
    by_x = {each["x"]: each for each in line}
    assert by_x[70.0]["value"] is None and by_x[70.0]["low"] < by_x[70.0]["high"]
    assert by_x[50.0]["low"] < by_x[50.0]["value"] < by_x[50.0]["high"]
    assert by_x[50.0]["other"] is not None and by_x[80.0]["other"] is None


@pytest.mark.parametrize(
    ("prop", "fluid", "condition"),
    [
        ("freezing_point", "ethylene glycol", {}),
        ("viscosity", "ethylene glycol", {"temp_c": "20"}),
        ("boiling_point", "propylene glycol", {"pressure": "101.325 kPa", "products": True}),
    ],
)
def test_figures_carry_a_description_and_looks_of_their_own(prop, fluid, condition):
    spec = views.figure(ROWS, prop, fluid, "quantity, unit", **condition)
    assert fluid in spec["description"] and "at most" in spec["description"]
    points = spec["vconcat"][0]["layer"][-1]["encoding"]
    colours, shapes = (points[channel]["scale"]["range"] for channel in ("color", "shape"))
    assert len(set(shapes)) == len(shapes) == len(set(colours)) <= 8
    assert charts.to_png(spec).startswith(b"\x89PNG")
    assert f'alt="{spec["description"]}"' in charts.to_image(spec)


def test_disagreements_are_told_with_units_in_lines_that_fit():
    known = [{"row": row, "distance": off, "why": why} for row, (off, why) in DISAGREEMENTS.items()]
    text = views.disagreements(ROWS, known)
    assert max(map(len, text.splitlines())) <= 80
    heads = [line for line in text.splitlines() if line and not line.startswith(" ")]
    assert sum(int(line.split()[-2]) for line in heads) == len(known)


def test_the_band_of_a_figure_lies_about_the_model():
    spec = views.figure(ROWS, "density", "propylene glycol", "density, kg/m³", temp_c="25")
    lower = spec["vconcat"][1]["layer"][0]["data"]["values"]
    assert all(each["under"] < 0 < each["over"] for each in lower)


def test_rows_with_an_unknown_basis_or_property_are_refused():
    row = {**ROWS[0], "basis": "spoonfuls"}
    with pytest.raises(UnknownChoiceError, match=r'basis: "spoonfuls"'):
        evidence.frac_mass(row)
    with pytest.raises(UnknownChoiceError, match="property"):
        evidence.model_value({**ROWS[0], "property": "colour"})
