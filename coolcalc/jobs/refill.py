"""Refill after a repair: old mix still inside, clean mix to pour back, and what to pour."""

import numpy as np

from .. import units
from ..balance import residual, spread
from ..errors import InputError, Reader, Status, one_of
from ..fluids import FRAC_MASS_SETTLED_MAX
from ..mixture import Mixture
from ..system import FILLS
from .correct_mix import hold_of
from .inputs import (
    base_of,
    kept,
    read_found,
    read_low,
    read_shelf,
    read_system,
    read_target,
    read_temp,
    read_unit_system,
)
from .mix_plan import EQUAL, reach_row, row_of
from .refill_answer import Refill
from .refill_plan import Inside, after_fill, fill_of, may_miss, missed, moves_of, ways_out
from .refill_shares import read_opened

#: What there can be in block and heater when the filling begins.
OLD_MIX, PLAIN_WATER, NOTHING = "old mix", "plain water", "nothing"
INSIDES = (OLD_MIX, PLAIN_WATER, NOTHING)

#: Give or take of litres on a floor that nobody measured, where none is told; common practice,
#: no source. [-]
SPILLED_ERROR_SHARE = 0.5


def refill(
    *,
    system,
    target,
    pour,
    found=None,
    inside=OLD_MIX,
    caught=None,
    caught_error="0 L",
    spilled="0 L",
    spilled_error=None,
    opened=(),
    shares=None,
    pour_back="0 L",
    low="0 L",
    bucket=None,
    engine_only=None,
    went_in=None,
    temp="20 °C",
    show_in="metric",
):
    """Tell what to pour after a repair, over what is still inside.

    What is still inside is the capacity less what was caught, spilled and missing before, each
    with its give or take; where nothing was caught, it is guessed from the parts that were
    opened. An interval of it goes in, and an interval of the strength comes out.

    Parameters
    ----------
    system : CoolingSystem
    target : Strength, text or Quantity
        What the mix is to be afterwards, as for `correct_mix`.
    pour : sequence of Product
        What there is to pour, with `WATER`.
    found : Reading, Strength, Mixture or text, optional
        The old mix as it was read before the work; needed where some is still inside, or is
        poured back.
    inside : str
        What is still inside: "old mix", "plain water" (after a flush) or "nothing" (a dry engine).
    caught : text or Quantity, optional
        What was caught; left out where it was not measured. [m3]
    caught_error, spilled_error : text or Quantity
        Give or take at 95 %. Of what was spilled, half of it unless told (common practice, no
        source). [m3]
    spilled : text or Quantity
        What went on the floor, by guess. [m3]
    opened : sequence of str
        Keys of `coolcalc.jobs.refill_shares.OPENED_SHARES`: "radiator", "lower hose", "heater",
        "block plugs", "head". Needed where nothing was caught; a check on it where it was.
    shares : dict of str to pair of share or text, optional
        Least and most that comes out of a part, where it is not that of the table. [m3/m3]
    pour_back : text or Quantity
        Clean caught mix that may go back. As much of it goes back as the target allows. [m3]
    low : text or Quantity
        What was missing below the cold mark before the work. [m3]
    bucket : text or Quantity, optional
        A clean bucket: the products are then mixed in it before they go in. [m3]
    engine_only : text or Quantity, optional
        What the engine alone holds, filled on a stand and completed in the vehicle; only where
        nothing is inside. [m3]
    went_in : text or Quantity, optional
        What went in, in fact: the answer then says what that means. [m3]
    temp : text or Quantity
        Temperature at which litres are measured, on a cold engine. [K]
    show_in : str
        One of `coolcalc.units.SYSTEMS`: "metric", "US", "imperial".

    Returns
    -------
    Refill
        Also where the target cannot be reached: it then says what is within reach, and ways out,
        and carries no litres.

    Raises
    ------
    InputError
        The field, the value found, the limit and what to do.
    FormError
        If several inputs cannot be used: all of them.

    Examples
    --------
    >>> import coolcalc as cc
    >>> can = cc.Product.generic("ethylene glycol concentrate")
    >>> job = refill(
    ...     system=cc.CoolingSystem(capacity="8 US qt"), inside="plain water", caught="5 US qt",
    ...     target="50 % product", pour=[can, cc.WATER], show_in="US")
    >>> round(job.pour[can].to("US quart").m, 1)
    4.0
    """
    asked = kept(locals())
    pour = asked["pour"]
    reader = Reader()
    system_given = reader(read_system, system)
    shelf = reader(read_shelf, pour)
    temp_k = reader(read_temp, temp)
    kind = reader(one_of, "inside", inside, INSIDES)
    low_m3 = reader(read_low, low, system_given if kind == OLD_MIX else None)
    litres = {
        name: reader(_read_litres, name, value)
        for name, value in (
            ("caught", caught),
            ("caught_error", caught_error),
            ("spilled", spilled),
            ("spilled_error", spilled_error),
            ("pour_back", pour_back),
            ("bucket", bucket),
            ("engine_only", engine_only),
            ("went_in", went_in),
        )
    }
    parts = reader(read_opened, asked["opened"], asked["shares"])
    unit_system = reader(read_unit_system, show_in)
    old = None
    if shelf is not None and kind is not None:
        old = reader(_read_old, found, shelf, kind, litres["pour_back"])
    product = None
    if shelf is not None:
        product = base_of(shelf) if old is None else old.mixture.product
    wanted = None
    if product is not None and not product.is_water:
        wanted = reader(read_target, "target", target, product)
    reader.raise_if_any()

    told = _Told(system_given, kind, low_m3, litres, parts, unit_system)
    told.check()
    still = told.still_inside()
    volume = float(still.value_m3[0])
    old_frac = 0.0 if old is None else old.mixture.frac_mass
    before = Mixture(
        product=product,
        frac_mass=old_frac if kind == OLD_MIX else 0.0,
        half_width=old.mixture.half_width if kind == OLD_MIX else 0.0,
    )
    row = row_of(
        before,
        system_given.worked_m3,
        system_given.worked_m3 - volume,
        shelf,
        temp_k,
        drainable_m3=0.0,
    )
    start = Inside(row, still, old_frac, kind == OLD_MIX)
    step = units.measuring_step(system_given.worked_m3, unit_system.volume)
    mixed = litres["bucket"] is not None or litres["engine_only"] is not None
    fill = fill_of(start, wanted.frac_mass, litres["pour_back"], step.m3, mixed)
    status = Status(int(fill.plan.status[0]))
    outcome = reach = chance = moves = None
    ways = ()
    if system_given.fill != FILLS[0] and not _is_ready_mixed(system_given, shelf, fill):
        status |= Status.NOT_TO_BE_CORRECTED
    if missed(fill.plan)[0]:
        reach = Mixture(product=product, frac_mass=reach_row(row, wanted.frac_mass))
        why = _why_missed(shelf, reach.frac_mass, wanted.frac_mass)
        status = why | (status & Status.NOT_TO_BE_CORRECTED)
        ways = tuple(ways_out(start, wanted.frac_mass, shelf, step.m3, product.fluid))
    else:
        rise, bend = (old.mixture.half_width, old.bend) if old is not None else (0.0, 0.0)
        known = spread.Inputs(
            np.array([old_frac]),
            np.array([rise]),
            np.array([bend]),
            np.zeros(1),
            np.ones(1),
        )
        moves = moves_of(start, fill)
        function = after_fill(start, fill, moves)
        outcome = spread.spread_of(function, known)
        hold = hold_of(wanted, product.fluid)
        chance = float(spread.chance_to_hold(function, known, outcome, hold)[0])
        if may_miss(start, wanted.frac_mass):
            status |= Status.REFILL_MAY_MISS
    if old_frac > FRAC_MASS_SETTLED_MAX:
        status |= Status.START_NOT_SETTLED
    return Refill(
        asked=asked,
        system=system_given,
        found=None if old is None else old.told,
        offset_share=0.0 if old is None else old.offset_share,
        before=before,
        old=None if old is None else old.mixture,
        kind=kind,
        low_m3=low_m3,
        litres=litres,
        opened=parts,
        start=start,
        fill=fill,
        row=row,
        plan=fill.plan,
        shelf=shelf,
        target=wanted.told,
        target_frac_mass=wanted.frac_mass,
        outcome=outcome,
        moves=moves,
        chance_to_hold=chance,
        reach=reach,
        ways=ways,
        status=status,
        unit_system=unit_system,
        step=step,
    )


