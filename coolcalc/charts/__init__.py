"""Figures as Vega-Lite specifications, and the SVG that pages and prints show.

A figure is data: a trainer can take it, change it, and show it live in JupyterLab.
"""

from .drawing import BLUE, FONT, GREY, VERMILION, to_image, to_png, to_svg
from .of_boiling import boiling
from .of_frost import margins_chart
from .of_growth import growth
from .of_history import history
from .of_mixes import mixes
from .of_window import window_chart
from .of_winters import winters_chart, winters_in_time_chart

__all__ = [
    "BLUE",
    "FONT",
    "GREY",
    "VERMILION",
    "boiling",
    "growth",
    "history",
    "margins_chart",
    "mixes",
    "to_image",
    "to_png",
    "to_svg",
    "window_chart",
    "winters_chart",
    "winters_in_time_chart",
]
