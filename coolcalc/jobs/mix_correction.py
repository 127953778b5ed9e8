"""The answer of `correct_mix`, and how it is put into words."""

import dataclasses

from .. import cautions, fluids, units
from ..answers import Answer, Row
from ..balance import ledger
from ..errors import BLOCKED, REASONS, Status
from ..fluids.density import SOURCES as DENSITY_SOURCES
from ..fluids.freezing import BOUND_SOURCES
from ..fluids.freezing import SOURCES as FREEZE_SOURCES
from ..instruments import Interval, Reading, freeze_interval
from ..mixture import Mixture
from ..product import GENERIC
from ..strength import BASIS_SHORT, BASIS_WORDS, OF_PRODUCT, Strength
from ..system import CoolingSystem
from ..units import Q
from .mix_notes import mix_notes, reach_words
from .mix_working import working_lines

COLD = "cold to the hand"

DILUTE_AND_READ = (
    "dilute a sample with as much water, read that, and take twice its per cent of concentrate"
)


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class MixCorrection(Answer):
    """What to take out and pour to correct a mix, and what to read afterwards.

    Attributes
    ----------
    system : CoolingSystem
    found, target : Reading, Strength, Mixture or Quantity
        As they were told.
    before : Mixture
        What was found.
    target_frac_mass : float
        Glycol over glycol + water. [kg/kg]
    edge_aimed : bool
        Whether the litres aim at the weak edge of what is near enough to the target, since the
        product that is poured lies between the two.
    shelf : tuple of Product
        What there was to pour.
    temp_k, low_m3 : float
        Temperature of the litres; what is missing below the mark. [K, m3]
    band : tuple of float
        Weakest and strongest mix that is left alone. [kg/kg]
    step : coolcalc.units.MeasuringStep
        Measuring step of the litres.
    plan, exact : coolcalc.balance.exchange.Plan
        Rounded, as printed, and unrounded.
    status : Status
    half_width : float
        Give or take of the strength afterwards, the printed litres held fixed. [kg/kg]
    causes : dict
        What each input gives of it. [kg/kg]
    reach : Mixture or None
        Where the target cannot be reached: what one drain and fill gives.
    """

    system: CoolingSystem
    found: object
    before: Mixture
    target: object
    target_frac_mass: float
    edge_aimed: bool
    shelf: tuple
    temp_k: float
    low_m3: float
    band: tuple
    band_given: bool
    unit_system: object
    step: object
    plan: object
    exact: object
    inside: object
    status: Status
    half_width: float
    causes: dict
    reach: Mixture | None

    title = "Correct the mix"

    # -- figures ---------------------------------------------------------------------------

    @property
    def blocked(self):
        """Whether there are no litres to give."""
        return bool(self.status & BLOCKED)

    @property
    def drain(self):
        """What to take out, as printed; None where the target cannot be reached."""
        return None if self.blocked else self._litres(self.plan.drain_m3[0, 0])

    @property
    def pour(self):
        """What to pour of each product, as printed; empty where the target cannot be reached."""
        if self.blocked:
            return {}
        return {
            product: self._litres(volume)
            for product, volume in zip(self.shelf, self.plan.pour_m3[0, :, 0], strict=True)
        }

    def _litres(self, volume_m3):
        unit = self.unit_system.volume
        shown = round(units.to_display(float(volume_m3), "volume", unit), self.step.decimals)
        return Q(shown, units.KINDS["volume"].units[unit].pint)

    @property
    def after(self):
        """The mix that the printed figures give; None where the target cannot be reached.

        Its product is the one that old and new mix are compared with; additives of two products
        are not told apart in it.
        """
        if self.blocked:
            return None
        return Mixture(
            product=self.before.product, frac_mass=float(ledger.frac_mass(self.plan.after)[0])
        )

    def expect(self, tool=None):
        """Return what to read afterwards.

        Parameters
        ----------
        tool : Refractometer, optional
            The instrument of the second reading, whose own error is added; without it, the
            freezing point itself.

        Returns
        -------
        Interval or None
            Lowest, likeliest and highest, as quantities; None where the target cannot be
            reached. Where a strength beyond 60 mass % of glycol is likely, the ends are those of
            the band of the freezing point over all strengths that are likely.

        Raises
        ------
        InputError
            If the scale was made for another glycol.
        """
        if self.blocked:
            return None
        return Interval(*(Q(each, "kelvin").to("degC") for each in self.expected_k(tool)[:3]))

    def expected_k(self, tool=None):
        """Return what to read afterwards as a `coolcalc.instruments.FreezeInterval`. [K]."""
        if tool is None:
            return freeze_interval(self.before.fluid, self.after.frac_mass, self.half_width)
        tool.must_suit(self.before.fluid, "tool")
        return tool.expect(self.after.frac_mass, self.half_width)

    @property
    def reasons(self):
        """What the status means, as `coolcalc.errors.Reason`, one a flag."""
        return tuple(reason for flag, reason in REASONS.items() if flag & self.status)

    # -- words -----------------------------------------------------------------------------

    def _volume(self, volume_m3, digits=None):
        digits = self.step.decimals if digits is None else digits
        return units.show(float(volume_m3), "volume", self.unit_system.volume, digits)

    def temp_words(self, temp_k, digits=0):
        """Return a temperature as printed. [K]."""
        return units.show(temp_k, "temperature", self.unit_system.temperature, digits)

    def freezing_words(self, mixture):
        """Return the freezing point of a mix, or its bounds, as printed."""
        if mixture.frac_mass <= fluids.FRAC_MASS_SETTLED_MAX:
            return f"about {self.temp_words(mixture.freeze_temp.m)}"
        # Past the lowest freezing point more glycol protects less: nothing to count on.
        low, high = mixture.freeze_band
        return f"not settled: between {self.temp_words(low.m)} and {self.temp_words(high.m)}"

    def strength_words(self, mixture):
        """Return the strength of a mix as printed: a whole per cent of what is poured."""
        return f"{100 * mixture.strength().share:.0f} % of {self.product_word}"

    @property
    def product_word(self):
        """What strengths are per cent of, as the trade says it."""
        return "concentrate" if self.before.product.is_concentrate else "product"

    def share_of_concentrate(self, mixture):
        """Share of the generic concentrate that has this strength. [m3/m3]."""
        concentrate = GENERIC.get(f"{mixture.fluid} concentrate", mixture.product)
        return Mixture(product=concentrate, frac_mass=mixture.frac_mass).strength().share

    def _expected(self):
        tool = self.found.instrument if isinstance(self.found, Reading) else None
        expected = self.expected_k(tool)
        warm, cold = self.temp_words(expected.weak_k), self.temp_words(expected.low_k)
        if not expected.weak_settled:
            return f"nothing to count on; {DILUTE_AND_READ}"
        if not expected.settled:
            # The strong end of the span may freeze warmer than its weak end.
            end = fluids.freeze_temp_k(self.before.fluid, fluids.FRAC_MASS_SETTLED_MAX)
            return (
                f"{self.temp_words(expected.high_k)} or colder; past {self.temp_words(end)} no "
                f"scale is settled, so {DILUTE_AND_READ}"
            )
        if warm == cold:
            return f"about {warm}"
        return f"{warm} to {cold}"

    def _expected_strength(self):
        """Say what a second reading in per cent shows, on the basis of the first."""
        basis = self.found.basis if isinstance(self.found, Strength) else OF_PRODUCT
        total = (self.half_width**2 + self.before.half_width**2) ** 0.5
        weak, strong = (
            100 * dataclasses.replace(self.after, frac_mass=edge).strength(basis).share
            for edge in (
                max(self.after.frac_mass - total, 0.0),
                min(self.after.frac_mass + total, 1.0),
            )
        )
        words = f"% of {self.product_word}" if basis == OF_PRODUCT else BASIS_SHORT[basis]
        span = f"{weak:.0f}" if f"{weak:.0f}" == f"{strong:.0f}" else f"{weak:.0f} to {strong:.0f}"
        return f"{span} {words}"

    @property
    def poured(self):
        """Product and volume of what is poured, in pouring order: the strongest first."""
        amounts = zip(self.shelf, self.plan.pour_m3[0, :, 0], strict=True)
        poured = [(product, volume) for product, volume in amounts if volume > 0.0]
        return sorted(poured, key=lambda pair: -pair[0].frac_mass)

    @property
    def notes(self):
        """What to know before the steps."""
        return mix_notes(self)

    @property
    def steps(self):
        """Actions, in the order of the work."""
        if self.blocked and self.status & Status.IN_BAND:
            return (
                "The strength is near enough to the target; what is listed would change it. Make "
                f"up the level with mix of {self.strength_words(self.before)}.",
            )
        if self.blocked:
            return tuple(
                reason.next_step for flag, reason in REASONS.items() if flag & self.status & BLOCKED
            )
        if self._nothing_to_do and self.status & Status.ONE_DRAIN_GIVES_PART:
            return (
                "Pour nothing yet: there is no room, and nothing comes out at this drain.",
                "Find what does come out (lower hose, block plugs, as the maker's handbook says), "
                "with the engine cold to the hand, and enter that figure.",
            )
        if self._nothing_to_do:
            return (
                "Leave the mix as it is: take nothing out, pour nothing.",
                "Read again at the next service.",
            )
        return (*self._drain_steps(), *self._pour_steps(), *self._finish_steps())

    @property
    def _nothing_to_do(self):
        return self.plan.drain_m3[0, 0] == 0.0 and not self.poured

    def _drain_steps(self):
        drained = self.plan.drain_m3[0, 0]
        steps = [f"Engine off and {COLD}, heater control fully open."]
        if drained > 0.0:
            text = f"Take out {self._volume(drained)} into a clean measured container."
            if self.system.drainable_m3 is None:
                text += (
                    " If less comes out, pour nothing yet: enter what came out as drain "
                    "figure; the new answer counts what is already out."
                )
            steps.append(text)
        return steps

    def _pour_steps(self):
        return [
            f"Pour {self._volume(volume)} of {product.name}"
            + (
                ", slowly; if it does not all go in, air is trapped."
                if at == 0
                else ", on top of it."
            )
            for at, (product, volume) in enumerate(self.poured)
        ]

    def _finish_steps(self):
        drained = self.plan.drain_m3[0, 0]
        steps = [
            "Close the system. Run the engine with the heater on hot until the thermostat has "
            "opened and the mix has gone round, before the vehicle stands in frost: until then a "
            "pocket of weak mix can freeze.",
            f"Stop, and let it cool until it is {COLD}. Check the level; make up what is missing "
            f"with mix of {self.strength_words(self.after)}, mixed in a clean can.",
        ]
        if isinstance(self.found, Reading):
            tool = self.found.instrument.name
            steps.append(f"Read again on the same {tool}: expect {self._expected()}.")
        else:
            joint = ", a freezing point of" if self.expected_k().weak_settled else ". As to frost:"
            steps.append(
                f"Read again: expect {self._expected_strength()}{joint} {self._expected()}."
            )
        if self.status & Status.ONE_DRAIN_GIVES_PART:
            steps.append(
                f"That is not yet the target ({self.target_words}): enter the new reading here "
                "for the next drain."
            )
        if drained > 0.0:
            steps.append(
                f"{self._volume(drained)} of old mix is waste: closed, labelled “used coolant”."
            )
        return steps

    @property
    def target_words(self):
        """The target as it was told."""
        if isinstance(self.target, Strength):
            return self._told(self.target)
        return self.temp_words(self.target.m_as("kelvin"), 1)

    def _found_words(self):
        if isinstance(self.found, Reading):
            return f"{self.temp_words(self.found.temp_k, 1)} on the {self.found.instrument.name}"
        if isinstance(self.found, Mixture):
            return self.strength_words(self.found)
        return self._told(self.found)

    def _told(self, strength):
        if strength.basis != OF_PRODUCT:
            return str(strength)
        return f"{100 * strength.share:.3g} % of {self.product_word}"

    @property
    def rows(self):
        """The figures behind the steps."""
        rows = [
            Row("Capacity", self._volume(self.system.capacity_m3)),
            Row("Found", self._found_words()),
            Row("Found, as strength", self.strength_words(self.before)),
            Row("Freezing point as found", self.freezing_words(self.before)),
            Row("Target", self.target_words),
        ]
        if self.low_m3 > 0.0:
            rows.append(Row("Missing below the mark", self._volume(self.low_m3)))
        if self.blocked:
            rows.append(Row("Within reach", reach_words(self)))
            return tuple(rows)
        rows.append(Row("Take out", self._volume(self.plan.drain_m3[0, 0])))
        rows += [Row(f"Pour {p.name}", self._volume(volume)) for p, volume in self.poured]
        rows += [
            Row("Strength afterwards", self.strength_words(self.after)),
            Row("Freezing point afterwards", self.freezing_words(self.after)),
            Row("Expect to read", self._expected()),
            Row("To waste", self._volume(self.plan.drain_m3[0, 0])),
        ]
        return tuple(rows)

    @property
    def cautions(self):
        """What must be printed with the steps."""
        return cautions.for_work_on_coolant(self.before.fluid)

    @property
    def assumptions(self):
        """What the figures take for granted."""
        known = self.system.capacity_error_m3
        lines = [
            f"The system holds {self._volume(self.system.capacity_m3)} full to the cold mark"
            + (
                f", give or take {self._volume(known)}."
                if known
                else ", taken as exact: no give or take was entered."
            ),
            f"Litres are measured at {self.temp_words(self.temp_k)} on a cold engine; what comes "
            "out is well mixed.",
            f"The old mix carries additives like {self.before.product.name}.",
            "The freezing point is that of the first ice crystals, additives not counted, with no "
            "margin in it; it says nothing of when a block bursts.",
            f"“% of product” means {BASIS_WORDS[OF_PRODUCT]}; the product is "
            f"{self.before.product.name}.",
        ]
        if self.system.drainable_m3 is None:
            lines.append("As much comes out at the drain as is asked for: no figure was entered.")
        if isinstance(self.found, Strength) and not self.found.half_width:
            lines.append("The strength found is taken as exact: no give or take was entered.")
        if isinstance(self.found, Reading):
            error = units.show(
                self.found.instrument.error_k,
                "temperature difference",
                self.unit_system.temperature_difference,
                1,
            )
            lines.append(
                f"The {self.found.instrument.name} reads true to {error}, 95 times of 100."
            )
        lines += [self._made_of(product) for product in self.shelf if not product.is_water]
        return tuple(lines)

    def _made_of(self, product):
        glycol, water, additive = (100 * part for part in product.share)
        return (
            f"{product.name}: {glycol:.0f} % glycol, {water:.0f} % water, {additive:.0f} % "
            f"additives by mass, {product.density_kg_m3 / 1000:.3f} kg/L at 20 °C."
        )

    @property
    def source_keys(self):
        """Keys of the sources of the figures."""
        fluid = self.before.fluid
        keys = [*FREEZE_SOURCES[fluid], *DENSITY_SOURCES[fluid]]
        if isinstance(self.found, Reading):
            keys.append("astm-d3321")
        keys.append("astm-d6210")
        if self.before.frac_mass > fluids.FRAC_MASS_SETTLED_MAX:
            keys += BOUND_SOURCES[fluid]
        return tuple(dict.fromkeys(keys))

    @property
    def working_lines(self):
        """The balance, the textbook rule, and the other meanings, with hundredths."""
        return working_lines(self)

    def columns(self):
        """Return the figures of `to_frame`: litres as printed, unit in the name."""
        litres = units.KINDS["volume"].units["L"].factor
        columns = {
            "capacity [L]": self.system.capacity_m3 / litres,
            "found [mass share of glycol]": self.before.frac_mass,
            "target [mass share of glycol]": self.target_frac_mass,
            "drain [L]": None if self.blocked else float(self.plan.drain_m3[0, 0]) / litres,
        }
        for product, volume in zip(self.shelf, self.plan.pour_m3[0, :, 0], strict=True):
            columns[f"pour {product.name} [L]"] = None if self.blocked else float(volume) / litres
        expected = self.expect()
        columns["after [mass share of glycol]"] = None if self.blocked else self.after.frac_mass
        for name in ("low", "value", "high"):
            column = f"freezing point afterwards, {name} [°C]"
            columns[column] = None if expected is None else getattr(expected, name).m_as("degC")
        columns["status"] = ", ".join(reason.code for reason in self.reasons) or "plain"
        return columns
