"""What is taken to the work on paper: the job card."""

from ..answers import Answer
from .card import card_html, card_pdf, save_card

Answer.card_writer = staticmethod(save_card)

__all__ = ["card_html", "card_pdf", "save_card"]
