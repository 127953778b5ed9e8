"""The answer of `after_topups`: its figures."""

import dataclasses
from typing import Any

from ..balance import dilution
from ..errors import Status
from ..mixture import Mixture
from ..system import CoolingSystem
from . import after_topups_words
from .after_work import AfterWork

#: What was lost before a top-up.
LOST = MIX, STEAM = ("mix", "steam")

#: Top-ups that a card lists one by one; of more, the last.
ON_CARD = 6


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class AfterTopups(AfterWork):
    """The strength after each top-up with plain water, and when the standard was lost.

    Attributes
    ----------
    asked : dict
        What the job was asked with.
    system : CoolingSystem
    found : Reading or Mixture
        What was inside before the first loss, as it was told.
    before : Mixture
        The same.
    lost : str
        "mix" or "steam".
    topups_m3 : tuple of float
        As told. [m3]
    row : coolcalc.jobs.mix_plan.MixRow
        What the kernel was given.
    states : coolcalc.balance.dilution.TopUps
        What is inside before and after each top-up. [kg]
    outcome : coolcalc.balance.spread.Spread
        The strength after the last, over what was measured. [kg/kg]
    target : Strength, Quantity or None
        The standard, as it was told.
    target_frac_mass : float or None
        [kg/kg]
    hold : coolcalc.balance.spread.Hold or None
        What counts as holding the standard. [kg/kg]
    chance_to_hold : float or None
        Chance that the mix still holds the standard; None without one. [-]
    lost_after : int or None
        With which of equal top-ups, of the mean volume, the standard is lost; 0 where it was not
        held before; None without a standard, where only water was lost, or past 1,000.
    hours : float or None
        [h]
    additive : dict of str to float
        What was tested before. [mg/L]
    status : Status
    """

    asked: dict
    system: CoolingSystem
    found: Any
    offset_share: float
    before: Mixture
    lost: str
    topups_m3: tuple
    row: Any
    states: Any
    outcome: Any
    target: Any
    target_frac_mass: float | None
    hold: Any
    chance_to_hold: float | None
    lost_after: int | None
    hours: float | None
    additive: dict
    status: Status
    unit_system: Any
    step: Any

    title = "After topping up with water"
    #: Lines of the job card to write on.
    card_blanks = (
        ("Reading now", "Instrument", "Sample temperature"),
        ("Leak found at", "Hours"),
        ("Topped up since", "Signature"),
    )

    # -- figures ---------------------------------------------------------------------------

    @property
    def blocked(self):
        """Never: what was done has an answer, whatever the circuit."""
        return False

    @property
    def steam(self):
        """Whether only water was lost."""
        return self.lost == STEAM

    @property
    def after(self):
        """The mix after the last top-up."""
        return self.mixture_of(self.states.full[-1], self.half_width)

    @property
    def strengths(self):
        """The mix after each top-up, in their order."""
        return tuple(self.mixture_of(state) for state in self.states.full)

    @property
    def lows(self):
        """The mix just before each top-up: stronger where only water was lost."""
        return tuple(self.mixture_of(state) for state in self.states.low)

    @property
    def total_m3(self):
        """All the water that was poured. [m3]."""
        return sum(self.topups_m3)

    @property
    def mean_m3(self):
        """Mean volume of a top-up. [m3]."""
        return self.total_m3 / len(self.topups_m3)

    @property
    def equal(self):
        """Whether all top-ups are alike."""
        return max(self.topups_m3) - min(self.topups_m3) < 1e-9 * self.mean_m3

    @property
    def total(self):
        """All the water that was poured, in the unit printed, as a quantity."""
        return self.as_told(self.total_m3)

    @property
    def rate_m3(self):
        """Water in 1,000 engine hours; None where no hours were told. [m3]."""
        return None if self.hours is None else self.total_m3 * 1000.0 / self.hours

    @property
    def carried(self):
        """What a content per litre is multiplied by, by dilution alone. [-]."""
        after = self.states.full[-1]
        return float(dilution.carried_by_dilution(self.inside, after, self.temp_k)[0])

    @property
    def additive_after(self):
        """Contents afterwards by dilution alone: what is used up is not counted. [mg/L]."""
        return {name: value * self.carried for name, value in self.additive.items()}

    @property
    def no_label(self):
        """Why no label may tell to top up with what is inside now."""
        return after_topups_words.no_label(self)

    # -- words -----------------------------------------------------------------------------

    @property
    def notes(self):
        """What to know before the steps: strength, standard, rate, contents."""
        return tuple(after_topups_words.notes(self))

    @property
    def steps(self):
        """Actions, in the order of the work."""
        return tuple(after_topups_words.steps(self))

    @property
    def rows(self):
        """The figures, with the strength after each top-up."""
        return tuple(after_topups_words.rows(self, len(self.topups_m3)))

    @property
    def card_rows(self):
        """The figures for the job card, with the last of many top-ups only."""
        return tuple(after_topups_words.rows(self, ON_CARD))

    @property
    def assumptions(self):
        """What the figures take for granted."""
        return tuple(after_topups_words.assumptions(self))

    @property
    def working_lines(self):
        """The balance in kilograms, and the textbook rule beside it."""
        return tuple(after_topups_words.working_lines(self))

    @property
    def odds_lines(self):
        """Chance to hold, give or take, and what to measure better."""
        return tuple(after_topups_words.odds_lines(self))

    def shown_in(self, show_in):
        """Return the same job in another unit system."""
        from .after_topups import after_topups

        return after_topups(**self.asked, show_in=show_in)

    def columns(self):
        """Return the figures of `to_frame`."""
        columns = {
            "capacity [L]": 1e3 * self.system.capacity_m3,
            "found before [mass share of glycol]": self.before.frac_mass,
            "lost before each top-up": self.lost,
            "top-ups [count]": len(self.topups_m3),
            "topped up [L]": 1e3 * self.total_m3,
            "after [mass share of glycol]": self.after.frac_mass,
        }
        columns |= self.frost_columns()
        columns["chance to hold [share]"] = self.chance_to_hold
        columns["standard lost with top-up [count]"] = self.lost_after
        rate = self.rate_m3
        columns["topped up in 1000 h [L]"] = None if rate is None else 1e3 * rate
        for name, value in self.additive_after.items():
            columns[f"{name} by dilution alone [mg/L]"] = value
        columns["status"] = self.status_words
        return columns
