"""What can be read off an instrument: the kind of figure, how well, and how it is shown."""

from decimal import ROUND_CEILING, ROUND_FLOOR
from typing import NamedTuple

from .. import fluids, units
from ..errors import InputError, one_of

#: What is told where more than one glycol is in the sample.
MIXED = "mixed or not known"


class Scale(NamedTuple):
    """One way to read an instrument.

    Attributes
    ----------
    kind, error_kind : str
        Kinds of `coolcalc.units.read`, of the figure and of its give or take.
    error : str
        Give or take of one reading at 95 %, where none is told.
    error_max : float
        Beyond it, it is no instrument. [SI unit of the error's kind]
    decimals : int
        As it is shown, in metric units.
    unit : str
        As `coolcalc.units.show` takes it; "" where the unit system says it.
    pint_unit : str
        Unit of the quantities that `expect` gives.
    label : bool
        Whether the marks stand for strengths of one glycol, not for a property of the sample.
    """

    kind: str
    error_kind: str
    error: str
    error_max: float
    decimals: int
    unit: str
    pint_unit: str
    label: bool

    def show(self, value, system):
        """Return a figure as printed in a unit system. [SI unit of the kind]."""
        return units.show(value, self.kind, self._unit(system), self.decimals)

    def span(self, low, high, system):
        """Return both ends of a span as printed, rounded outward, the weaker mix first.

        Of freezing points in whole degrees. [SI unit of the kind]
        """
        ends = ((low, ROUND_FLOOR), (high, ROUND_CEILING))
        digits = self.decimals
        if self.kind == "freezing point":
            ends, digits = ends[::-1], 0
        unit = self._unit(system)
        return tuple(units.show(end, self.kind, unit, digits, way) for end, way in ends)

    def limits(self, weakest, strongest, system):
        """Return both limits of a reading as printed, and whether anything lies between them.

        The weakest that passes is rounded to the stronger side, the strongest to the weaker;
        freezing points in whole degrees, and finer where they would meet. [SI unit of the kind]
        """
        freezing = self.kind == "freezing point"
        ends = ((weakest, ROUND_CEILING), (strongest, ROUND_FLOOR))
        if freezing:
            ends = ((weakest, ROUND_FLOOR), (strongest, ROUND_CEILING))
        unit = self._unit(system)
        for digits in (0, self.decimals) if freezing else (self.decimals,):
            texts = [units.show(end, self.kind, unit, digits, way) for end, way in ends]
            weak, strong = (float(text.split()[0].replace(units.MINUS, "-")) for text in texts)
            room = weak > strong if freezing else weak < strong
            if room:
                break
        return *texts, room

    def _unit(self, system):
        return self.unit or (system.temperature if self.kind == "freezing point" else "")

    def show_error(self, error, system):
        """Return a give or take as printed in a unit system."""
        if self.kind == "freezing point":
            return units.show(error, self.error_kind, system.temperature_difference, 1)
        unit = "%" if self.kind == "share" else self.unit
        return units.show(error, self.error_kind, unit, max(self.decimals, 0) + 1)


# The accuracy that ASTM D3321 states for freezing points by refractometer is 2 °F (source key
# ``astm-d3321``); the others are common practice, no source.
_FREEZE = Scale("freezing point", "temperature difference", "2 °F", 10.0, 1, "", "degC", True)
_PER_CENT = Scale("share", "share", "2 %", 0.2, 0, "%", "percent", True)
_BRIX = Scale("Brix", "Brix", "0.5", 10.0, 1, "°Bx", "percent", False)
_INDEX = Scale("refractive index", "share", "0.0005", 0.02, 4, "", "dimensionless", False)
_GRAVITY = Scale("specific gravity", "share", "0.005", 0.05, 3, "", "dimensionless", False)

#: Scales by name, for each kind of instrument.
SCALES = {
    "refractometer": {
        "freeze point": _FREEZE,
        "volume %": _PER_CENT,
        "Brix": _BRIX,
        "refractive index": _INDEX,
    },
    # A float reads to some 8 °F: common practice, no source.
    "hydrometer": {
        "specific gravity": _GRAVITY,
        "freeze point": _FREEZE._replace(error="8 °F", error_max=15.0),
    },
}


def one_glycol(field, fluid, what="the sample"):
    """Return a glycol by name; refuse a mixture of glycols, which nothing here can read.

    Parameters
    ----------
    field : str
        Named in refusals.
    fluid : str or sequence of str
    what : str
        What holds it, for the sentence.
    """
    names = as_names(fluid)
    if len(names) > 1 or names == (MIXED,):
        shown = " with ".join(str(name) for name in names)
        raise InputError(
            field,
            shown,
            f"{shown} in {what}: no instrument in the hand can tell how strong a mixture of "
            "glycols is. Drain, flush, and fill with one glycol; or have a sample analysed.",
        )
    return one_of(field, names[0] if names else "", fluids.FLUIDS)


def as_names(told):
    """Return what was told, one name or several, as a tuple without repeats."""
    if isinstance(told, str):
        return (told,)
    try:
        names = list(told)
    except TypeError:  # not a name, nor several: refused where it is looked up
        return (told,)
    return tuple(name for at, name in enumerate(names) if name not in names[:at])
