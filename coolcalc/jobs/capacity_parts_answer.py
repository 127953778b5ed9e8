"""The answer of `capacity_from_parts`: its figures."""

import dataclasses
import math
from typing import Any

from ..answers import Row
from ..instruments import Interval
from ..system import SideCircuit
from ..units import Q
from . import capacity_words
from .capacity_answer import CapacityAnswer


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class PartsCapacity(CapacityAnswer):
    """Capacity added up from parts.

    Attributes
    ----------
    parts : tuple of coolcalc.jobs.parts_table.Part
        The rows that count.
    bad : tuple of coolcalc.jobs.parts_table.BadRow
        The rows that do not, with reasons. While there are any, no capacity is told.
    """

    asked: dict
    parts: tuple
    bad: tuple
    unit_system: Any
    step: Any

    title = "Capacity from parts"

    @property
    def sum_m3(self):
        """Litres of the rows that count. [m3]."""
        return sum(part.volume_m3 for part in self.parts)

    @property
    def half_width_m3(self):
        """Give or take of that sum at 95 %. [m3]."""
        return math.hypot(*(part.half_width_m3 for part in self.parts))

    @property
    def known(self):
        """The capacity; None while a row is bad. [m3]."""
        if self.bad:
            return None
        half = self.half_width_m3
        return Interval(max(self.sum_m3 - half, 0.0), self.sum_m3, self.sum_m3 + half)

    @property
    def measure_better(self):
        """The part that most of the give or take comes from; None where all is exact."""
        most = max(self.parts, key=lambda part: part.half_width_m3, default=None)
        return most if most is not None and most.half_width_m3 > 0.0 else None

    @property
    def side_circuits(self):
        """The side circuits among the parts, as `CoolingSystem` takes them."""
        return tuple(
            SideCircuit(name=part.name, volume=Q(part.volume_m3, "m^3"))
            for part in self.parts
            if part.kind == "side circuit"
        )

    def system(self, **more):
        """Return the `CoolingSystem` of this capacity, with its side circuits."""
        return super().system(**({"side_circuits": self.side_circuits} | more))

    @property
    def causes(self):
        """What each part gives of the give or take, as name and part. [m3]."""
        return tuple((part.name, part.half_width_m3) for part in self.parts)

    @property
    def notes(self):
        """What to know before the steps: bad rows first."""
        return tuple(capacity_words.parts_notes(self))

    @property
    def steps(self):
        """How to check it, and what to measure better."""
        return tuple(capacity_words.parts_steps(self))

    @property
    def rows(self):
        """Each part, and the sum."""
        return tuple(Row(*each) for each in capacity_words.parts_rows(self))

    @property
    def assumptions(self):
        """What the sum takes for granted."""
        return tuple(capacity_words.parts_assumptions(self))

    @property
    def working_lines(self):
        """Each volume, to be checked by hand."""
        return tuple(capacity_words.parts_working(self))

    @property
    def odds_lines(self):
        """Where the give or take comes from."""
        return tuple(capacity_words.cause_lines(self))

    def shown_in(self, show_in):
        """Return the same job in another unit system."""
        from .capacity_from_parts import capacity_from_parts

        return capacity_from_parts(**self.asked, show_in=show_in)

    def columns(self):
        """Return the figures of `to_frame`, with the count of bad rows."""
        return super().columns() | {
            "sum of the good rows [L]": 1e3 * self.sum_m3,
            "bad rows": len(self.bad),
        }
