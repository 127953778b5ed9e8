"""Tables and figures of the published rows beside the model, for those who want to distrust it.

Units are those of the rows; heat capacities, conductivities, viscosities and vapour pressures are
compared in per cent of the published value.
"""

import textwrap
from collections import Counter

import numpy as np

from . import charts, fluids
from .errors import CoolcalcError
from .evidence import (
    SECOND_OPINION,
    band_of,
    frac_mass,
    is_product,
    model_value,
    name,
    pressure_pa,
    tolerance,
)

#: Properties whose distances are told as shares of the published value.
SHARES = ("heat_capacity", "conductivity", "viscosity", "vapor_pressure")

#: From here a row is of the pure glycol. [mass %]
PURE_FROM = 98.5


def off_unit(prop, unit):
    """Return the unit of a distance between values of a property that are in a unit."""
    return "%" if prop in SHARES else {"C": "K", "°C": "K", "1": ""}.get(unit, unit)


_COLUMNS = (
    *("source", "lineage", "kind", "role", "mass_percent", "temp_c", "pressure_kpa"),
    *("published", "tolerance", "model", "off", "low", "high", "coolprop"),
)


def _or_none(ask, *arguments, **options):
    try:
        return ask(*arguments, **options)
    except CoolcalcError:
        return None


def _second_opinion(row):
    return (
        _or_none(model_value, row, model="coolprop") if row["property"] in SECOND_OPINION else None
    )


def compare(rows, prop, fluid, *, products=False):
    """Return rows of a property and fluid beside the model, as a table.

    Parameters
    ----------
    rows : list of dict
        As from `coolcalc.evidence.read_rows`.
    prop : str
        A key of `coolcalc.evidence.MODELS`, as in the rows' column "property".
    fluid : str
    products : bool
        Rows of whole products and inhibited fluids instead of those of pure glycol and water.

    Returns
    -------
    pandas.DataFrame
        A row each: source, lineage, kind, role, mass per cent of glycol, temperature [°C],
        pressure of a boiling point [kPa], the published value and tolerance, the model's value,
        model less published, the ends of the band, and CoolProp's value; all in the row's own
        unit, empty where one gives no answer.
    """
    import pandas as pd

    table = []
    for row in rows:
        if (row["property"], row["fluid"]) != (prop, fluid) or is_product(row) != products:
            continue
        model, published = _or_none(model_value, row), float(row["value"])
        table.append(
            (
                *(row[name] for name in ("source", "lineage", "kind", "role")),
                100 * frac_mass(row),
                float(row["temp_c"]) if row["temp_c"] else None,
                pressure_pa(row) / 1e3 if prop == "boiling_point" else None,
                published,
                tolerance(row),
                model,
                None if model is None else model - published,
                *(_or_none(band_of, row) or (None, None)),
                None if products else _second_opinion(row),
            )
        )
    return pd.DataFrame(table, columns=_COLUMNS)


def by_source(rows, prop, fluid):
    """Return how far the model, and CoolProp, is from each source of pure glycol and water.

    Returns
    -------
    pandas.DataFrame
        Indexed by source: kind; "fit" and "check" rows; the mean and largest distance of the
        model and the largest of CoolProp, in per cent for `SHARES`, else in the rows' unit; how
        many of the rows that the library answers lie in the band.
    """
    import pandas as pd

    table = compare(rows, prop, fluid)
    lines = {}
    for source, mine in table.groupby("source", sort=False):
        size = mine["published"] / 100 if prop in SHARES else 1.0
        off = mine["off"].astype(float) / size
        theirs = (mine["coolprop"].astype(float) - mine["published"]) / size
        inside = (mine["published"] >= mine["low"]) & (mine["published"] <= mine["high"])
        banded = int(mine["low"].notna().sum())
        lines[source] = {
            "kind": mine["kind"].iloc[0],
            "fit": int((mine["role"] == "fit").sum()),
            "check": int((mine["role"] == "check").sum()),
            "mean": off.mean(),
            "largest": off.abs().max(),
            "in band": f"{int(inside.sum())} of {banded}" if banded else None,
            "CoolProp": theirs.abs().max(),
        }
    return pd.DataFrame.from_dict(lines, orient="index")


