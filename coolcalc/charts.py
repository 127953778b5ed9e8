"""Figures as Vega-Lite specifications, and the SVG that pages and prints show.

A figure is data: a trainer can take it, change it, and show it live in JupyterLab.
"""

import numpy as np

from . import fluids, units
from .balance.composition import product_share_from_frac_mass
from .mixture import Mixture

#: Told apart in grey print and by colour-blind eyes: each with a shape of its own.
BLUE, VERMILION, GREY = "#0072B2", "#D55E00", "#595959"
_FONT = "DejaVu Sans, Verdana, Arial, sans-serif"


def mix_correction(job, width=520, height=300):
    """Freezing curve with the mix as found, as it becomes, and the target.

    Parameters
    ----------
    job : coolcalc.jobs.MixCorrection
    width, height : int
        Of the plot inside its axes. [px]

    Returns
    -------
    dict
        Vega-Lite specification.
    """
    unit = job.unit_system.temperature
    product = job.before.product
    si = product.si()

    def point(mixture, label):
        low, high = (units.to_display(edge.m, "temperature", unit) for edge in mixture.freeze_bound)
        return {
            "strength": 100 * mixture.strength().share,
            "temp": high,
            "low": low,
            "what": label,
        }

    def curve_of(fracs, side):
        shares = product_share_from_frac_mass(si, fracs)
        temps = fluids.freeze_temp_k(product.fluid, fracs)
        return [
            {
                "strength": 100 * float(share),
                "temp": units.to_display(temp, "temperature", unit),
                "side": side,
            }
            for share, temp in zip(shares, temps, strict=True)
        ]

    curve = curve_of(np.linspace(0.0, fluids.FRAC_MASS_SETTLED_MAX, 61), "water")
    wanted = Mixture(product=product, frac_mass=job.target_frac_mass)
    points = [point(job.before, "as found")]
    if job.blocked:
        points.append(point(job.reach, "within reach"))
    else:
        points.append(point(job.after, "afterwards"))
    target = {**point(wanted, "target"), "text": f"target, {job.target_words}"}
    names = [each["what"] for each in points]
    end = curve[-1]["strength"]
    right = max(100.0 if _beyond(points, end) else 72.0, end + 4)
    gap_end, melt_from = right, fluids.FLUIDS[product.fluid].melt_from
    if _beyond(points, end) and product.frac_mass > melt_from:
        glycol = curve_of(np.linspace(melt_from, product.frac_mass, 21), "glycol")
        gap_end = glycol[0]["strength"]
        curve += glycol
    x = {
        "field": "strength",
        "type": "quantitative",
        "title": f"% of {job.product_word}, as on the can",
        "axis": {"tickCount": 8},
        "scale": {"domain": [0, right], "nice": False},
    }
    y = {
        "field": "temp",
        "type": "quantitative",
        "title": f"freezing point, {unit}",
        "axis": {"tickCount": 6},
    }
    beyond = [{"from": end, "to": gap_end, "text": "not settled"}]
    return {
        "$schema": "https://vega.github.io/schema/vega-lite/v5.json",
        "description": (
            "Freezing point over strength: "
            + "; ".join(
                f"{p['what']} {p['strength']:.0f} %, {p['temp']:.0f} {unit}"
                for p in (*points, target)
            )
        ),
        "width": width,
        "height": height,
        "config": {
            "font": _FONT,
            "axis": {"labelFontSize": 14, "titleFontSize": 15},
            "legend": {"labelFontSize": 15, "symbolSize": 180},
        },
        "layer": [
            {
                "data": {"values": beyond},
                "mark": {"type": "rect", "color": "#BBBBBB", "opacity": 0.35},
                "encoding": {
                    "x": {"field": "from", "type": "quantitative"},
                    "x2": {"field": "to"},
                },
            },
            {
                "data": {"values": beyond},
                "mark": {"type": "text", "align": "right", "dx": -6, "dy": 12, "fontSize": 14},
                "encoding": {
                    "x": {"field": "to", "type": "quantitative"},
                    "y": {"value": 0},
                    "text": {"field": "text"},
                },
            },
            {
                "data": {"values": curve},
                "mark": {"type": "line", "color": GREY, "strokeWidth": 2.5},
                "encoding": {"x": x, "y": y, "detail": {"field": "side"}},
            },
            {
                "data": {"values": [target]},
                "mark": {"type": "rule", "strokeDash": [7, 4], "color": GREY, "strokeWidth": 1.5},
                "encoding": {"y": y},
            },
            {
                "data": {"values": [target]},
                "mark": {
                    "type": "text",
                    "align": "left",
                    "baseline": "top",
                    "dx": 6,
                    "dy": 5,
                    "fontSize": 15,
                },
                "encoding": {"x": {"value": 0}, "y": y, "text": {"field": "text"}},
            },
            {
                "data": {"values": points},
                "mark": {"type": "rule", "strokeWidth": 2},
                "encoding": {
                    "x": x,
                    "y": {"field": "low", "type": "quantitative"},
                    "y2": {"field": "temp"},
                    "color": _by_name(names, "color"),
                },
            },
            {
                "data": {"values": points},
                "mark": {"type": "point", "filled": True, "size": 220, "opacity": 1},
                "encoding": {
                    "x": x,
                    "y": y,
                    "color": _by_name(names, "color"),
                    "shape": _by_name(names, "shape"),
                },
            },
        ],
    }


