"""Where a frost standard lies: floor, frost and ceiling over the freezing curve."""

import numpy as np

from .. import fluids, units
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..jobs.frost_plan import of_share, share_of
from ..jobs.frost_words import bound_words
from .drawing import BLUE, GREY, SCHEMA, VERMILION, config

#: Strongest that the axis of strength shows, of a concentrate. [-]
AXIS = 0.70
_POINTS = 71

#: Colder than this the curve leaves room for words on the left, warmer on the right. [K]
_LEFT_K = 255.0

#: Height of a row. [px]
_ROW = 27


def frost_share(job):
    """Share of product that the frost asks for, to fill to; None where none up to 60 mass % does.

    Without floor, ceiling and rounding.
    """
    fluid, need_k = job.product.fluid, job.standard.fill_need_k
    if need_k < fluids.freeze_temp_k(fluid, FRAC_MASS_SETTLED_MAX):
        return None
    warm_k = float(fluids.freeze_temp_k(fluid, 0.0))
    frac_mass = float(fluids.frac_mass_from_freeze_temp_k(fluid, min(need_k, warm_k)))
    return share_of(job.needs, frac_mass)


def axis_end(job):
    """Share of product at which the axis of strength ends. [-]."""
    most = max(
        share_of(job.needs, each)
        for each in (job.needs.ceiling.counted, job.standard.strongest, job.standard.fill)
    )
    return AXIS if most <= AXIS - 0.05 else 1.0


def window_chart(job, width=520, height=260):
    """Draw what decides the strength: floor, frost and ceiling over the freezing curve.

    Parameters
    ----------
    job : coolcalc.jobs.frost_answer.FrostStandard
    width, height : int
        Of the curve inside its axes. [px]

    Returns
    -------
    dict
        Vega-Lite specification.
    """
    end = 100.0 * axis_end(job)
    x = {
        "field": "share",
        "type": "quantitative",
        "title": f"strength, % of {job.product_word}",
        "scale": {"domain": [0.0, end], "nice": False},
        "axis": {"tickCount": 8, "grid": True},
    }
    rows = window_rows(job, end)
    told = "; ".join(f"{row['row']} {row['said']}" for row in rows)
    decides = {"frost": "The frost", "floor": "The floor", "ceiling": "The ceiling"}[job.decides]
    return {
        "$schema": SCHEMA,
        "description": f"{decides} decides. {told}.",
        "config": config() | {"concat": {"spacing": 8}, "axisY": {"labelFontSize": 14}},
        "vconcat": [_bars(rows, x, width), _curve(job, x, width, height)],
    }


def window_rows(job, end):
    """Rows above the curve: each a stretch of strengths, or the one to fill to. [%].

    Parameters
    ----------
    job : coolcalc.jobs.frost_answer.FrostStandard
    end : float
        End of the axis.

    Returns
    -------
    list of dict
        Name of the row, its kind, strengths where it begins ("share"; None where there is none) and
        ends ("to"), words at both ends, and what it says.
    """
    standard, needs = job.standard, job.needs
    fill, weakest, strongest, least, most = (
        100.0 * share_of(needs, each)
        for each in (
            standard.fill,
            standard.weakest,
            standard.strongest,
            needs.floor.counted,
            needs.ceiling.counted,
        )
    )
    frost = frost_share(job)
    need = job.temp_words(standard.fill_need_k, 1)
    frost_row = (
        {
            "share": None,
            "to": end,
            "none": "no strength is enough",
            "said": "more than any mix gives",
        }
        if frost is None
        else {
            "share": 100.0 * frost,
            # Beyond it no gain can be counted on.
            "to": 100.0 * share_of(job.needs, FRAC_MASS_SETTLED_MAX),
            "left": f"{100.0 * frost:.0f} %",
            "right": "",
            "said": f"{100.0 * frost:.0f} %, for {need}",
        }
    )
    floor_words, ceiling_words = (bound_words(job, each) for each in (needs.floor, needs.ceiling))
    return [
        {
            "row": "floor to ceiling",
            "kind": "bounds",
            "share": least,
            "to": most,
            "left": f"{least:.0f} %",
            "right": f"{most:.0f} %",
            "said": f"{floor_words} to {ceiling_words}",
        },
        {"row": "the frost asks for", "kind": "frost"} | frost_row,
        {
            "row": "leave what reads",
            "kind": "leave",
            "share": weakest,
            "to": strongest,
            "left": job.correct_below,
            "right": job.correct_above,
            "said": f"{job.correct_below} to {job.correct_above}",
        },
        {
            "row": "fill to",
            "kind": "fill",
            "share": fill,
            "to": fill,
            "left": "",
            "right": f"{fill:.0f} %, the {job.decides} decides",
            "said": f"{fill:.0f} %",
        },
    ]


