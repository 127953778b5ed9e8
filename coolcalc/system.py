"""The cooling system that is worked on, with its side circuits."""

import dataclasses
from typing import Any

from . import units
from .errors import InputError, one_of
from .units import Q

#: From a small air-cooled-size engine's jacket to a stationary engine. [m3]
CAPACITY_M3 = (0.2e-3, 10.0)

#: How a circuit may be filled: by mixing in the workshop, or only as its maker delivers it.
FILLS = ("mix", "ready-mixed only", "low-conductivity")

#: What a side circuit does while the engine runs.
MIXES, MAY_NOT, SHUT = "mixes", "may not mix", "shut"


@dataclasses.dataclass(frozen=True, kw_only=True)
class SideCircuit:
    """A part of a system that does not always take part: a rear heater, a tank in a bus.

    Parameters
    ----------
    name : str
        As the workshop calls it.
    volume : text or Quantity
        Part of the system's capacity. [m3]
    state : str
        "mixes" (its valve is open and it has gone round), "may not mix" (nobody knows), or
        "shut" (it stays as it is, and is no part of the work).

    Raises
    ------
    InputError
        Names the field, the value, the limit and what to do.
    """

    name: str
    volume: Any
    state: str = MAY_NOT
    volume_m3: float = dataclasses.field(init=False, repr=False)

    def __post_init__(self):
        if not isinstance(self.name, str) or not self.name.strip():
            raise InputError(
                "side circuit, name",
                self.name,
                f"{self.name!r} is no name; write what the workshop calls it.",
            )
        one_of("side circuit, state", self.state, (MIXES, MAY_NOT, SHUT))
        volume = units.read("side circuit", self.volume, "volume")
        object.__setattr__(self, "volume_m3", volume)
        object.__setattr__(self, "volume", Q(volume, "m^3"))


@dataclasses.dataclass(frozen=True, kw_only=True)
class CoolingSystem:
    """Volume, how well it is known, and what comes out at the drain.

    Parameters
    ----------
    capacity : text or Quantity
        Full to the cold mark, with heater, hoses and side circuits. 0.2 L to 10,000 L. [m3]
    capacity_error : text or Quantity
        Give or take at 95 %; 0 takes the capacity as exact. [m3]
    drainable : text or Quantity, optional
        What comes out of the full system at the drain; not told, it is taken that as much
        comes out as is asked for, and the answer says so. [m3]
    name : str
        As the workshop calls it.
    side_circuits : sequence of SideCircuit
        Parts of the capacity that do not always take part.
    fill : str
        One of `FILLS`: "mix", or a circuit that is not corrected by hand: "ready-mixed only",
        "low-conductivity".

    Raises
    ------
    InputError
        Names the field, the value, the limit and what to do.
    """

    capacity: Any
    capacity_error: Any = "0 L"
    drainable: Any = None
    name: str = ""
    side_circuits: tuple = ()
    fill: str = FILLS[0]
    capacity_m3: float = dataclasses.field(init=False, repr=False)
    capacity_error_m3: float = dataclasses.field(init=False, repr=False)
    drainable_m3: float | None = dataclasses.field(init=False, repr=False)

    def __post_init__(self):
        one_of("fill", self.fill, FILLS)
        low, high = CAPACITY_M3
        capacity = units.read("capacity", self.capacity, "volume", low=low, high=high)
        sides = self._sides(capacity)
        error = units.read("capacity_error", self.capacity_error, "volume")
        worked = capacity - sum(side.volume_m3 for side in sides if side.state == SHUT)
        if error >= worked / 2:
            shown = units.show(error, "volume", "L", 2)
            raise InputError(
                "capacity_error",
                shown,
                f"{shown} is half of the capacity or more; measure the capacity first.",
            )
        drainable = None
        if self.drainable is not None:
            drainable = units.read("drainable", self.drainable, "volume")
            if drainable > worked:
                shown = units.show(drainable, "volume", "L", 2)
                raise InputError(
                    "drainable",
                    shown,
                    f"{shown} is more than the system holds "
                    f"({units.show(worked, 'volume', 'L', 2)}). Check both; if that much came "
                    "out, the capacity is larger.",
                )
        for field, value in (
            ("side_circuits", sides),
            ("capacity_m3", capacity),
            ("capacity_error_m3", error),
            ("drainable_m3", drainable),
            ("capacity", Q(capacity, "m^3")),
            ("capacity_error", Q(error, "m^3")),
            ("drainable", None if drainable is None else Q(drainable, "m^3")),
        ):
            object.__setattr__(self, field, value)

    def _sides(self, capacity):
        told = () if self.side_circuits is None else self.side_circuits
        sides = tuple(told) if isinstance(told, (tuple, list)) else (told,)
        for side in sides:
            if not isinstance(side, SideCircuit):
                raise InputError(
                    "side_circuits",
                    side,
                    f"{side!r} is no side circuit; write SideCircuit(name=…, volume=…).",
                )
        total = sum(side.volume_m3 for side in sides)
        if total > 0.9 * capacity:
            shown = units.show(total, "volume", "L", 2)
            raise InputError(
                "side_circuits",
                shown,
                f"{shown} is more than nine tenths of the capacity, of which side circuits are a "
                "part. Check both.",
            )
        return sides

    @property
    def worked_m3(self):
        """What is worked on: the capacity less side circuits that are shut. [m3]."""
        return self.capacity_m3 - sum(side.volume_m3 for side in self.sides_that(SHUT))

    def sides_that(self, state):
        """Return the side circuits in a state."""
        return tuple(side for side in self.side_circuits if side.state == state)
