"""The answer of `check_water`: its figures."""

import dataclasses
import math
from typing import Any

from .. import cautions
from ..answers import Answer
from . import check_water_words
from .water_limits import AT, LIMIT_SOURCES, LIMITS, WITHIN


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class WaterCheck(Answer):
    """How water to mix with stands to the published limits.

    Attributes
    ----------
    asked : dict
        What the job was asked with.
    told : dict of str to float
        The figures that were told, by argument. [mg/L; pH as it is]
    softened : bool or None
    distilled : float or None
        Share of distilled water in the blend that was asked about. [-]
    share_at_limit : float
        Largest share of this water that, made up with distilled water, is within all limits that
        were checked, pH aside; not rounded. [-]
    unit_system : coolcalc.units.UnitSystem
    """

    asked: dict
    told: dict
    softened: bool | None
    distilled: float | None
    share_at_limit: float
    unit_system: Any

    title = "Water to mix with coolant"
    #: Lines of the job card to write on.
    card_blanks = (("Water from", "Sampled on"), ("Tested with", "Tested by"), ("Signature",))

    # -- figures ---------------------------------------------------------------------------

    @property
    def verdicts(self):
        """How each figure that was told stands to its limit, in words, by argument."""
        return {name: LIMITS[name].verdict(value) for name, value in self.told.items()}

    @property
    def over(self):
        """What is not within its limit, by argument."""
        return tuple(name for name, each in self.verdicts.items() if each not in (WITHIN, AT))

    @property
    def not_checked(self):
        """What was not told, by argument: not checked, and not passed."""
        return tuple(name for name in LIMITS if name not in self.told)

    @property
    def within(self):
        """Whether it is not softened, and every figure that was told is within its limit."""
        return not self.softened and not self.over

    @property
    def blend(self):
        """Figures of the blend that was asked about; pH is not carried by mixing. [mg/L]."""
        if self.distilled is None:
            return {}
        return {
            name: value * (1.0 - self.distilled)
            for name, value in self.told.items()
            if LIMITS[name].mixes
        }

    @property
    def blend_over(self):
        """What is still over its limit in the blend, by argument."""
        return tuple(
            name
            for name, value in self.blend.items()
            if LIMITS[name].verdict(value) not in (WITHIN, AT)
        )

    @property
    def share_within(self):
        """Largest share of this water in a blend with distilled, as printed: whole per cent.

        None where no blend can be reckoned: softened water, or a pH out of range.
        """
        if self.softened or "ph" in self.over:
            return None
        return math.floor(100.0 * self.share_at_limit + 1e-9) / 100.0

    # -- words -----------------------------------------------------------------------------

    @property
    def notes(self):
        """What to know before the steps: verdict, what was not checked, the blend."""
        return tuple(check_water_words.notes(self))

    @property
    def steps(self):
        """What to do next."""
        return tuple(check_water_words.steps(self))

    @property
    def rows(self):
        """Each figure, its limit and how it stands to it."""
        return tuple(check_water_words.rows(self))

    @property
    def cautions(self):
        """What must be printed with the steps."""
        return cautions.HOT, cautions.COLD_INTO_HOT, cautions.AUTHORITY

    @property
    def assumptions(self):
        """What the verdict takes for granted."""
        return tuple(check_water_words.assumptions(self))

    @property
    def source_keys(self):
        """Keys of the sources of the limits."""
        return LIMIT_SOURCES

    @property
    def working_lines(self):
        """Each comparison, and the blend."""
        return tuple(check_water_words.working_lines(self))

    @property
    def odds_lines(self):
        """That no chance is worked out, and why."""
        return tuple(check_water_words.odds_lines(self))

    def shown_in(self, show_in):
        """Return the same job in another unit system."""
        from .check_water import check_water

        return check_water(**self.asked, show_in=show_in)

    def columns(self):
        """Return the figures of `to_frame`: what was not told is None."""
        columns = {}
        for name, limit in LIMITS.items():
            value = self.told.get(name)
            columns[f"{limit.words} [{limit.unit or '-'}]"] = value
            columns[f"{limit.words}, verdict"] = self.verdicts.get(name, "not checked")
        columns["softened"] = "not told" if self.softened is None else str(self.softened)
        columns["largest share of this water [share]"] = self.share_within
        columns["distilled water in the blend [share]"] = self.distilled
        for name, limit in LIMITS.items():
            if limit.mixes:
                columns[f"{limit.words} of the blend [{limit.unit}]"] = self.blend.get(name)
        return columns
