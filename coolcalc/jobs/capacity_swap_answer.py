"""The answer of `capacity_from_swap`: its figures."""

import dataclasses
import functools
import math
from typing import Any

from .. import cautions
from ..answers import Row
from ..balance import capacity as kernel
from ..fluids.density import SOURCES as DENSITY_SOURCES
from ..fluids.freezing import SOURCES as FREEZE_SOURCES
from ..instruments import Reading
from ..product import WATER
from . import capacity_swap_words
from .capacity_answer import CapacityAnswer
from .mix_plan import EQUAL

#: What a radiator's cock lets out of a system, at the most. Common practice, no source. [-]
DRAIN_SHARE = 0.6


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class SwapCapacity(CapacityAnswer):
    """Capacity that a swap tells.

    Attributes
    ----------
    found, read_after : Reading, Strength or Mixture
        Both readings, as they were told.
    before, after : Mixture
        What they mean.
    same_instrument : bool
        Whether both readings share an instrument's offset.
    product : Product
        What was poured.
    swap : coolcalc.balance.capacity.Swap
        What the kernel was given.
    swapped_m3 : float
        [m3]
    likeliest_m3 : float or None
        What the readings say as they stand, whether it can be told or not. [m3]
    change_sd : float
        Change of the readings, in standard deviations of their difference. [-]
    wanted : float
        Half of the span over the capacity that would do. [-]
    reckoned_m3 : float or None
        Capacity that the next swap is reckoned with: as told by this one, or about. [m3]
    drainable_m3 : float or None
        What comes out in one drain. [m3]
    """

    asked: dict
    found: Any
    read_after: Any
    before: Any
    after: Any
    same_instrument: bool
    product: Any
    swap: Any
    swapped_m3: float
    known: Any
    likeliest_m3: float | None
    change_sd: float
    wanted: float
    reckoned_m3: float | None
    drainable_m3: float | None
    unit_system: Any
    step: Any

    title = "Capacity by a swap"

    @property
    def has_errors(self):
        """Whether any error of the readings or the litres was told."""
        swap = self.swap
        told = (swap.offset, swap.repeat_before, swap.repeat_after, swap.swapped_error_m3)
        return any(float(each[0]) > 0.0 for each in told)

    @property
    def too_little(self):
        """Whether the change is lost in the errors, so that no capacity is told."""
        return self.known is None

    @property
    def precision(self):
        """Half of the span over the capacity; None where none is told. [-]."""
        if self.known is None:
            return None
        return (self.known.high - self.known.low) / (2.0 * self.known.value)

    @property
    def good_enough(self):
        """Whether it is as precise as was wanted."""
        return self.precision is not None and self.precision <= min(self.wanted, kernel.ROUGH)

    @property
    def most_share(self):
        """Share of the capacity that one drain lets out. [-]."""
        if self.drainable_m3 is None or self.reckoned_m3 is None:
            return DRAIN_SHARE
        return min(self.drainable_m3 / self.reckoned_m3, 1.0)

    @functools.cached_property
    def _next(self):
        return kernel.swap_for(self.swap, self.wanted, self.most_share)

    @property
    def next_share(self):
        """Share of the capacity to swap, from the first mix on, for what is wanted. [-].

        None where no swap of this product does.
        """
        share = self._next[0]
        return None if math.isnan(share) else share

    @functools.cached_property
    def water_share(self):
        """Share of the capacity that a swap for water would take for the same. [-].

        None where no such swap does, or water is what was poured.
        """
        if self.product.is_water:
            return None
        water = self.swap._replace(product=WATER.si(self.before.fluid))
        share = kernel.swap_for(water, self.wanted, self.most_share)[0]
        return None if math.isnan(share) else share

    @property
    def advised(self):
        """Share of the capacity to swap and product to pour that give what is wanted, or None.

        The product that was poured; water where no swap of that one does.
        """
        if not self.has_errors:
            return None
        if self.next_share is not None:
            return self.next_share, self.product
        return None if self.water_share is None else (self.water_share, WATER)

    @property
    def next_swap(self):
        """Litres of the swap that is advised, in whole measuring steps, as a quantity.

        None without it, or without a capacity to reckon with.
        """
        if self.advised is None or self.reckoned_m3 is None:
            return None
        steps = math.ceil(self.advised[0] * self.reckoned_m3 / self.step.m3 - EQUAL)
        return self.volume_quantity(steps * self.step.m3)

    @property
    def best_precision(self):
        """Half of the span over the capacity with the best swap; None where none tells. [-]."""
        best = self._next[1]
        return best if math.isfinite(best) else None

    # -- words -----------------------------------------------------------------------------

    @property
    def notes(self):
        """What to know before the steps."""
        return tuple(capacity_swap_words.notes(self))

    @property
    def steps(self):
        """What to do next."""
        return tuple(capacity_swap_words.steps(self))

    @property
    def rows(self):
        """The figures."""
        return tuple(Row(*each) for each in capacity_swap_words.rows(self))

    @property
    def cautions(self):
        """What must be printed with the steps."""
        return cautions.for_work_on_coolant(self.before.fluid)

    @property
    def assumptions(self):
        """What the figure takes for granted."""
        return tuple(capacity_swap_words.assumptions(self))

    @property
    def source_keys(self):
        """Keys of the sources of the figures."""
        fluid = self.before.fluid
        keys = [*DENSITY_SOURCES[fluid], *FREEZE_SOURCES[fluid]]
        for told in (self.found, self.read_after):
            if isinstance(told, Reading):
                keys += told.source_keys
        return tuple(dict.fromkeys(keys))

    @property
    def working_lines(self):
        """The sum by mass, and the textbook's by volume."""
        return tuple(capacity_swap_words.working_lines(self))

    @property
    def odds_lines(self):
        """How sure it is."""
        return tuple(capacity_swap_words.odds_lines(self))

    def shown_in(self, show_in):
        """Return the same job in another unit system."""
        from .capacity_from_swap import capacity_from_swap

        return capacity_from_swap(**self.asked, show_in=show_in)

    def columns(self):
        """Return the figures of `to_frame`."""
        return super().columns() | {
            "change of the readings [standard deviations]": self.change_sd
            if math.isfinite(self.change_sd)
            else None,
            "swap that would do [L]": None if self.next_swap is None else self.next_swap.m_as("L"),
        }
