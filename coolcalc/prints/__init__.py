"""What is taken to the work on paper: job card, label by the filler cap, frost standard."""

from .card import card_html, card_pdf, save_card
from .label import label_html, label_pdf, save_label
from .standard_sheet import save_standard_sheet, standard_sheet_html, standard_sheet_pdf

__all__ = [
    "card_html",
    "card_pdf",
    "label_html",
    "label_pdf",
    "save_card",
    "save_label",
    "save_standard_sheet",
    "standard_sheet_html",
    "standard_sheet_pdf",
]