#: Where a usual mix stands: mass per cent, temperature [°C] and pressure as a row says them.
_USUAL = {"concentration": "50", "temp_c": "20", "pressure": "101.325 kPa", "where": ""}


def bands_at_half(rows, properties):
    """Return value, band and lineages of each property at 50 mass %, 20 °C, 101.325 kPa.

    Returns
    -------
    pandas.DataFrame
        For each property and fluid: the value; "±", its band at 95 % (below and above where they
        differ), in the value's unit or in per cent of it; how many lineages there are of mixes,
        in print and as a formula, and of the pure glycol, which says little of a mix.
    """
    import pandas as pd

    lines = []
    for prop in properties:
        for fluid in fluids.FLUIDS:
            row = {"property": prop, "fluid": fluid, "basis": "mass %", **_USUAL}
            mine = [r for r in rows if (r["property"], r["fluid"]) == (prop, fluid)]
            mine = [r for r in mine if not is_product(r)]
            value, (low, high) = model_value(row), band_of(row)
            size = value / 100 if prop in SHARES else 1.0
            under, over = f"{(value - low) / size:.2g}", f"{(high - value) / size:.2g}"
            unit, mark = mine[0]["unit"], " %" if prop in SHARES else ""
            percents = [100 * frac_mass(r) for r in mine]
            mixes = [r for r, at in zip(mine, percents, strict=True) if 0 < at < PURE_FROM]
            pure = [r for r, at in zip(mine, percents, strict=True) if at >= PURE_FROM]
            lines.append(
                {
                    "property": prop,
                    "fluid": fluid,
                    "value": f"{value:.4g} {'' if unit == '1' else unit}".rstrip(),
                    "±": (under if under == over else f"-{under} +{over}") + mark,
                    "print": len({r["lineage"] for r in mixes if r["kind"] == "published"}),
                    "formula": len({r["lineage"] for r in mixes if r["kind"] == "computed"}),
                    "pure": len({r["lineage"] for r in pure}),
                }
            )
    return pd.DataFrame(lines)


def curve(prop, fluid, *, temp_c="", pressure="", points=101):
    """Return the model along the mass per cent, with its band and CoolProp, as a list of dicts.

    Parameters
    ----------
    prop, fluid : str
        As for `compare`.
    temp_c, pressure : str
        As a row says it: "20", "101.325 kPa"; as far as the property takes one.
    points : int

    Returns
    -------
    list of dict
        "x" [mass %], "value", "low", "high", "other" (CoolProp; None where it gives none). Points
        that the library does not answer are left out; where a freezing point is not settled, the
        value is None and the band is that of `coolcalc.fluids.freeze_bound_k`.
    """
    line = []
    for percent in np.linspace(0, 100, points):
        row = {
            "property": prop,
            "fluid": fluid,
            "basis": "mass %",
            "concentration": f"{percent:.6g}",
            "temp_c": temp_c,
            "pressure": pressure,
        }
        ends = _or_none(band_of, row)
        if ends is not None:
            line.append(
                {
                    "x": float(percent),
                    "value": _or_none(model_value, row),
                    "low": float(ends[0]),
                    "high": float(ends[1]),
                    "other": _second_opinion(row),
                }
            )
    return line


