"""A tank with its level over temperature, and the pressure of the air above it."""

from .. import units
from .drawing import BLUE, GREY, SCHEMA, VERMILION, config

#: Width of the drawn tank beside the curve, and space between. [px]
_TANK, _BETWEEN = 150, 24

#: How far above the highest, and below the lowest, the tank is drawn, as a share of that span.
_MARGIN = 0.14


def growth(job, width=520, height=280):
    """Draw the tank with its levels, the level over temperature, and the pressure.

    Parameters
    ----------
    job : coolcalc.jobs.Expansion
    width, height : int
        Of tank and curve together inside their axes. [px]

    Returns
    -------
    dict
        Vega-Lite specification. The pressure is left out where no air space is closed, or where
        none is left.
    """
    sheets = [_levels(job, width, height)]
    if job.closed is not None and job.verdict == "fits":
        sheets.append(_pressure(job, width, int(0.7 * height)))
    words = [next(note for note in job.notes if "the level rises by" in note)]
    if len(sheets) > 1:
        words.append(next(note for note in job.notes if note.startswith("If nothing is let out")))
    return {
        "$schema": SCHEMA,
        "description": " ".join(words),
        "config": config() | {"view": {"stroke": None}, "concat": {"spacing": 26}},
        "vconcat": sheets,
    }


def _litres(job, volume_m3):
    return units.to_display(volume_m3, "volume", job.unit_system.volume)


def _degrees(job, temps_k):
    unit = job.unit_system.temperature
    return [units.to_display(each, "temperature", unit) for each in temps_k]


def _domain(job):
    """Return the lowest and highest volume drawn, from the cold mark. [display unit]."""
    fall = 0.0 if job.fall is None else job.fall.high
    top = max(job.rise.high, job.room_m3 or 0.0)
    low, high = -max(fall, job.below_m3 or 0.0, 0.15 * top), top
    margin = _MARGIN * (high - low)
    return _litres(job, low - margin), _litres(job, high + margin)


def _levels(job, width, height):
    low, high = _domain(job)
    y = {
        "field": "level",
        "type": "quantitative",
        "scale": {"domain": [low, high], "nice": False, "zero": False},
    }
    unit = job.unit_system.volume
    curve_y = y | {"title": f"level above the cold mark, {unit}", "axis": {"tickCount": 6}}
    return {
        "hconcat": [_tank(job, y, (low, high), height), _curve(job, curve_y, width, height)],
        "spacing": _BETWEEN,
    }


def _marks(job):
    """Return the levels that are drawn: height, words, and whether it is a level or a mark."""
    hot = _litres(job, job.rise.value)
    marks = [{"level": 0.0, "text": "cold mark", "kind": "mark"}]
    if job.room_m3 is not None:
        name = "brim" if job.tank == "overflow bottle" else "cap"
        marks.append({"level": _litres(job, job.room_m3), "text": name, "kind": "mark"})
    if job.below_m3 is not None:
        marks.append({"level": _litres(job, -job.below_m3), "text": "draws air", "kind": "mark"})
    if job.room_m3 is None or job.rise.value <= job.room_m3:
        marks.append({"level": hot, "text": f"{job.temp_words(job.hot_k)}", "kind": "level"})
    if job.fall is not None:
        level = _litres(job, -job.fall.value)
        marks.append({"level": level, "text": f"{job.temp_words(job.coldest_k)}", "kind": "level"})
    return marks


def _tank(job, y, domain, height):
    low, high = domain
    room = high if job.room_m3 is None else _litres(job, job.room_m3)
    hot = min(_litres(job, job.rise.value), room)
    x = {"field": "left", "type": "quantitative", "axis": None, "scale": {"domain": [0, 1]}}
    x2 = {"field": "right"}
    y_none = y | {"axis": None}

    def block(bottom, top, mark):
        return {
            "data": {"values": [{"left": 0.0, "right": 1.0, "level": bottom, "top": top}]},
            "mark": {"type": "rect"} | mark,
            "encoding": {"x": x, "x2": x2, "y": y_none, "y2": {"field": "top"}},
        }

    marks = _marks(job)
    rules = [{"left": 0.0, "right": 1.0} | mark for mark in marks]
    layers = [
        block(low, 0.0, {"color": BLUE, "opacity": 0.45}),
        block(0.0, hot, {"color": VERMILION, "opacity": 0.35}),
        block(low, room, {"filled": False, "stroke": GREY, "strokeWidth": 3}),
        {
            "data": {"values": rules},
            "mark": {"type": "rule", "strokeWidth": 2},
            "encoding": {
                "x": x,
                "x2": x2,
                "y": y_none,
                "strokeDash": {
                    "field": "kind",
                    "scale": {"domain": ["mark", "level"], "range": [[1, 0], [5, 4]]},
                    "legend": None,
                },
            },
        },
        {
            "data": {"values": rules},
            "mark": {"type": "text", "align": "left", "dx": 6, "dy": -8, "fontSize": 13},
            "encoding": {"x": x, "y": y_none, "text": {"field": "text"}},
        },
    ]
    if job.room_m3 is not None and job.rise.value > job.room_m3:
        over = job.volume_words(job.overflow_m3.value)
        layers.append(
            {
                "data": {"values": [{"left": 1.0, "level": room, "text": f"{over} out"}]},
                "mark": {
                    "type": "text",
                    "align": "right",
                    "dx": -6,
                    "dy": -9,
                    "fontSize": 13,
                    "fontWeight": "bold",
                },
                "encoding": {"x": x, "y": y_none, "text": {"field": "text"}},
            }
        )
    return {"width": _TANK, "height": height, "layer": layers}


