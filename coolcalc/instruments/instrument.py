"""What refractometer and hydrometer have in common: lines, errors, what to expect."""

import dataclasses
from typing import Any

import numpy as np

from .. import fluids, units
from ..errors import InputError, one_of
from ..product import GENERIC
from ..strength import Strength
from ..units import Q
from .expected import Interval, freeze_interval, read_freezing_point
from .reading import STEP, Reading
from .scales import SCALES, as_names, one_glycol

#: Sample temperatures that can be told, of a refractometer and of a hydrometer. [K]
SAMPLE_TEMP_K = {"refractometer": (273.15, 333.15), "hydrometer": (273.15, 363.15)}

#: Most parts of water to one of the sample that a reading is worked back from.
DILUTED_MAX = 4.0

_SPAN = 33  # strengths among which the ends of a span are looked for


@dataclasses.dataclass(frozen=True, kw_only=True)
class Instrument:
    """What refractometer and hydrometer have in common.

    Attributes
    ----------
    error_si, offset_si, repeat_si : float
        Give or take of one reading at 95 %, and its two parts: the offset, which all readings of
        the instrument share, and what differs from reading to reading. [SI unit of the scale]
    """

    made_for: Any = None
    scale: str = ""
    error: Any = dataclasses.field(default=None, compare=False)  # as told; error_si counts
    repeatability: Any = dataclasses.field(default=None, compare=False)
    name: str = ""
    error_si: float = dataclasses.field(init=False, repr=False)
    offset_si: float = dataclasses.field(init=False, repr=False)
    repeat_si: float = dataclasses.field(init=False, repr=False)

    kind = ""

    def _mark(self, frac_mass, line, product, temp_k):
        """Strength whose mark on a line a mix of a product stands at. [kg/kg]."""
        raise NotImplementedError

    def _property(self, frac_mass, product, temp_k):
        """Return what a scale without lines shows on a mix of a product. [SI of the scale]."""
        raise NotImplementedError

    def ends(self, reading, product):
        """Strengths that the scale can end at, on mixes of a product. [kg/kg]."""
        return (0.0, product.frac_mass)

    def __post_init__(self):
        one_of("scale", self.scale, SCALES[self.kind])
        spec = self.spec
        lines = () if self.made_for is None else as_names(self.made_for)
        for line in lines:
            one_of("made_for", line, fluids.FLUIDS)
        if spec.label and not lines:
            raise InputError(
                "made_for",
                "",
                f'a scale in "{self.scale}" is made for one glycol; say which.',
            )
        # One line is kept as its name, several as a tuple, so that equal instruments are equal.
        made_for = lines if len(lines) > 1 else lines[0] if lines else None
        self._set(made_for=made_for, name=str(self.name or self.kind))
        told = spec.error if self.error is None else self.error
        error = units.read("error", told, spec.error_kind, low=0.0, high=spec.error_max)
        # Where nothing is told, half of the variance is the instrument's own offset: common
        # practice, no source.
        repeat = error / 2**0.5
        if self.repeatability is not None:
            repeat = units.read("repeatability", self.repeatability, spec.error_kind, low=0.0)
            if repeat > error:
                raise InputError(
                    "repeatability",
                    self.repeatability,
                    f"{self.repeatability} is more than the whole give or take of one reading "
                    f"({told}), of which it is a part; enlarge the error.",
                )
        offset = max(error**2 - repeat**2, 0.0) ** 0.5
        self._set(error_si=error, offset_si=offset, repeat_si=repeat)

    def _set(self, **values):
        for field, value in values.items():
            object.__setattr__(self, field, value)

    @property
    def spec(self):
        """The `Scale` that is read."""
        return SCALES[self.kind][self.scale]

    @property
    def lines(self):
        """The glycols that it has a line for; one, unless several were told."""
        return () if self.made_for is None else as_names(self.made_for)

    def _line(self, line):
        if line is None and len(self.lines) > 1:
            raise InputError(
                "line",
                "",
                f"this {self.name} has lines for {' and '.join(self.lines)}; say which was read.",
            )
        if line is None:
            return self.lines[0] if self.lines else None
        if not self.lines:
            raise InputError(
                "line",
                line,
                f"this {self.name} has no lines: {self.scale} is read alike on all glycols. Leave "
                "it out, and say which glycol is in the sample (inside).",
            )
        return one_of("line", line, self.lines)

    def _reading(self, value, line, inside, sample_temp, diluted, **more):
        """Check what every instrument is told with a reading, and return the `Reading`."""
        line = self._line(line)
        inside = line if inside is None else one_glycol("inside", inside)
        if sample_temp is not None:
            low, high = SAMPLE_TEMP_K[self.kind]
            sample_temp = units.read("sample_temp", sample_temp, "temperature", low=low, high=high)
        # "1:2" is one part of the sample to two of water.
        parts = diluted.strip().removeprefix("1:") if isinstance(diluted, str) else diluted
        parts = units.read("diluted", parts, "parts of water", high=DILUTED_MAX)
        reading = Reading(
            instrument=self,
            value=self._value("reading", value, line),
            line=line,
            inside=inside,
            sample_temp_k=sample_temp,
            diluted=parts,
            **more,
        )
        if inside is not None:
            reading.check()
        return reading

    def _value(self, field, value, line):
        if self.spec.kind == "freezing point":
            return read_freezing_point(field, value, line)
        return units.read(field, value, self.spec.kind)

    def line_frac_mass(self, value, line, product):
        """Strength that a mark of a line stands for. [kg/kg].

        ``product`` is the mix's own; of another glycol, the line is taken as laid out for that
        glycol's generic concentrate.

        Raises
        ------
        InputError
            Where a line by volume or weight is for a glycol without a generic concentrate.
        """
        if self.spec.kind == "freezing point":
            return float(fluids.frac_mass_from_freeze_temp_k(line, value))
        return Strength(value, self.per_cent_of).frac_mass(of_line(line, product))

    def _shown_by_line(self, frac_mass, line, product):
        near = min(max(frac_mass, 0.0), self._most)
        if self.spec.kind == "freezing point":
            return float(fluids.freeze_temp_k(line, near))
        return Strength.from_frac_mass(near, self.per_cent_of, of_line(line, product)).share

    @property
    def _most(self):
        """Strength that the marks of a line end at. [kg/kg]."""
        return fluids.FRAC_MASS_SETTLED_MAX if self.spec.kind == "freezing point" else 1.0

    def shown(self, frac_mass, line, product, temp_k):
        """Return what it shows on a mix of a product. [SI unit of the scale]."""
        if not self.spec.label:
            return self._property(frac_mass, product, temp_k)
        return self._shown_by_line(self._mark(frac_mass, line, product, temp_k), line, product)

    def slope(self, frac_mass, reading, product):
        """How far the scale moves with the strength, near one. [SI unit of the scale]."""
        near = min(max(frac_mass, STEP), 1.0 - STEP)
        ends = (near - STEP, near + STEP)
        if not self.spec.label:
            low, high = (self._property(each, product, reading.optics_k) for each in ends)
            return abs(high - low) / (2 * STEP)
        # By way of the mark, which may lie beyond the end of the line.
        low, high = (self._mark(each, reading.line, product, reading.optics_k) for each in ends)
        mark = min(max(0.5 * (low + high), STEP), self._most - STEP)
        weak, strong = (
            self._shown_by_line(mark + sign * STEP, reading.line, product) for sign in (-1, 1)
        )
        return abs(strong - weak) * abs(high - low) / (2 * STEP) ** 2

    def own_half_widths(self, frac_mass, reading, product):
        """Give or take of offset and of repeatability, as strengths near one. [kg/kg]."""
        if not self.error_si:
            return 0.0, 0.0
        # Where the scale does not move at all, anything from water to glycol is possible.
        slope = max(self.slope(frac_mass, reading, product), self.error_si)
        return self.offset_si / slope, self.repeat_si / slope

    def must_suit(self, fluid, field):
        """Refuse a glycol that no line was made for; ``field`` is named."""
        if self.spec.label and fluid not in self.lines:
            made_for = " and ".join(self.lines)
            raise InputError(
                field,
                made_for,
                f"the scale was made for {made_for}, and the mix is {fluid}. On the wrong "
                "glycol a scale promises degrees that are not there; read with a scale made for "
                "the glycol inside.",
            )

    def expect(self, mixture):
        """Return what it will show on a mix of uncertain strength.

        On a glycol that it has no line for, what its first line shows: not where the mix freezes.

        Parameters
        ----------
        mixture : Mixture
            With its give or take at 95 %.

        Returns
        -------
        Interval
            Lowest, likeliest and highest reading, this instrument's own give or take counted, as
            quantities.
        """
        reading = self.reading_on(mixture.fluid)
        own = sum(
            each**2 for each in self.own_half_widths(mixture.frac_mass, reading, mixture.product)
        )
        total = (mixture.half_width**2 + own) ** 0.5
        low, value, high = self.interval(mixture, total, reading)
        return Interval(*(self.quantity(each) for each in (low, value, high)))

    def show(self, value, system):
        """Return a figure of the scale as printed in a unit system. [SI unit of the scale]."""
        return self.spec.show(value, system)

    def span(self, low, high, system):
        """Return both ends of a span as printed, rounded outward, the weaker mix first."""
        return self.spec.span(low, high, system)

    def quantity(self, value):
        """Return a figure of the scale as a quantity. [SI unit of the scale]."""
        if self.spec.kind == "freezing point":
            return Q(value, "kelvin").to("degC")
        # A Brix reading is a percentage of sugar already.
        percent = 100 * value if self.spec.kind == "share" else value
        return Q(percent, self.spec.pint_unit)

    def interval(self, mixture, half_width, reading):
        """Lowest, likeliest and highest reading over a span of strengths. [SI of the scale]."""
        frac_mass = mixture.frac_mass
        plain = reading.line == mixture.fluid or reading.line is None
        if self.spec.kind == "freezing point" and plain:
            return freeze_interval(mixture.fluid, frac_mass, half_width)[:3]
        ends = (max(frac_mass - half_width, 0.0), min(frac_mass + half_width, 1.0))
        # A scale may turn within the span: propylene glycol is lighter again beyond its densest.
        value, *others = (
            self.shown(each, reading.line, mixture.product, reading.optics_k)
            for each in (frac_mass, *np.linspace(*ends, _SPAN))
        )
        return min(value, *others), value, max(value, *others)

    def reading_on(self, fluid):
        """Return how it is read on a glycol: by that glycol's line where it has one, cold."""
        line = fluid if fluid in self.lines or not self.lines else self.lines[0]
        return Reading(instrument=self, value=0.0, line=line, inside=fluid)


def of_line(line, product):
    """Return the product that a line is laid out for: the mix's own, or the generic one."""
    if product is not None and not product.is_water and product.fluid == line:
        return product
    generic = GENERIC.get(f"{line} concentrate")
    if generic is None:
        raise InputError(
            "line",
            line,
            f"what product the {line} line was laid out for is not known, so it cannot be "
            "converted to another glycol; read a scale that is made for the glycol inside.",
        )
    return generic
