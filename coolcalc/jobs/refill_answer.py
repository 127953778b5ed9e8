"""The answer of `refill`: its figures."""

import dataclasses
from typing import Any

import numpy as np

from .. import units
from ..balance import exchange, ladder, ledger
from ..errors import Status
from ..instruments import Interval
from ..mixture import Mixture
from . import refill_levels, refill_words, refill_working
from .after_work import AfterWork
from .refill_plan import Fill, Inside, at_ends


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class Refill(AfterWork):
    """What goes back, what to pour over what is still inside, and what to read afterwards.

    Attributes
    ----------
    asked : dict
        What the job was asked with.
    kind : str
        What is still inside: "old mix", "plain water" or "nothing".
    before, old : Mixture
        What is still inside; the old mix, which is what was caught, or None.
    low_m3 : float
        What was missing below the mark before the work. [m3]
    litres : dict of str to float or None
        As told, by argument. [m3]
    opened : tuple
        Parts that were opened, and the least and most share of the capacity that comes out then.
    start : Inside
        What is still inside, lowest, likeliest and highest.
    fill : Fill
    row : coolcalc.jobs.mix_plan.MixRow
        What is still inside, at its likeliest.
    plan : exchange.Plan
        Litres of the products as printed, over what is inside and poured back.
    shelf : tuple of Product
        What there was to pour.
    outcome : coolcalc.balance.spread.Spread or None
        The strength afterwards, the last liquid poured to the mark. [kg/kg]
    moves : pair of float or None
        What the strength moves by with the capacity, and with what came out. [kg/kg]
    chance_to_hold : float or None
    reach : Mixture or None
        Where the target cannot be reached: the nearest that can be.
    ways : tuple of refill_plan.WayOut
        Ways to the target, where it cannot be reached.
    status : Status
    """

    asked: dict
    system: Any
    found: Any
    offset_share: float
    before: Mixture
    old: Mixture | None
    kind: str
    low_m3: float
    litres: dict
    opened: tuple
    start: Inside
    fill: Fill
    row: Any
    plan: exchange.Plan
    shelf: tuple
    target: Any
    target_frac_mass: float
    outcome: Any
    moves: tuple | None
    chance_to_hold: float | None
    reach: Mixture | None
    ways: tuple
    status: Status
    unit_system: Any
    step: Any

    title = "Refill after a repair"
    card_blanks = (
        ("Went in", "Reading afterwards", "Instrument"),
        ("Level next morning", "Added", "Reading next morning"),
        ("Waste", "Signature"),
    )

    # -- litres ----------------------------------------------------------------------------

    @property
    def still_inside(self):
        """What is still inside at 95 %: lowest, likeliest and highest, as printed."""
        still = self.start.still
        return Interval(
            *(
                self.volume_quantity(float(each[0]))
                for each in (still.low_m3, still.value_m3, still.high_m3)
            )
        )

    @property
    def pour(self):
        """What to pour of each product, as printed; empty where it cannot be reached."""
        if self.blocked:
            return {}
        volumes = self.plan.pour_m3[0, :, 0]
        return {p: self.volume_quantity(each) for p, each in zip(self.shelf, volumes, strict=True)}

    @property
    def pour_back(self):
        """How much of the clean caught mix goes back, as printed; None where there is no answer."""
        return None if self.blocked else self.volume_quantity(self.fill.back_m3)

    @property
    def waste_m3(self):
        """What was caught and does not go back; None where it was not measured. [m3]."""
        caught = self.litres["caught"]
        return None if caught is None else max(caught - self.fill.back_m3, 0.0)

    def pours_m3(self):
        """Product and volume of what is poured, in pouring order. [m3]."""
        volumes = self.plan.pour_m3[0, :, 0]
        order = ladder.pouring_order(self.row.products)
        return [(self.shelf[at], float(volumes[at])) for at in order if volumes[at] > 0.0]

    @property
    def goes_in_m3(self):
        """What goes in at first, to the mark: glycol and water shrink only once mixed. [m3]."""
        return self.row.capacity_m3 - self.held_m3

    @property
    def may_go_in_m3(self):
        """The most that may go in, at 95 %. [m3]."""
        still = self.start.still
        of_capacity = (1.0 - float(still.per_capacity[0])) * float(still.capacity_half_m3[0])
        return self.goes_in_m3 + float(np.hypot(of_capacity, still.came_out_half_m3[0]))

    def stages(self):
        """Return the fills of a two-stage fill: volume and pours of each, as printed. [m3].

        Empty without one.
        """
        engine = self.litres["engine_only"]
        if engine is None:
            return ()
        share = engine / self.row.capacity_m3
        first = tuple(
            (product, float(ladder.round_down(volume * share, self.step.m3)))
            for product, volume in self.pours_m3()
        )
        second = tuple(
            (product, whole - part)
            for (product, whole), (_, part) in zip(self.pours_m3(), first, strict=True)
        )
        return ((engine, first), (self.row.capacity_m3 - engine, second))

    # -- what it gives ---------------------------------------------------------------------

    @property
    def after(self):
        """The mix that the printed figures give, the last one poured to the mark."""
        if self.blocked:
            return None
        return dataclasses.replace(
            self.before,
            frac_mass=float(np.clip(self.outcome.value[0], 0.0, 1.0)),
            half_width=self.half_width,
        )

    def ends(self):
        """Return the mixes if the least, and if the most, is inside that may be."""
        return tuple(
            dataclasses.replace(self.before, frac_mass=each, half_width=0.0)
            for each in at_ends(self.start, self.fill)
        )

    def without(self, side):
        """Return None: a side circuit that was not drained is part of what is still inside."""
        return None

    @property
    def causes(self):
        """What each gives of `half_width`: "found", "capacity" and "came out". [kg/kg]."""
        if self.blocked:
            return {}
        capacity, came_out = self.moves
        found = abs(float(self.outcome.parts["found"][0]))
        return {"found": found, "capacity": abs(capacity), "came out": abs(came_out)}

    @property
    def nothing_to_do(self):
        """Never: a system that was opened is filled."""
        return False

    def level_sign(self, went_in):
        """Return what it means that this much went in, and what to do, as a `LevelSign`.

        Parameters
        ----------
        went_in : text or Quantity
            [m3]
        """
        return refill_levels.level_sign(self, units.read("went_in", went_in, "volume"))

    @property
    def told_sign(self):
        """The `LevelSign` of what went in; None where that was not told, or there is no answer."""
        went_in = self.litres["went_in"]
        if self.blocked or went_in is None:
            return None
        return refill_levels.level_sign(self, went_in)

    @property
    def went_as_planned(self):
        """Whether the strength afterwards is that of the plan, for all that was told."""
        sign = self.told_sign
        return sign is None or sign.as_planned

    @property
    def chart_points(self):
        """Label and mix of each point of the figure."""
        points = super().chart_points
        if self.went_as_planned:
            return points
        return (*points[:-1], ("planned, not what is inside", points[-1][1]))

    @property
    def no_label(self):
        """Why no label may promise the strength: other litres went in than it is made of."""
        return "" if self.went_as_planned else self.told_sign.sentence

    # -- words -----------------------------------------------------------------------------

    @property
    def notes(self):
        """What to know before the steps."""
        return tuple(refill_words.notes(self))

    @property
    def steps(self):
        """Actions, in the order of the work; ways out where there is no answer."""
        return tuple(refill_words.steps(self))

    @property
    def rows(self):
        """The figures."""
        return tuple(refill_words.rows(self))

    @property
    def assumptions(self):
        """What the figures take for granted."""
        return tuple(refill_words.assumptions(self))

    @property
    def working_lines(self):
        """The balance in kilograms, and the textbook rule beside it."""
        return tuple(refill_working.working_lines(self))

    @property
    def odds_lines(self):
        """Chance to hold, give or take, and what to measure better."""
        return tuple(refill_words.odds_lines(self))

    def shown_in(self, show_in):
        """Return the same job in another unit system: rounded in it, so litres differ a little."""
        from .refill import refill

        return refill(**self.asked, show_in=show_in)

    def columns(self):
        """Return the figures of `to_frame`: litres as printed, unit in the name."""
        litres = units.KINDS["volume"].units["L"].factor
        still = self.start.still
        columns = {"capacity [L]": self.system.capacity_m3 / litres}
        for name, each in (
            ("low", still.low_m3),
            ("value", still.value_m3),
            ("high", still.high_m3),
        ):
            columns[f"still inside, {name} [L]"] = float(each[0]) / litres
        columns["inside [mass share of glycol]"] = self.before.frac_mass
        columns["target [mass share of glycol]"] = self.target_frac_mass
        columns["pour back [L]"] = None if self.blocked else self.fill.back_m3 / litres
        for at, product in enumerate(self.shelf):
            volume = float(self.plan.pour_m3[0, at, 0])
            columns[f"pour {product.name} [L]"] = None if self.blocked else volume / litres
        columns["after [mass share of glycol]"] = None if self.blocked else self.after.frac_mass
        ends = (None, None) if self.blocked else [each.frac_mass for each in self.ends()]
        columns["after if the least is inside [mass share of glycol]"] = ends[0]
        columns["after if the most is inside [mass share of glycol]"] = ends[1]
        columns |= self.frost_columns()
        columns["chance to hold [share]"] = self.chance_to_hold
        columns["status"] = self.status_words
        return columns

    @property
    def held_m3(self):
        """What is still inside at its likeliest. [m3]."""
        return float(ledger.volume_m3(self.row.inside, self.temp_k)[0])
