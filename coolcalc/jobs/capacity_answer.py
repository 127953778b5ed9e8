"""What every answer about a capacity gives, and the answer of `capacity_from_fill`."""

import dataclasses
import math
from typing import Any

from .. import cautions, units
from ..answers import Row
from ..instruments import Interval
from ..system import CoolingSystem
from ..units import Q
from . import capacity_words
from .mix_plan import EQUAL
from .printed import Printed


class CapacityAnswer(Printed):
    """An answer that tells how much a system holds, full to the cold mark.

    Attributes
    ----------
    asked : dict
        What the job was asked with.
    known : coolcalc.instruments.Interval or None
        None where nothing can be told. [m3]
    """

    asked: dict
    known: Any

    #: Lines of the job card to write on.
    card_blanks = (
        ("System", "Measured on"),
        ("Capacity written down", "By"),
        ("Signature",),
    )

    @property
    def capacity(self):
        """The likeliest capacity, as printed, as a quantity; None where nothing can be told."""
        return None if self.known is None else self.volume_quantity(self.known.value)

    @property
    def capacity_error(self):
        """Its give or take at 95 %, the wider side, rounded up as printed; None likewise."""
        if self.known is None:
            return None
        low, value, high = self.known
        unit, digits = self.unit_system.volume, self.step.decimals
        shown = units.to_display(max(value - low, high - value), "volume", unit)
        rounded = math.ceil(shown * 10**digits - EQUAL) / 10**digits
        return Q(rounded, units.KINDS["volume"].units[unit].pint)

    @property
    def interval(self):
        """Least, likeliest and most, as quantities; None where nothing can be told."""
        return None if self.known is None else Interval(*(Q(each, "m^3") for each in self.known))

    def system(self, **more):
        """Return the `CoolingSystem` of this capacity; ``more`` as it takes it.

        Raises
        ------
        InputError
            Where nothing can be told, or so little that no job can go by it.
        """
        capacity_words.refuse_unknown(self)
        told = {"capacity": self.capacity, "capacity_error": self.capacity_error}
        return CoolingSystem(**(told | more))

    @property
    def span_words(self):
        """The capacity with its span, as printed."""
        return capacity_words.span_words(self)

    # -- words -----------------------------------------------------------------------------

    @property
    def cautions(self):
        """What must be printed with the steps: which glycol is inside was not told."""
        return cautions.for_work_on_coolant("ethylene glycol")

    @property
    def source_keys(self):
        """Keys of the sources of the figures: none, where all was measured."""
        return ()

    def columns(self):
        """Return the figures of `to_frame`."""
        known = self.known or (None,) * 3
        return {
            f"capacity, {name} [L]": None if each is None else 1e3 * each
            for name, each in zip(("least", "likeliest", "most"), known, strict=True)
        }


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class FilledCapacity(CapacityAnswer):
    """Capacity by a measured fill.

    Attributes
    ----------
    poured_m3 : tuple of float
        Each measure, in order. [m3]
    topped_up_m3, still_inside_m3, still_inside_error_m3 : float
        [m3]
    jug_error : float
        Share by which the measuring can is out, the same for all. [-]
    each_error_m3 : float
        Give or take of reading one measure. [m3]
    """

    asked: dict
    poured_m3: tuple
    topped_up_m3: float
    still_inside_m3: float
    still_inside_error_m3: float
    jug_error: float
    each_error_m3: float
    unit_system: Any
    step: Any

    title = "Capacity by a measured fill"

    @property
    def measured_m3(self):
        """All that was measured in. [m3]."""
        return sum(self.poured_m3) + self.topped_up_m3

    @property
    def known(self):
        """The capacity: errors add in squares. [m3]."""
        value = self.measured_m3 + self.still_inside_m3
        half = math.hypot(*(part for _, part in self.causes))
        return Interval(max(value - half, 0.0), value, value + half)

    @property
    def causes(self):
        """What each error gives of the give or take, as name and part. [m3]."""
        measures = len(self.poured_m3) + (self.topped_up_m3 > 0.0)
        return (
            ("the measuring can", self.jug_error * self.measured_m3),
            ("reading each measure", self.each_error_m3 * measures**0.5),
            ("what was still inside", self.still_inside_error_m3),
        )

    @property
    def notes(self):
        """What to know before the steps."""
        return tuple(capacity_words.fill_notes(self))

    @property
    def steps(self):
        """What to do with the figure, and how to make it better."""
        return tuple(capacity_words.fill_steps(self))

    @property
    def rows(self):
        """The figures."""
        return tuple(Row(*each) for each in capacity_words.fill_rows(self))

    @property
    def assumptions(self):
        """What the figure takes for granted."""
        return tuple(capacity_words.fill_assumptions(self))

    @property
    def working_lines(self):
        """The sum."""
        return tuple(capacity_words.fill_working(self))

    @property
    def odds_lines(self):
        """Where the give or take comes from."""
        return tuple(capacity_words.cause_lines(self))

    def shown_in(self, show_in):
        """Return the same job in another unit system."""
        from .capacity_from_fill import capacity_from_fill

        return capacity_from_fill(**self.asked, show_in=show_in)