def _bars(rows, x, width):
    x = x | {"axis": None}
    y = {
        "field": "row",
        "type": "nominal",
        "title": None,
        "sort": None,
        "scale": {"domain": [row["row"] for row in rows]},
        "axis": {"ticks": False, "domain": False, "labelFontSize": 14},
    }
    text = {"type": "text", "fontSize": 14, "clip": False}
    stretches, (fill,) = rows[:-1], rows[-1:]
    kinds = {"bounds": "#d9d9d9", "frost": "#8fc1e3", "leave": BLUE}
    ends = [
        {
            "data": {"values": [row for row in stretches if row.get(side)]},
            "mark": text | {"align": align, "dx": dx},
            "encoding": {"x": x | {"field": field}, "y": y, "text": {"field": side}},
        }
        for side, align, dx, field in (
            ("left", "right", -6, "share"),
            ("right", "left", 6, "to"),
            ("none", "right", 0, "to"),
        )
    ]
    return {
        "width": width,
        "height": _ROW * len(rows),
        "view": {"stroke": None},
        "layer": [
            {
                "data": {"values": [row for row in stretches if row["share"] is not None]},
                "mark": {"type": "bar", "height": 13, "stroke": GREY, "strokeWidth": 1},
                "encoding": {
                    "x": x,
                    "x2": {"field": "to"},
                    "y": y,
                    "fill": {
                        "field": "kind",
                        "type": "nominal",
                        "scale": {"domain": list(kinds), "range": list(kinds.values())},
                        "legend": None,
                    },
                },
            },
            *ends,
            {
                "data": {"values": [fill]},
                "mark": {
                    "type": "point",
                    "shape": "diamond",
                    "filled": True,
                    "size": 230,
                    "color": VERMILION,
                    "opacity": 1,
                },
                "encoding": {"x": x, "y": y},
            },
            {
                "data": {"values": [fill]},
                "mark": text | _beside(fill["share"], x) | {"fontWeight": "bold"},
                "encoding": {"x": x, "y": y, "text": {"field": "right"}},
            },
        ],
    }


def _beside(share, x):
    """Words of the fill go to where there is room."""
    end = x["scale"]["domain"][1]
    return {"align": "right", "dx": -12} if share > 0.55 * end else {"align": "left", "dx": 12}