def _beyond(points, end):
    # A point right of the settled curve needs the whole axis.
    return any(point["strength"] > end for point in points)


def _by_name(names, channel):
    ranges = {"color": [VERMILION, BLUE], "shape": ["circle", "square"]}
    return {
        "field": "what",
        "type": "nominal",
        "title": None,
        "scale": {"domain": names, "range": ranges[channel]},
        "legend": {"orient": "top", "title": None},
    }


#: Fill and outline of sources in turn; shapes differ too, for grey print. [-]
_SOURCE_COLOURS = (BLUE, VERMILION, "#009E73", "#CC79A7", "#E69F00", GREY)
_SOURCE_SHAPES = ("circle", "square", "diamond", "triangle-up", "cross", "triangle-down")


def sources_over_model(rows, curve, y_title, off_title, *, scale="linear", width=560, height=300):
    """Show published points over the model's curve and band, and below how far each is off.

    Parameters
    ----------
    rows : list of dict
        A published row each: "x", "value" (None where it is not on this curve, but of another
        temperature), "off" (model less published), "band" (half-width at the row) and "source".
    curve : list of dict
        "x", "value" (None where nothing is settled), "low", "high" along the model, and "other"
        (the second opinion; None where it gives none), as from `coolcalc.evidence.curve`.
    y_title, off_title : str
        Of the two vertical axes; both are over the mass per cent of glycol.
    scale : str
        Of the upper vertical axis: "linear" or "log".
    width, height : int
        Of the upper plot inside its axes; the lower one is half as high. [px]

    Returns
    -------
    dict
        Vega-Lite specification.
    """
    names = list(dict.fromkeys(row["source"] for row in rows))
    picks = range(len(names))
    # A colour that comes again comes with another shape.
    looks = {
        "color": [_SOURCE_COLOURS[i % len(_SOURCE_COLOURS)] for i in picks],
        "shape": [_SOURCE_SHAPES[(i + i // 6) % len(_SOURCE_SHAPES)] for i in picks],
    }
    by_source = {
        channel: {
            "field": "source",
            "type": "nominal",
            "title": None,
            "scale": {"domain": names, "range": choices},
            "legend": {"orient": "right", "title": None, "labelLimit": 240},
        }
        for channel, choices in looks.items()
    }
    x = {
        "field": "x",
        "type": "quantitative",
        "title": "glycol, mass %",
        "scale": {"domain": [0, 100], "nice": False},
    }
    plain = {"type": "quantitative", "scale": {"type": scale, "zero": False}}
    # Each point would be read out by itself: the description says what there is to see.
    points = {"type": "point", "filled": True, "size": 60, "opacity": 0.85, "aria": False}
    upper = [
        {
            "data": {"values": curve},
            "mark": {"type": "area", "color": "#BBBBBB", "opacity": 0.5},
            "encoding": {"x": x, "y": {"field": "low", **plain}, "y2": {"field": "high"}},
        },
        {
            "data": {"values": curve},
            "mark": {"type": "line", "color": "#1a1a1a", "strokeWidth": 2},
            "encoding": {"x": x, "y": {"field": "value", "title": y_title, **plain}},
        },
        {
            "data": {"values": [each for each in curve if each["other"] is not None]},
            "mark": {"type": "line", "color": GREY, "strokeDash": [6, 4]},
            "encoding": {"x": x, "y": {"field": "other", **plain}},
        },
        {
            "data": {"values": [row for row in rows if row["value"] is not None]},
            "mark": points,
            "encoding": {"x": x, "y": {"field": "value", **plain}, **by_source},
        },
    ]
    lower = [
        {
            "data": {"values": [{**row, "low": -row["band"]} for row in rows]},
            "mark": {
                "type": "rule",
                "color": "#999999",
                "strokeWidth": 5,
                "opacity": 0.25,
                "aria": False,
            },
            "encoding": {
                "x": x,
                "y": {"field": "low", "type": "quantitative"},
                "y2": {"field": "band"},
            },
        },
        {"mark": {"type": "rule", "color": "#1a1a1a"}, "encoding": {"y": {"datum": 0}}},
        {
            "data": {"values": rows},
            "mark": points,
            "encoding": {
                "x": x,
                "y": {"field": "off", "type": "quantitative", "title": off_title},
                **by_source,
            },
        },
    ]
    return {
        "$schema": "https://vega.github.io/schema/vega-lite/v5.json",
        "description": f"{y_title} over the mass per cent of glycol: {len(rows)} published rows of "
        f"{len(names)} sources, the model with its band, the second opinion dashed; below, "
        f"{off_title}",
        "config": {"font": _FONT, "axis": {"labelFontSize": 13, "titleFontSize": 14}},
        "vconcat": [
            {"width": width, "height": height, "layer": upper},
            {"width": width, "height": height // 2, "layer": lower},
        ],
    }


def to_svg(spec):
    """Render a specification to SVG text; the first call in a process takes about a second."""
    import vl_convert

    return vl_convert.vegalite_to_svg(spec)