def _is_ready_mixed(system, shelf, fill):
    """Whether a circuit that is only filled ready-mixed is filled so, with one product."""
    poured = fill.plan.pour_m3[0, :, 0]
    alone = np.count_nonzero(poured > 0.0) == 1 and fill.back_m3 == 0.0
    return system.fill == FILLS[1] and alone and shelf[int(np.argmax(poured))].made_from is not None


def _why_missed(shelf, reach, target):
    """Return what is missing: something weaker, something stronger, or only the room. [kg/kg]."""
    strengths = [product.frac_mass for product in shelf]
    if reach > target and min(strengths) > target + EQUAL:
        return Status.NO_DILUENT
    if reach < target and max(strengths) < target - EQUAL:
        return Status.PRODUCT_TOO_WEAK
    return Status.REFILL_NOT_REACHED


#: Litres that may be left out.
_LEFT_OUT = ("caught", "spilled_error", "bucket", "engine_only", "went_in")


def _read_litres(name, value):
    return None if value is None and name in _LEFT_OUT else units.read(name, value, "volume")


def _read_old(found, shelf, kind, pour_back_m3):
    """Return the old mix as `Found`, or None where none is needed."""
    if kind == OLD_MIX or pour_back_m3:
        if found is None:
            why = "old mix is still inside" if kind == OLD_MIX else "caught mix is to go back"
            raise InputError(
                "found",
                "",
                f"nothing was entered, and {why}; give the reading of the old mix, or what it is "
                "by the book.",
            )
        return read_found(found, shelf)
    return None


