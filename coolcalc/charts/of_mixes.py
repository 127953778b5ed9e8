"""The freezing curve with the mixes of an answer on it."""

import numpy as np

from .. import fluids, units
from ..balance.composition import product_share_from_frac_mass
from .drawing import GREY, SCHEMA, by_name, config


def mixes(job, width=520, height=300):
    """Freezing curve with the mixes of an answer on it, and the target.

    Parameters
    ----------
    job : coolcalc.answers.Answer
        With ``chart_points`` (label and Mixture of each), ``chart_target`` (Mixture and words, or
        None), ``unit_system`` and ``product_word``.
    width, height : int
        Of the plot inside its axes. [px]

    Returns
    -------
    dict
        Vega-Lite specification.
    """
    unit = job.unit_system.temperature
    product = job.chart_points[0][1].product
    si = product.si()

    def point(label, mixture):
        """Return where a mix stands; stronger than 60 mass % it is a span, not a point."""
        known = mixture.frac_mass <= fluids.FRAC_MASS_SETTLED_MAX
        ends = (mixture.freeze_temp,) * 2 if known else mixture.freeze_band
        low, high = (units.to_display(end.m, "temperature", unit) for end in ends)
        return {
            "strength": 100 * mixture.strength().share,
            "temp": high,
            "low": low,
            "what": label,
            "words": f"{high:.0f} {unit}" if known else f"{low:.0f} to {high:.0f} {unit}",
            "known": known,
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
    points = [point(*each) for each in job.chart_points]
    targets = []
    if job.chart_target is not None:
        wanted, words = job.chart_target
        targets = [{**point("target", wanted), "text": f"target, {words}"}]
    names = [each["what"] for each in points]
    end = curve[-1]["strength"]
    right = max(100.0 if _beyond(points, end) else 72.0, end + 4)
    melt_from = fluids.FLUIDS[product.fluid].melt_from
    if _beyond(points, end) and product.frac_mass > melt_from:
        curve += curve_of(np.linspace(melt_from, product.frac_mass, 21), "glycol")
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
    beyond = [{"from": end, "to": right, "text": "nothing to count on"}]
    return {
        "$schema": SCHEMA,
        "description": (
            "Freezing point over strength: "
            + "; ".join(
                f"{p['what']} {p['strength']:.0f} %, {p['words']}" for p in (*points, *targets)
            )
        ),
        "width": width,
        "height": height,
        "config": config(),
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
                "encoding": {
                    "x": x,
                    "y": y,
                    "strokeDash": {
                        "field": "side",
                        "scale": {"domain": ["water", "glycol"], "range": [[1, 0], [3, 4]]},
                        "legend": None,
                    },
                },
            },
            *(_target_layers(targets, y) if targets else ()),
            *_marks(points, x, y, names),
        ],
    }


def _target_layers(targets, y):
    """Return the layers of the target: a line across, and its words."""
    return [
        {
            "data": {"values": targets},
            "mark": {"type": "rule", "strokeDash": [7, 4], "color": GREY, "strokeWidth": 1.5},
            "encoding": {"y": y},
        },
        {
            "data": {"values": targets},
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
    ]


def _marks(points, x, y, names):
    """Return the layers of the mixes: points, and spans where there is nothing to count on.

    A layer without a mark has no name for a reader of the screen, so it is left out.
    """
    spans = [point for point in points if not point["known"]]
    known = [point for point in points if point["known"]]
    layers = [
        (
            spans,
            {"type": "rule", "strokeWidth": 7, "strokeCap": "round"},
            {"y": {"field": "low", "type": "quantitative"}, "y2": {"field": "temp"}},
        ),
        (
            known,
            {"type": "point", "filled": True, "size": 220, "opacity": 1},
            {"y": y, "shape": by_name(names, "shape")},
        ),
    ]
    return [
        {
            "data": {"values": values},
            "mark": mark,
            "encoding": {"x": x, "color": by_name(names, "color"), **encoding},
        }
        for values, mark, encoding in layers
        if values
    ]


def _beyond(points, end):
    # A point right of the settled curve needs the whole axis.
    return any(point["strength"] > end for point in points)
