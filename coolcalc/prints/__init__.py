"""What is taken to the work on paper: the job card, and the label by the filler cap."""

from .card import card_html, card_pdf, save_card
from .label import label_html, label_pdf, save_label

__all__ = ["card_html", "card_pdf", "label_html", "label_pdf", "save_card", "save_label"]