def _curve(job, x, width, height):
    unit, fluid = job.unit_system.temperature, job.product.fluid

    def degrees(temp_k):
        return units.to_display(float(temp_k), "temperature", unit)

    end = min(x["scale"]["domain"][1] / 100.0, 1.0)
    shares = np.linspace(0.0, end, _POINTS)
    strengths = np.array([of_share(job.needs, float(each)) for each in shares])
    line = []
    for share, frac_mass in zip(shares, strengths, strict=True):
        if frac_mass <= FRAC_MASS_SETTLED_MAX:
            low, high, _ = fluids.band("freeze_temp_k", fluid, frac_mass)
            line.append(
                {
                    "share": 100.0 * float(share),
                    "temp": degrees(fluids.freeze_temp_k(fluid, frac_mass)),
                    "low": degrees(low),
                    "high": degrees(high),
                }
            )
    standard = job.standard
    coldest = min(degrees(standard.fill_need_k), degrees(standard.air_k), line[-1]["low"])
    warmest = line[0]["temp"]
    y = {
        "field": "temp",
        "type": "quantitative",
        "title": f"freezing point, {unit}",
        "axis": {"tickCount": 6},
        "scale": {
            "domain": [coldest - 0.06 * (warmest - coldest), warmest],
            "nice": False,
            "zero": False,
        },
    }
    levels = [
        {
            "temp": degrees(temp_k),
            "text": f"{words} {job.temp_words(temp_k, 1)}",
            "kind": kind,
            "right": temp_k > _LEFT_K,
        }
        for temp_k, words, kind in (
            (standard.air_k, "coldest air counted on", "air"),
            (standard.fill_need_k, "the frost asks for", "frost"),
        )
    ]
    sides = [
        {"share": 100.0 * share_of(job.needs, frac_mass), "kind": kind}
        for frac_mass, kind in (
            (job.needs.floor.counted, "bound"),
            (job.needs.ceiling.counted, "bound"),
            (standard.weakest, "limit"),
            (standard.strongest, "limit"),
        )
    ]
    fill = [
        {
            "share": 100.0 * share_of(job.needs, standard.fill),
            "temp": degrees(fluids.freeze_temp_k(fluid, standard.fill)),
        }
    ]
    styles = {
        "bound": (GREY, [2, 3]),
        "limit": (BLUE, [1, 0]),
        "air": (GREY, [7, 4]),
        "frost": (VERMILION, [7, 4]),
    }

    def by_kind(at, kinds):
        return {
            "field": "kind",
            "type": "nominal",
            "scale": {"domain": list(kinds), "range": [styles[kind][at] for kind in kinds]},
            "legend": None,
        }

    def rules(values, channel, kinds):
        return {
            "data": {"values": values},
            "mark": {"type": "rule", "strokeWidth": 1.8},
            "encoding": channel | {"color": by_kind(0, kinds), "strokeDash": by_kind(1, kinds)},
        }

    return {
        "width": width,
        "height": height,
        "resolve": {"scale": {"color": "independent", "strokeDash": "independent"}},
        "layer": [
            rules(sides, {"x": x}, ("bound", "limit")),
            rules(levels, {"y": y}, ("air", "frost")),
            {
                "data": {"values": line},
                "mark": {"type": "area", "color": GREY, "opacity": 0.35},
                "encoding": {"x": x, "y": y | {"field": "low"}, "y2": {"field": "high"}},
            },
            {
                "data": {"values": line},
                "mark": {"type": "line", "color": "#000000", "strokeWidth": 2.5},
                "encoding": {"x": x, "y": y},
            },
            {
                "data": {"values": fill},
                "mark": {
                    "type": "point",
                    "shape": "diamond",
                    "filled": True,
                    "size": 230,
                    "color": VERMILION,
                    "opacity": 1,
                },
                "encoding": {"x": x, "y": y},
            },
            *(
                _level_words(level, y, width, behind)
                for level in levels
                for behind in (True, False)
            ),
        ],
    }


def _level_words(level, y, width, behind):
    """Words at a level: white and wide behind themselves, since lines cross them."""
    right = level["right"]
    stroke = {"stroke": "#ffffff", "strokeWidth": 5, "opacity": 0.8} if behind else {}
    return {
        "data": {"values": [level]},
        "mark": {
            "type": "text",
            "align": "right" if right else "left",
            "dx": -6 if right else 6,
            # The warmer of two levels has its words above it: they may be near.
            "dy": -9 if level["kind"] == "air" else 10,
            "fontSize": 14,
        }
        | stroke,
        "encoding": {
            "x": {"value": width if right else 0},
            "y": y,
            "text": {"field": "text"},
        },
    }
