"""What is taken to the work on paper: the job card."""

from .card import card_html, card_pdf, save_card

__all__ = ["card_html", "card_pdf", "save_card"]
