"""The answer of `compare_standards`: one standard for all depots, or one each."""

import dataclasses
from typing import Any, NamedTuple

from .. import cautions, fluids, units
from ..answers import Line, Row
from ..balance.composition import REFERENCE_TEMP_K, density_kg_m3
from .frost_rows import ratio_words
from .mix_plan import DUST
from .printed import Printed

#: Moves that a note names, the worst first.
NAMED_MOVES = 4


class DepotCompared(NamedTuple):
    """One depot.

    Attributes
    ----------
    standard : FrostStandard
    coolant_m3 : float
        What its vehicles hold. [m3]
    each_m3, all_m3 : float
        Product in that, with a standard of its own and with one for all. [m3]
    """

    standard: Any
    coolant_m3: float
    each_m3: float
    all_m3: float


class Move(NamedTuple):
    """A vehicle of one depot that stands in another.

    Attributes
    ----------
    home, stands : str
    short_k : float
        By how much its fill falls short of what that depot asks for; below 0 it does not. [K]
    chance : float or None
        That the air there gets colder than its freezing point in a winter; None where the low was
        only given, or is that of a night stop. [-]
    stop : str
        Night stop of that depot that asks for it; "" for the depot itself.
    """

    home: str
    stands: str
    short_k: float
    chance: float | None
    stop: str


def product_per_mix(mixture):
    """Product in a volume of mix, measured at 20 °C. [m3/m3]."""
    product, share = mixture.product, mixture.share
    per_glycol = share.glycol / product.share.glycol
    density = density_kg_m3(mixture.fluid, share, REFERENCE_TEMP_K, product.additive_volume_m3_kg)
    return float(density * per_glycol / product.density_kg_m3)


def _rounded(value):
    """Return a figure for buying: three digits, no finer."""
    return f"{float(f'{value:.3g}'):.10g}"


