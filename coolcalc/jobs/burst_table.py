"""What is printed of bursting: per cent of glycol against freezing and against bursting of pipes.

One table, for the pipes of heating and cooling plant; whole per cents, of what is not stated on
the sheet (by volume, as its freezing column shows). Source key ``burst-hvacr``. No table for
engines was found.
"""

from typing import NamedTuple

SOURCE = "burst-hvacr"


class BurstRow(NamedTuple):
    """Per cent by volume at a temperature: so that nothing freezes, so that no pipe bursts."""

    temp_f: float
    freeze: int
    burst: int

    @property
    def temp_k(self):
        """Temperature of the row. [K]."""
        return (self.temp_f + 459.67) / 1.8


#: By glycol, from mild to cold.
BURST = {
    "ethylene glycol": tuple(
        BurstRow(*row)
        for row in (
            (20, 17, 12),
            (10, 26, 18),
            (0, 35, 23),
            (-10, 41, 27),
            (-20, 46, 30),
            (-30, 50, 31),
            (-40, 54, 31),
            (-50, 59, 31),
            (-60, 63, 31),
        )
    ),
    "propylene glycol": tuple(
        BurstRow(*row)
        for row in (
            (20, 18, 12),
            (10, 29, 20),
            (0, 36, 24),
            (-10, 42, 28),
            (-20, 46, 31),
            (-30, 50, 33),
            (-40, 55, 35),
            (-50, 57, 35),
            (-60, 60, 35),
        )
    ),
}


def burst_row(fluid, temp_k):
    """Return the row that is printed for a temperature or the next colder one; None beyond."""
    return next((row for row in BURST.get(fluid, ()) if row.temp_k <= temp_k), None)
