"""The test strip: a colour held against a few steps."""

import dataclasses
from collections.abc import Iterable
from typing import Any, NamedTuple

from .. import fluids, units
from ..errors import InputError, one_of
from ..strength import OF_PRODUCT, Strength
from ..units import Q
from .expected import Interval, read_freezing_point
from .reading import Reading
from .scales import one_glycol


class _StripScale(NamedTuple):
    """What a strip has in place of a `Scale`."""

    kind: str
    label: bool = True


@dataclasses.dataclass(frozen=True, kw_only=True)
class TestStrip:
    """A strip whose colour is held against steps; a reading lies between the neighbours.

    Parameters
    ----------
    made_for : str
        The glycol that its steps are made for.
    steps : sequence of text or Quantity
        As printed beside the colours: percentages ("33 %") or freezing points ("−18 °C").
    per_cent_of : str
        What a percentage is of: one of `coolcalc.units.STRENGTH_BASES`.
    name : str

    Raises
    ------
    InputError
        Names the field, the value, the limit and what to do.

    Examples
    --------
    >>> strip = TestStrip(
    ...     made_for="ethylene glycol", steps=["0 %", "20 %", "33 %", "40 %", "50 %", "60 %"])
    >>> found = strip.read("40 %").mixture()
    >>> round(found.strength().share, 2), round(found.half_width, 2)
    (0.4, 0.05)
    """

    __test__ = False  # pytest takes a class of this name for a test

    made_for: str
    steps: Any
    per_cent_of: str = OF_PRODUCT
    name: str = "test strip"
    values: tuple = dataclasses.field(init=False, repr=False)
    kind_of_step: str = dataclasses.field(init=False, repr=False)

    kind = "test strip"
    compensated = True
    lines = property(lambda self: (self.made_for,))

    def __post_init__(self):
        one_of("made_for", self.made_for, fluids.FLUIDS)
        one_of("per_cent_of", self.per_cent_of, units.STRENGTH_BASES)
        listed = isinstance(self.steps, Iterable) and not isinstance(self.steps, (str, units.Q))
        steps = tuple(self.steps) if listed else ()
        if len(steps) < 2:
            raise InputError(
                "steps",
                self.steps,
                "a strip has at least two steps; list them as printed beside it.",
            )
        object.__setattr__(self, "steps", steps)
        object.__setattr__(self, "name", str(self.name or self.kind))
        kinds = {"share" if _is_percent(step) else "freezing point" for step in steps}
        if len(kinds) > 1:
            raise InputError(
                "steps", steps, "percentages and freezing points are mixed; list one of them."
            )
        object.__setattr__(self, "kind_of_step", kinds.pop())
        values = tuple(self._value("steps", step) for step in steps)
        order = sorted(values, reverse=self.kind_of_step == "freezing point")
        if len(set(values)) < len(values) or list(values) != order:
            raise InputError(
                "steps", steps, "the steps do not rise from weak to strong; list them in order."
            )
        object.__setattr__(self, "values", values)

    def _value(self, field, step):
        if self.kind_of_step == "share":
            return units.read(field, step, "share")
        return read_freezing_point(field, step, self.made_for)

    @property
    def spec(self):
        """What kind of figure its steps are."""
        return _StripScale(self.kind_of_step)

    def read(self, step, *, inside=None):
        """Return the `Reading` of a step.

        Parameters
        ----------
        step : text or Quantity
            The step whose colour is nearest.
        inside : str, optional
            The glycol in the sample; a strip reads only the one that it is made for.
        """
        inside = self.made_for if inside is None else one_glycol("inside", inside)
        if inside != self.made_for:
            raise InputError(
                "inside",
                inside,
                f"a strip for {self.made_for} says nothing of {inside}; read an instrument made "
                "for it.",
            )
        value = self._value("reading", step)
        if not any(abs(value - each) < 1e-9 for each in self.values):
            shown = ", ".join(self.show(each, units.SYSTEMS["metric"]) for each in self.values)
            raise InputError(
                "reading",
                step,
                f"{step} is not a step of this strip; give the nearest of {shown}.",
            )
        return Reading(instrument=self, value=value, line=self.made_for, inside=inside)

    def _frac_mass(self, value, product):
        if self.kind_of_step == "freezing point":
            return float(fluids.frac_mass_from_freeze_temp_k(self.made_for, value))
        return Strength(value, self.per_cent_of).frac_mass(product)

    def fracs(self, reading, product):
        """Strength that a step stands for. [kg/kg]."""
        return (self._frac_mass(reading.value, product),)

    def own_half_widths(self, frac_mass, reading, product):
        """No offset, and half the larger gap to a neighbour. [kg/kg]."""
        marks = [self._frac_mass(each, product) for each in self.values]
        nearest = min(range(len(marks)), key=lambda at: abs(marks[at] - frac_mass))
        gaps = [
            abs(marks[nearest] - marks[at])
            for at in (nearest - 1, nearest + 1)
            if 0 <= at < len(marks)
        ]
        return 0.0, max(gaps) / 2

    def must_suit(self, fluid, field):
        """Refuse a glycol that the strip was not made for; ``field`` is named."""
        if fluid != self.made_for:
            raise InputError(
                field, self.made_for, f"the strip was made for {self.made_for}, not {fluid}."
            )

    def expect(self, mixture):
        """Return the steps between which a mix of uncertain strength reads, as an `Interval`."""
        self.must_suit(mixture.fluid, "mixture")
        return Interval(*(self.quantity(each) for each in self.interval(mixture, None, None)))

    def interval(self, mixture, half_width, reading):
        """Weakest, likeliest and strongest step; a half-width other than the mix's own counts."""
        half = mixture.half_width if half_width is None else half_width

        def nearest(frac_mass):
            return min(
                self.values,
                key=lambda each: abs(self._frac_mass(each, mixture.product) - frac_mass),
            )

        ends = [nearest(mixture.frac_mass + sign * half) for sign in (-1, 0, 1)]
        return tuple(sorted(ends))

    def quantity(self, value):
        """Return a step as a quantity. [SI unit of its kind]."""
        if self.kind_of_step == "share":
            return Q(100 * value, "percent")
        return Q(value, "kelvin").to("degC")

    def show(self, value, system):
        """Return a step as printed in a unit system."""
        if self.kind_of_step == "share":
            return units.show(value, "share", "%", 0)
        return units.show(value, "temperature", system.temperature, 0)

    def span(self, low, high, system):
        """Return both ends of a span of steps as printed, the weaker mix first."""
        ends = (low, high) if self.kind_of_step == "share" else (high, low)
        return tuple(self.show(each, system) for each in ends)

    def reading_on(self, fluid):
        """Return how it is read on a glycol."""
        return Reading(instrument=self, value=self.values[0], line=self.made_for, inside=fluid)


def _is_percent(step):
    if isinstance(step, units.Q):
        return step.dimensionless
    return "%" in step if isinstance(step, str) else True