@dataclasses.dataclass(frozen=True, kw_only=True, eq=False)
class StandardsCompared(Printed):
    """What one standard for all costs against one each.

    Attributes
    ----------
    asked : dict
        What the job was asked with.
    depots : tuple of DepotCompared
    one_for_all : FrostStandard
        The strongest of the standards.
    price : float or None
        Of a litre of product.
    """

    asked: dict
    depots: tuple
    one_for_all: Any
    price: float | None
    unit_system: Any
    step: Any

    title = "One frost standard for all depots, or one each"
    no_label = "Standards were compared, nothing was poured."

    # -- figures ---------------------------------------------------------------------------

    @property
    def before(self):
        """The mix of one standard for all: per cent are of its product."""
        return self.one_for_all.fill

    @property
    def each_m3(self):
        """Product with one standard each. [m3]."""
        return sum(depot.each_m3 for depot in self.depots)

    @property
    def all_m3(self):
        """Product with one standard for all. [m3]."""
        return sum(depot.all_m3 for depot in self.depots)

    @property
    def fills(self):
        """Different strengths to fill with one standard each, whole per cent of product."""
        return tuple(sorted({self._percent(depot.standard.fill) for depot in self.depots}))

    @staticmethod
    def _percent(mixture):
        return round(100.0 * mixture.strength().share)

    @property
    def moves(self):
        """Every vehicle in every depot but its own, with one standard each: `Move` by move."""
        return tuple(
            self._move(home.standard, stands.standard)
            for home in self.depots
            for stands in self.depots
            if home is not stands
        )

    @staticmethod
    def _move(home, stands):
        freeze_k = float(fluids.freeze_temp_k(home.product.fluid, home.standard.fill))
        low, stop = stands.winter_low, stands.standard.where
        # The depot's own air, not the station's.
        air_to_station_k = low.low_k - stands.standard.depot_air_k
        years = None if stop or low.years is None else low.years_of(freeze_k + air_to_station_k)
        chance = None if years is None or years != years else min(1.0 / years, 1.0)
        return Move(home.depot, stands.depot, freeze_k - stands.standard.fill_need_k, chance, stop)

    @property
    def short_moves(self):
        """Moves to a depot that asks for more than the vehicle's fill, the worst first."""
        short = [move for move in self.moves if move.short_k > DUST]
        return tuple(sorted(short, key=lambda move: -move.short_k))

    @property
    def short_depots(self):
        """Depots whose frost is not met by their own fill, nor by one for all."""
        return tuple(
            depot.standard.depot for depot in self.depots if self._short_all_k(depot) > DUST
        )

    def _short_all_k(self, depot):
        """By how much one for all falls short of what a depot asks for. [K]."""
        freeze_k = self.one_for_all.fill.freeze_temp.m_as("kelvin")
        return freeze_k - depot.standard.standard.fill_need_k

    @property
    def over_ceiling(self):
        """Depots whose own ceiling one for all passes."""
        fill = self.one_for_all.standard.fill
        return tuple(
            depot.standard.depot
            for depot in self.depots
            if fill > depot.standard.needs.ceiling.counted + DUST
        )

    @property
    def beyond_shelf(self):
        """Depots where what is listed cannot be mixed as strong as one for all."""
        fill = self.one_for_all.standard.fill
        return tuple(
            depot.standard.depot
            for depot in self.depots
            if fill > depot.standard.needs.reach.most + DUST
        )

    @property
    def unlike(self):
        """In what the standards were not set alike, in words."""
        told = {
            "return period": {depot.standard.winter_low.years for depot in self.depots},
            "confidence": {depot.standard.needs.chance for depot in self.depots},
            "margin": {depot.standard.needs.margin_k for depot in self.depots},
            "mixing": {depot.standard.needs.mixing for depot in self.depots},
            "water between tests": {depot.standard.needs.lost for depot in self.depots},
            "instrument": {depot.standard.tool for depot in self.depots},
            "what is switched off": {depot.standard.needs.without for depot in self.depots},
        }
        return tuple(name for name, values in told.items() if len(values) > 1)

    def cooling_of(self, depot):
        """Return what one for all gives away in a depot against its own fill."""
        return self.one_for_all.cooling_against(depot.standard.standard.fill)

    # -- words -----------------------------------------------------------------------------

    def _money(self, volume_m3):
        if self.price is None:
            return ""
        cost = units.to_display(volume_m3, "volume", "L") * self.price
        return f" (cost {_rounded(cost)}, at {self.price:.2f} a litre)"

    def _litres(self, volume_m3):
        unit = self.unit_system.volume
        return f"{_rounded(units.to_display(volume_m3, 'volume', unit))} {unit}"

    def _less(self, volume_m3):
        same = volume_m3 < DUST * self.all_m3
        return "as much" if same else f"{self._litres(volume_m3)}{self._money(volume_m3)} less"

    @property
    def notes(self):
        """Product, cooling and mistakes of either way."""
        more = self.all_m3 - self.each_m3
        fills = ", ".join(str(each) for each in self.fills)
        count = "1 strength" if len(self.fills) == 1 else f"{len(self.fills)} strengths"
        return (
            f"One for all: fill every depot to {self.mix_and_frost(self.one_for_all.fill)} "
            f"(that of {self.one_for_all.depot}). Product in all vehicles: about "
            f"{self._litres(self.all_m3)}{self._money(self.all_m3)}.",
            f"One each: {count} to mix and label ({fills} % of {self.product_word}). Product in "
            f"all vehicles: about {self._litres(self.each_m3)}{self._money(self.each_m3)}, "
            f"{self._less(more)}.",
            *self._short_note(),
            self._mistakes_note(),
            self._cooling_note(),
        )

    def _cooling_note(self):
        worst = min(self.depots, key=lambda depot: depot.standard.standard.fill)
        ratio = ratio_words(self.cooling_of(worst).at_fixed_pump.heat_rejected)
        return (
            f"Cooling, with one for all: heat that the radiators of {worst.standard.depot} (the "
            f"weakest fill) give off, against their own fill, {ratio}; pump and air the same."
        )

    def _mistakes_note(self):
        short = self.short_moves
        if not short:
            return "Mistakes: the frost of no depot asks for more than the fill of another."
        named = "; ".join(self._move_words(move) for move in short[:NAMED_MOVES])
        more = f"; and {len(short) - NAMED_MOVES} more" if len(short) > NAMED_MOVES else ""
        with_all = sum(self._short_all_k(depot) > DUST for depot in self.depots)
        rest = (
            "With one for all there are none."
            if not with_all
            else "With one for all, what is left are the depots that are short either way."
        )
        return (
            f"Mistakes: with one each, of {len(self.moves)} ways to stand in another depot "
            f"{len(short)} ask for more than the vehicle has: {named}{more}. {rest} One each is "
            "for vehicles that stay; where they are lent or stand over night elsewhere, enter that "
            "place as a night stop, or take one for all."
        )

    def _move_words(self, move):
        at = f" (its night stop {move.stop})" if move.stop else ""
        text = f"{move.home} in {move.stands}{at}, short by {self.difference_words(move.short_k)}"
        if move.chance is None:
            return text
        chance = f"{100 * move.chance:.0f} %" if move.chance >= 0.01 else "under 1 %"
        return f"{text} (colder than its freezing point in {chance} of winters)"

    def _short_note(self):
        if self.short_depots:
            yield (
                f"Whichever way: what {', '.join(self.short_depots)} asks for is not met. There it "
                "takes something else as well; see that depot's own standard."
            )
        if self.over_ceiling:
            yield (
                f"One for all is stronger than the ceiling of {', '.join(self.over_ceiling)}: "
                "there it is no choice."
            )
        if self.beyond_shelf:
            yield (
                f"What is listed at {', '.join(self.beyond_shelf)} cannot be mixed as strong as "
                "one for all: list a stronger product there, or take one each."
            )
        if self.unlike:
            yield (
                f"Not set alike: {', '.join(self.unlike)}. Fills that rest on different terms are "
                "compared here; set all depots on the same."
            )

    @property
    def steps(self):
        """How to choose."""
        return (
            "Find out which vehicles stand over night in another depot than their own, and how "
            "often.",
            "If many do, take one standard for all, where no ceiling forbids it. If none do, take "
            "one each, and mark every vehicle and every drum with its depot.",
            "Hang up one sheet a depot either way: the limits of a reading hang on its instrument.",
        )

    @property
    def rows(self):
        """Depot by depot."""
        rows = []
        for depot in self.depots:
            own = depot.standard
            rows.append(
                Row(
                    own.depot,
                    f"{own.decides} decides; own fill {self._percent(own.fill)} %, "
                    f"{self._litres(depot.each_m3)} of {self.product_word} in "
                    f"{self._litres(depot.coolant_m3)}; with one for all "
                    f"{self._litres(depot.all_m3)}, heat of the radiators "
                    f"{ratio_words(self.cooling_of(depot).at_fixed_pump.heat_rejected)}",
                )
            )
        return tuple(rows)

    @property
    def cautions(self):
        """What must be printed with it."""
        return cautions.for_work_on_coolant(self.one_for_all.product.fluid)

    @property
    def assumptions(self):
        """What the figures take for granted."""
        return (
            "Product is what the vehicles hold when all are filled so; what is lost and what goes "
            "to waste in changing over is not in it.",
            "How often vehicles stand elsewhere is not known here; each move is told for one "
            "vehicle that stands there all winter.",
            "Short by: all margins of the depot where it stands are counted. The chance is that of "
            "the air there alone, without any margin or doubt.",
            *self.one_for_all.assumptions[-1:],
        )

    @property
    def source_keys(self):
        """Keys of the sources that the figures rest on."""
        keys = (key for depot in self.depots for key in depot.standard.source_keys)
        return tuple(dict.fromkeys(keys))

    @property
    def working_lines(self):
        """Product, depot by depot."""
        lines = []
        for depot in self.depots:
            own = depot.standard
            per_mix = depot.each_m3 / depot.coolant_m3 if depot.coolant_m3 else 0.0
            lines.append(
                Line(
                    own.depot,
                    f"{self._litres(depot.coolant_m3)} × {per_mix:.3f} = "
                    f"{self._litres(depot.each_m3)} at {self._percent(own.fill)} %: a litre of mix "
                    "takes a little more than its share, since volumes shrink on mixing.",
                )
            )
        return tuple(lines)

    @property
    def odds_lines(self):
        """Every move that is too weak."""
        return tuple(
            Line(f"{move.home} in {move.stands}", self._move_words(move))
            for move in self.short_moves
        )

    def shown_in(self, show_in):
        """Return the same comparison in another unit system."""
        from .compare_standards import compare_standards

        return compare_standards(**self.asked, show_in=show_in)

    def to_frame(self):
        """Return one row a depot as a pandas DataFrame; the unit stands in the column's name."""
        import pandas as pd

        return pd.DataFrame(
            {
                "depot": depot.standard.depot,
                "decides": depot.standard.decides,
                "coolant [L]": 1e3 * depot.coolant_m3,
                "own fill [% product]": self._percent(depot.standard.fill),
                "product, one each [L]": 1e3 * depot.each_m3,
                "product, one for all [L]": 1e3 * depot.all_m3,
                "heat of radiator, one for all over own": float(
                    self.cooling_of(depot).at_fixed_pump.heat_rejected.value
                ),
                "short by [K]": depot.standard.standard.short_k,
            }
            for depot in self.depots
        )
