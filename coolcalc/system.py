"""The cooling system that is worked on."""

import dataclasses

from . import units
from .errors import InputError
from .units import Q

#: From a small air-cooled-size engine's jacket to a stationary engine. [m3]
CAPACITY_M3 = (0.2e-3, 10.0)


@dataclasses.dataclass(frozen=True, kw_only=True)
class CoolingSystem:
    """Volume, how well it is known, and what comes out at the drain.

    Parameters
    ----------
    capacity : text or Quantity
        Full to the cold mark, with heater and hoses. 0.2 L to 10,000 L. [m3]
    capacity_error : text or Quantity
        Give or take at 95 %; 0 takes the capacity as exact. [m3]
    drainable : text or Quantity, optional
        What comes out of the full system at the drain; not told, it is taken that as much
        comes out as is asked for, and the answer says so. [m3]
    name : str
        As the workshop calls it.

    Raises
    ------
    InputError
        Names the field, the value, the limit and what to do.
    """

    capacity: object
    capacity_error: object = "0 L"
    drainable: object = None
    name: str = ""
    capacity_m3: float = dataclasses.field(init=False, repr=False)
    capacity_error_m3: float = dataclasses.field(init=False, repr=False)
    drainable_m3: float | None = dataclasses.field(init=False, repr=False)

    def __post_init__(self):
        low, high = CAPACITY_M3
        capacity = units.read("capacity", self.capacity, "volume", low=low, high=high)
        error = units.read("capacity_error", self.capacity_error, "volume")
        if error >= capacity / 2:
            shown = units.show(error, "volume", "L", 2)
            raise InputError(
                "capacity_error",
                shown,
                f"{shown} is half of the capacity or more; measure the capacity first.",
            )
        drainable = None
        if self.drainable is not None:
            drainable = units.read("drainable", self.drainable, "volume")
            if drainable > capacity:
                shown = units.show(drainable, "volume", "L", 2)
                raise InputError(
                    "drainable",
                    shown,
                    f"{shown} is more than the system holds "
                    f"({units.show(capacity, 'volume', 'L', 2)}). Check both; if that much came "
                    "out, the capacity is larger.",
                )
        for field, value in (
            ("capacity_m3", capacity),
            ("capacity_error_m3", error),
            ("drainable_m3", drainable),
            ("capacity", Q(capacity, "m^3")),
            ("capacity_error", Q(error, "m^3")),
            ("drainable", None if drainable is None else Q(drainable, "m^3")),
        ):
            object.__setattr__(self, field, value)