class _Told:
    """The litres as they were told, and what they leave inside."""

    def __init__(self, system, kind, low_m3, litres, parts, unit_system):
        self.system, self.kind, self.low_m3 = system, kind, low_m3
        self.litres, (self.parts, *self.shares) = litres, parts
        self.unit = unit_system.volume

    def shown(self, volume_m3):
        return units.show(float(volume_m3), "volume", self.unit, 2)

    def came_out_m3(self):
        return self.litres["caught"] + self.litres["spilled"] + self.low_m3

    def error_m3(self):
        spilled = self.litres["spilled_error"]
        if spilled is None:
            spilled = SPILLED_ERROR_SHARE * self.litres["spilled"]
        return float(np.hypot(self.litres["caught_error"], spilled))

    def still_inside(self):
        """Return the `residual.Residual`."""
        capacity = np.array([self.system.worked_m3])
        error = self.system.capacity_error_m3
        if self.kind == NOTHING:
            zero = np.zeros(1)
            return residual.Residual(zero, zero, zero, zero, zero + error, zero, zero)
        if self.litres["caught"] is not None:
            return residual.still_inside(capacity, error, self.came_out_m3(), self.error_m3())
        return residual.still_inside_by_share(capacity, error, self.low_m3, *self.shares)

    def check(self):
        """Refuse litres that cannot have come out of, or cannot go into, this system."""
        capacity, caught = self.system.worked_m3, self.litres["caught"]
        most = capacity + self.system.capacity_error_m3
        for name in ("caught", "caught_error", "spilled", "spilled_error", "went_in"):
            if (self.litres[name] or 0.0) > most + (self.litres["spilled"] or 0.0):
                raise InputError(
                    name,
                    self.shown(self.litres[name]),
                    f"{self.shown(self.litres[name])} is more than the system holds "
                    f"({self.shown(capacity)}). Check both; if that much is true, the capacity is "
                    "larger.",
                )
        if caught is not None and self.litres["caught_error"] > max(caught, capacity / 10):
            raise InputError(
                "caught_error",
                self.shown(self.litres["caught_error"]),
                f"{self.shown(self.litres['caught_error'])} is more than was caught "
                f"({self.shown(caught)}): that is not measured. Leave both out and name the parts "
                "that were opened.",
            )
        if self.kind != NOTHING and caught is None and not self.parts:
            raise InputError(
                "caught",
                "",
                "nothing was entered, and no part that was opened: what is still inside is not "
                "known. Measure what was caught, or name the parts.",
            )
        if self.kind != NOTHING and caught is not None:
            self._check_caught(capacity)
        engine = self.litres["engine_only"]
        if engine is not None and self.kind != NOTHING:
            raise InputError(
                "engine_only",
                self.shown(engine),
                f"{self.shown(engine)} for the engine alone goes with a dry engine on a stand; "
                "say that nothing is inside, or leave it out.",
            )
        if engine is not None and not 0.0 < engine < capacity:
            raise InputError(
                "engine_only",
                self.shown(engine),
                f"{self.shown(engine)} is not between nothing and the capacity "
                f"({self.shown(capacity)}). Check both.",
            )
        back = self.litres["pour_back"]
        if engine is not None and back > 0.0:
            raise InputError(
                "pour_back",
                self.shown(back),
                f"{self.shown(back)} of caught mix and a fill in two stages are not planned "
                "together. Fill the engine on its stand with new mix, and keep the caught mix, "
                "labelled, for the vehicle; or leave engine_only out.",
            )
        if back > 0.0 and caught is None:
            raise InputError(
                "pour_back",
                self.shown(back),
                f"{self.shown(back)} is to go back, and what was caught is not told. Measure it "
                "and enter it: what goes back was caught.",
            )
        if caught is not None and back > caught:
            raise InputError(
                "pour_back",
                self.shown(back),
                f"{self.shown(back)} is more than was caught ({self.shown(caught)}). Only clean "
                "mix out of this system goes back.",
            )
        bucket = self.litres["bucket"]
        if bucket is not None and bucket < 0.05 * capacity:
            raise InputError(
                "bucket",
                self.shown(bucket),
                f"{self.shown(bucket)} is less than a twentieth of the capacity "
                f"({self.shown(capacity)}). Leave it out: the concentrate then goes in first.",
            )

    def _check_caught(self, capacity):
        out = self.came_out_m3()
        give = float(np.hypot(self.system.capacity_error_m3, self.error_m3()))
        if out > capacity + give:
            raise InputError(
                "caught",
                self.shown(self.litres["caught"]),
                f"{self.shown(out)} came out in all, caught, spilled and missing before: more than "
                f"the system holds ({self.shown(capacity)}). Check them; if that much came out, "
                "the capacity is larger.",
            )
        if out <= 0.0:
            raise InputError(
                "caught",
                self.shown(0.0),
                f"{self.shown(0.0)} came out in all: the system is full. Enter what came out.",
            )