def _temperature(job):
    return {
        "field": "temp",
        "type": "quantitative",
        "title": f"coolant, {job.unit_system.temperature}",
        "axis": {"tickCount": 6},
        "scale": {"zero": False, "nice": False},
    }


def _curve(job, y, width, height):
    temps_k, spans = job.level_curve
    points = [
        {
            "temp": temp,
            "level": _litres(job, span.value),
            "low": _litres(job, span.low),
            "high": _litres(job, span.high),
        }
        for temp, span in zip(_degrees(job, temps_k), spans, strict=True)
    ]
    x = _temperature(job)
    rules = [mark for mark in _marks(job) if mark["kind"] == "mark"]
    return {
        "width": width - _TANK - _BETWEEN,
        "height": height,
        "layer": [
            {
                "data": {"values": points},
                "mark": {"type": "area", "color": VERMILION, "opacity": 0.25},
                "encoding": {"x": x, "y": y | {"field": "low"}, "y2": {"field": "high"}},
            },
            {
                "data": {"values": points},
                "mark": {"type": "line", "color": VERMILION, "strokeWidth": 2.5},
                "encoding": {"x": x, "y": y},
            },
            {
                "data": {"values": rules},
                "mark": {"type": "rule", "color": GREY, "strokeDash": [7, 4], "strokeWidth": 1.5},
                "encoding": {"y": y},
            },
        ],
    }


def _pressure(job, width, height):
    unit = job.unit_system.gauge_pressure
    temps_k, ends = job.pressure_curve
    temps = _degrees(job, temps_k)
    names = ("coolest gas", "hottest gas")
    cap = units.to_display(job.cap_pa, "gauge pressure", unit)
    shown = [[units.to_display(each, "gauge pressure", unit) for each in end] for end in ends]
    points = [
        {"temp": temp, "pressure": each, "what": name}
        for name, line in zip(names, shown, strict=True)
        for temp, each in zip(temps, line, strict=True)
    ]
    between = [
        {"temp": temp, "low": low, "high": high}
        for temp, low, high in zip(temps, *shown, strict=True)
    ]
    x = _temperature(job)
    y = {
        "field": "pressure",
        "type": "quantitative",
        "title": f"pressure, {unit}",
        "axis": {"tickCount": 5},
        # Far above the cap there is nothing to read off.
        "scale": {"domain": [0, min(max(shown[1]), 3.0 * cap)], "nice": True},
    }
    by_name = {"field": "what", "type": "nominal"}
    ends_named = [
        {"temp": temps[-1], "pressure": min(line[-1], 3.0 * cap), "text": name}
        for name, line in zip(names, shown, strict=True)
    ]
    caps = [{"pressure": cap, "text": f"cap, marked {job.pressure_words(job.cap_pa)}"}]
    return {
        "width": width,
        "height": height,
        "layer": [
            {
                "data": {"values": between},
                "mark": {"type": "area", "color": GREY, "opacity": 0.15, "clip": True},
                "encoding": {"x": x, "y": y | {"field": "low"}, "y2": {"field": "high"}},
            },
            {
                "data": {"values": points},
                "mark": {"type": "line", "strokeWidth": 2.5, "clip": True},
                "encoding": {
                    "x": x,
                    "y": y,
                    "color": by_name
                    | {"scale": {"domain": names, "range": [BLUE, VERMILION]}, "legend": None},
                    "strokeDash": by_name
                    | {"scale": {"domain": names, "range": [[1, 0], [6, 3]]}, "legend": None},
                },
            },
            {
                "data": {"values": ends_named},
                "mark": {"type": "text", "align": "right", "dx": -14, "dy": -6, "fontSize": 14},
                "encoding": {"x": x, "y": y, "text": {"field": "text"}},
            },
            {
                "data": {"values": caps},
                "mark": {"type": "rule", "color": GREY, "strokeWidth": 2, "strokeDash": [2, 3]},
                "encoding": {"y": y},
            },
            {
                "data": {"values": caps},
                "mark": {"type": "text", "align": "left", "dx": 6, "dy": -8, "fontSize": 14},
                "encoding": {"x": {"value": 0}, "y": y, "text": {"field": "text"}},
            },
        ],
    }