def disagreements(rows, known):
    """Return the named disagreements as text: by property and fluid, the most rows first.

    Parameters
    ----------
    rows : list of dict
        As from `coolcalc.evidence.read_rows`.
    known : list of dict
        Of ``data/disagreements.csv``: row, distance, why.
    """
    by_name = {name(row): row for row in rows}
    groups = {}
    for each in known:
        row = by_name[each["row"]]
        prop = row["property"]
        size = float(row["value"]) / 100 if prop in SHARES else 1.0
        off = (float(each["distance"]) / size, off_unit(prop, row["unit"]))
        mine = groups.setdefault((prop, row["fluid"]), {})
        mine.setdefault((row["source"], each["why"]), []).append(off)
    lines = []
    for (prop, fluid), mine in sorted(groups.items(), key=lambda pair: -_rows_of(pair[1])):
        lines += ["", f"{prop}, {fluid}: {_rows_of(mine)} rows"]
        for (source, why), offs in sorted(mine.items(), key=lambda pair: -len(pair[1])):
            off, unit = max(offs, key=lambda pair: abs(pair[0]))
            head = f"{len(offs):4d}  {source}, to {off:+.2g} {unit}".rstrip()
            lines += textwrap.wrap(f"{head}: {why}", 80, subsequent_indent=" " * 6)
    return "\n".join(lines[1:])


def _rows_of(group):
    return sum(map(len, group.values()))


#: Each source of a figure has a look of its own, told apart in grey too: colour and shape.
_LOOKS = (
    (charts.BLUE, "circle"),
    (charts.VERMILION, "square"),
    ("#009E73", "diamond"),
    ("#CC79A7", "triangle-up"),
    ("#E69F00", "cross"),
    ("#1a1a1a", "triangle-down"),
    ("#56B4E9", "triangle-right"),
    (charts.GREY, "stroke"),
)
_OTHERS = "other sources"
_OFF = "model less published"
#: Space above and below the farthest row. [-]
_ROOM = 1.15


def _is_middle(point):
    return point["over"] is not None and 40 <= point["x"] <= 60


def figure(rows, prop, fluid, title, *, temp_c="", pressure="", products=False, near_k=3.0):
    """Return published rows over the model with its band, and below how far each is off.

    Parameters
    ----------
    rows : list of dict
        As from `coolcalc.evidence.read_rows`.
    prop, fluid : str
        As for `compare`.
    title : str
        Of the vertical axis: quantity and unit.
    temp_c, pressure : str
        The condition of the figure, as a row says it; rows within `near_k` of the temperature, or
        within 1 kPa of the pressure, are shown.
    products : bool
        Show the printed charts of whole products too.
    near_k : float
        [K]

    Returns
    -------
    dict
        Vega-Lite specification.
    """
    tables = [compare(rows, prop, fluid)]
    if products:
        charts_of_products = compare(rows, prop, fluid, products=True)
        tables.append(charts_of_products.assign(source=charts_of_products["source"] + ", product"))
    points = [
        point
        for table in tables
        for point in table.dropna(subset=["off"]).to_dict("records")
        if (not temp_c or abs(point["temp_c"] - float(temp_c)) <= near_k)
        and (not pressure or abs(point["pressure_kpa"] - float(pressure.split()[0])) <= 1.0)
    ]
    share = prop in SHARES
    for point in points:
        point["off"] /= point["published"] / 100 if share else 1.0
    line = curve(prop, fluid, temp_c=temp_c, pressure=pressure, points=61)
    for each in line:
        each.update(_apart(each, share))
    at = f" at {temp_c} °C" if temp_c else f" at {pressure}" if pressure else ""
    unit = off_unit(prop, title.partition(", ")[2])
    scale = "log" if prop == "viscosity" else "linear"
    quantity = title.partition(", ")[0]
    spread = f" (rows within {near_k:g} K)" if temp_c else ""
    return _two_plots(points, line, f"{fluid}: {quantity}{at}{spread}", title, unit, scale)


def _apart(point, share):
    """Return band and CoolProp as distances of the model, None where there is no value."""
    value = point["value"]
    if value is None:
        return dict.fromkeys(("under", "zero", "over", "apart"))
    size = value / 100 if share else 1.0
    theirs = point["other"]
    return {
        # Distances are model less other, so the band turns over.
        "under": (value - point["high"]) / size,
        "zero": 0.0,
        "over": (value - point["low"]) / size,
        "apart": None if theirs is None else (value - theirs) / size,
    }


