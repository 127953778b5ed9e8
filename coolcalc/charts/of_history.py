"""A vehicle's readings over time."""

from ..errors import InputError
from .drawing import GREY, SCHEMA, by_name, config

#: Mass per cent of glycol left free above and below the readings of a history.
_ROOM = 5.0

#: More readings than these are not read out one by one.
_MOST_TOLD = 12


def history(history, width=520, height=300):
    """Strength of a vehicle's coolant over time, with a rule at each work.

    Parameters
    ----------
    history : coolcalc.record.History
    width, height : int
        Of the plot inside its axes. [px]

    Returns
    -------
    dict
        Vega-Lite specification.

    Raises
    ------
    InputError
        If there is no reading in it.
    """
    if not history.points:
        raise InputError(
            "history", history.vehicle, "there is no reading to draw; add one, or begin earlier."
        )
    points = [
        {
            "on": f"{point.on}",
            "strength": 100 * point.kept.frac_mass,
            "what": point.when,
            "words": f"freezes at {point.kept.freeze_words}",
            "stretch": point.stretch,
            "at": at,
        }
        for at, point in enumerate(history.points)
    ]
    names = [name for name in ("found", "after") if any(p["what"] == name for p in points)]
    works = [{"on": f"{on}", "text": "work"} for on in dict.fromkeys(history.works)]
    strengths = [point["strength"] for point in points]
    x = {
        "field": "on",
        "type": "temporal",
        "title": "date",
        # Days are not to move with the clock of whoever looks at them.
        "scale": {"type": "utc", "padding": 20},
        "axis": {"format": "%Y-%m-%d", "tickCount": 4, "labelOverlap": True},
    }
    y = {
        "field": "strength",
        "type": "quantitative",
        "title": "mass % of glycol",
        "axis": {"tickCount": 6},
        "scale": {
            "domain": [max(0.0, min(strengths) - _ROOM), min(100.0, max(strengths) + _ROOM)],
            "zero": False,
        },
    }
    return {
        "$schema": SCHEMA,
        "description": _history_words(history, points, works),
        "width": width,
        "height": height,
        "config": config(),
        "layer": [
            *(_work_layers(works, x) if works else ()),
            {
                "data": {"values": points},
                "mark": {"type": "line", "color": GREY, "strokeWidth": 1.5},
                "encoding": {
                    "x": x,
                    "y": y,
                    "detail": {"field": "stretch", "type": "nominal"},
                    "order": {"field": "at", "type": "quantitative"},
                },
            },
            {
                "data": {"values": points},
                "mark": {"type": "point", "filled": True, "size": 220, "opacity": 1},
                "encoding": {
                    "x": x,
                    "y": y,
                    "color": by_name(names, "color"),
                    "shape": by_name(names, "shape"),
                },
            },
            {
                "data": {"values": points[-1:]},
                "mark": {"type": "text", "align": "right", "dx": -12, "dy": -12, "fontSize": 14},
                "encoding": {"x": x, "y": y, "text": {"field": "words"}},
            },
        ],
    }


def _work_layers(works, x):
    """Return the layers of the works: a rule down, and its word."""
    return [
        {
            "data": {"values": works},
            "mark": {"type": "rule", "strokeDash": [7, 4], "color": GREY, "strokeWidth": 1.5},
            "encoding": {"x": x},
        },
        {
            "data": {"values": works},
            "mark": {"type": "text", "align": "left", "dx": 5, "dy": 10, "fontSize": 14},
            "encoding": {"x": x, "y": {"value": 0}, "text": {"field": "text"}},
        },
    ]


def _history_words(history, points, works):
    shown = points if len(points) <= _MOST_TOLD else [points[0], points[-1]]
    told = [f"{p['on']} {p['what']} {p['strength']:.0f} mass %, {p['words']}" for p in shown]
    if len(shown) < len(points):
        told.insert(1, f"{len(points) - 2} readings between")
    told += [f"work on {work['on']}" for work in works]
    return (
        f"Strength of {history.vehicle} over time: {'; '.join(told)}. {history.drift.sentences[0]}"
    )
