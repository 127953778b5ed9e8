"""What refractometer and hydrometer have in common: lines, errors, what to expect."""

import dataclasses
from typing import Any

from .. import fluids, units
from ..errors import InputError, one_of
from ..product import GENERIC
from ..strength import Strength
from ..units import Q
from .expected import Interval, freeze_interval, read_freezing_point
from .reading import Reading
from .scales import SCALES, one_glycol

#: Sample temperatures that can be told, of a refractometer and of a hydrometer. [K]
SAMPLE_TEMP_K = {"refractometer": (273.15, 333.15), "hydrometer": (273.15, 363.15)}

#: Most parts of water to one of the sample that a reading is worked back from.
DILUTED_MAX = 4.0

_STEP = 1e-4  # of strength, for a slope [kg/kg]


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
    error: Any = None
    repeatability: Any = None
    name: str = ""
    error_si: float = dataclasses.field(init=False, repr=False)
    offset_si: float = dataclasses.field(init=False, repr=False)
    repeat_si: float = dataclasses.field(init=False, repr=False)

    kind = ""

    def __post_init__(self):
        scales = SCALES[self.kind]
        one_of("scale", self.scale, scales)
        self._set(name=self.name or self.kind)
        spec = self.spec
        if self.made_for is None:
            if spec.label:
                raise InputError(
                    "made_for",
                    "",
                    f'a scale in "{self.scale}" is made for one glycol; say which.',
                )
        else:
            for line in self.lines:
                one_of("made_for", line, fluids.FLUIDS)
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
        if self.made_for is None:
            return ()
        return (self.made_for,) if isinstance(self.made_for, str) else tuple(self.made_for)

    def _line(self, line):
        if line is None and len(self.lines) > 1:
            raise InputError(
                "line",
                "",
                f"this {self.name} has lines for {' and '.join(self.lines)}; say which was read.",
            )
        if line is None:
            return self.lines[0] if self.lines else None
        return one_of("line", line, self.lines) if self.lines else line

    def _reading(self, value, line, inside, sample_temp, diluted, **more):
        """Check what every instrument is told with a reading, and return the `Reading`."""
        line = self._line(line)
        inside = line if inside is None else one_glycol("inside", inside)
        if sample_temp is not None:
            low, high = SAMPLE_TEMP_K[self.kind]
            sample_temp = units.read("sample_temp", sample_temp, "temperature", low=low, high=high)
        if not 0.0 <= diluted <= DILUTED_MAX:
            raise InputError(
                "diluted",
                diluted,
                f"{diluted:g} parts of water to one of the sample; give from 0 (as it came) to "
                f"{DILUTED_MAX:g}, and 1 for as much water as sample.",
            )
        reading = Reading(
            instrument=self,
            value=self._value("reading", value, line),
            line=line,
            inside=inside,
            sample_temp_k=sample_temp,
            diluted=float(diluted),
            **more,
        )
        if inside is not None and f"{inside} concentrate" in GENERIC:
            reading.answers()  # what no mix can show is refused when it is read
        return reading

    def _value(self, field, value, line):
        if self.spec.kind == "freezing point":
            return read_freezing_point(field, value, line)
        return units.read(field, value, self.spec.kind)

    def line_frac_mass(self, value, line, product):
        """Strength that a mark of a line stands for. [kg/kg].

        ``product`` is the mix's own; of another glycol, the line is taken as laid out for that
        glycol's generic concentrate.
        """
        if self.spec.kind == "freezing point":
            return float(fluids.frac_mass_from_freeze_temp_k(line, value))
        return Strength(value, self.per_cent_of).frac_mass(of_line(line, product))

    def _shown_by_line(self, frac_mass, line, product):
        if self.spec.kind == "freezing point":
            near = min(max(frac_mass, 0.0), fluids.FRAC_MASS_SETTLED_MAX)
            return float(fluids.freeze_temp_k(line, near))
        strength = Strength.from_frac_mass(frac_mass, self.per_cent_of, of_line(line, product))
        return strength.share

    def slope(self, frac_mass, reading, product):
        """How far the scale moves with the strength, near one. [SI unit of the scale]."""
        most = fluids.FRAC_MASS_SETTLED_MAX if self.spec.kind == "freezing point" else 1.0
        near = min(max(frac_mass, _STEP), most - _STEP)
        ends = (
            self.shown(near + sign * _STEP, reading.line, product, reading.optics_k)
            for sign in (1, -1)
        )
        return abs(next(ends) - next(ends)) / (2 * _STEP)

    def own_half_widths(self, frac_mass, reading, product):
        """Give or take of offset and of repeatability, as strengths near one. [kg/kg]."""
        slope = self.slope(frac_mass, reading, product)
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
        """Return what it will read on a mix of uncertain strength, the same line as made for.

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
        low, value, high = (
            self.shown(each, reading.line, mixture.product, reading.optics_k)
            for each in (ends[0], frac_mass, ends[1])
        )
        return min(low, high), value, max(low, high)

    def reading_on(self, fluid):
        """Return how it is read on a glycol: by that glycol's line where it has one, cold."""
        line = fluid if fluid in self.lines or not self.lines else self.lines[0]
        return Reading(instrument=self, value=0.0, line=line, inside=fluid)


def of_line(line, product):
    """Return the product that a line is laid out for: the mix's own, or the generic one."""
    own = product is not None and not product.is_water and product.fluid == line
    return product if own else GENERIC[f"{line} concentrate"]
