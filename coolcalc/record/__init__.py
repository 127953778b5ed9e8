"""The record of a workshop's vehicles: entries kept in one file, their history and drift."""

from .history import Drift, Entry, History
from .store import VehicleRecord

__all__ = ["Drift", "Entry", "History", "VehicleRecord"]