def _grouped(points):
    """Put the sources with fewest rows together where there are more than looks; return names."""
    counts = Counter(point["source"] for point in points)
    names = [name for name, _ in counts.most_common()]
    if len(names) > len(_LOOKS):
        names = [*names[: len(_LOOKS) - 1], _OTHERS]
        for point in points:
            if point["source"] not in names:
                point["source"] = _OTHERS
    return names


def _layers(line, points, curve_fields, point_field, x, y, looks):
    """Return the layers of one plot: band, model, CoolProp, and fitted and check rows."""
    low, middle, high, other = curve_fields
    marks = [
        ({"type": "area", "color": "#BBBBBB", "opacity": 0.5}, {"y": low, "y2": high}),
        ({"type": "line", "color": "#1a1a1a", "strokeWidth": 1.8}, {"y": middle}),
        ({"type": "line", "color": charts.GREY, "strokeDash": [6, 4]}, {"y": other}),
    ]
    layers = [
        {
            "data": {"values": line},
            "mark": {**mark, "aria": False, "clip": True},
            "encoding": {
                "x": x,
                "y": {**y, "field": fields["y"]},
                **({"y2": {"field": fields["y2"]}} if "y2" in fields else {}),
            },
        }
        for mark, fields in marks
    ]
    layers += [
        {
            "data": {"values": [point for point in points if point["role"] == role]},
            # Each point would be read out by itself: the description says what is seen.
            "mark": {
                "type": "point",
                "filled": filled,
                "size": 55,
                "opacity": 0.9,
                "aria": False,
            },
            "encoding": {"x": x, "y": {**y, "field": point_field}, **looks},
        }
        for role, filled in (("fit", True), ("check", False))
    ]
    return layers


def _two_plots(points, line, head, title, unit, scale):
    names = _grouped(points)
    line = [
        {key: each if each is None else float(f"{each:.6g}") for key, each in point.items()}
        for point in line
    ]
    shown = [
        {
            "x": round(point["mass_percent"], 2),
            "value": point["published"],
            "off": round(point["off"], 6),
            "source": point["source"],
            "role": point["role"],
        }
        for point in points
    ]
    x = {
        "field": "x",
        "type": "quantitative",
        "title": "glycol, mass %",
        "scale": {"domain": [0, 100], "nice": False},
    }
    upper = {
        "type": "quantitative",
        "title": title,
        "scale": {"type": scale, "zero": False, "nice": scale == "linear"},
    }
    lower = {"type": "quantitative", "title": ", ".join(filter(None, (_OFF, unit)))}
    looks = {
        channel: {
            "field": "source",
            "type": "nominal",
            "scale": {"domain": names, "range": [look[at] for look in _LOOKS[: len(names)]]},
            "legend": {"orient": "right", "title": None, "labelLimit": 180, "symbolOpacity": 1},
        }
        for at, channel in enumerate(("color", "shape"))
    }
    farthest = max((abs(point["off"]) for point in shown), default=0.0)
    # Where the band is wide on theory alone, what rows show would shrink to a line.
    reach = max(_ROOM * farthest, min((p["over"] for p in line if _is_middle(p)), default=0.0))
    lower["scale"] = {"domain": [-reach, reach], "nice": True}
    plots = (
        (260, ("low", "value", "high", "other"), "value", upper),
        (130, ("under", "zero", "over", "apart"), "off", lower),
    )
    return {
        "$schema": "https://vega.github.io/schema/vega-lite/v5.json",
        "description": (
            f"{head}: {len(shown)} published rows over the model with its band; below, "
            f"model less published, at most {farthest:.3g} {unit}".rstrip()
        ),
        "title": {
            "text": head,
            "subtitle": "line: model; grey: band; dashed: CoolProp; filled: fitted, open: check",
            "anchor": "start",
        },
        "config": {"font": charts.FONT, "axis": {"labelFontSize": 12, "titleFontSize": 13}},
        "vconcat": [
            {
                "width": 470,
                "height": height,
                "layer": _layers(line, shown, fields, field, x, y, looks),
            }
            for height, fields, field, y in plots
        ],
    }
