"""Ratios measured in one run: import, property calls, rates, one job, the kernel. Not a test.

Run: python tests/benchmark.py
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time

import numpy as np

BASELINE = "import numpy, pint; ureg = pint.get_application_registry(); ureg.Quantity(1, 'liter')"
OURS = "import coolcalc; coolcalc.Q(1, 'liter')"


def seconds(code, kept=tempfile.mkdtemp(prefix="bytecode-")):  # noqa: B008
    """Time a fresh process whose bytecode is kept, as it is where a package is installed."""
    env = os.environ | {"PYTHONPYCACHEPREFIX": kept, "PYTHONDONTWRITEBYTECODE": ""}
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", code], check=True, env=env)
    return time.perf_counter() - start


def import_ratio(rounds=15):
    """Median of alternating runs, each in a fresh process."""
    for code in (BASELINE, OURS):
        seconds(code)  # warm the file cache
    pairs = [(seconds(BASELINE), seconds(OURS)) for _ in range(rounds)]
    base, ours = (statistics.median(column) for column in zip(*pairs, strict=True))
    return base, ours, ours / base


def each_us(call, times):
    call()
    rounds = []
    for _ in range(5):
        start = time.perf_counter()
        for _ in range(times):
            call()
        rounds.append((time.perf_counter() - start) / times)
    return 1e6 * min(rounds)


#: Function of `coolcalc.fluids`, forward or inverse, and what it is asked over. [K, Pa]
RATES = (
    ("freeze_temp_k", "forward", "w", None),
    ("frac_mass_from_freeze_temp_k", "inverse", "freeze", None),
    ("density_kg_m3", "forward", "w", (273.15, 393.15)),
    ("vapor_pressure_pa", "forward", "w", (273.15, 393.15)),
    ("boil_temp_k", "inverse", "w", (5e4, 3e5)),
    ("heat_capacity_j_kg_k", "forward", "w", (273.15, 393.15)),
    ("conductivity_w_m_k", "forward", "w", (273.15, 393.15)),
    ("viscosity_pa_s", "forward", "w", (273.15, 393.15)),
    ("refractive_index", "forward", "w", (283.15, 313.15)),
    ("frac_mass_from_refractive_index", "inverse", "index", (283.15, 313.15)),
)
BUDGET = {"forward": 20e6, "inverse": 10e6}


def best_seconds(call, rounds=5):
    """Shortest of several runs, the first one apart."""
    call()
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return min(times)


def rates(fluid="ethylene glycol", count=1_000_000):
    """Yield a line a property: million elements a second, and how far from a NumPy pass.

    The functions as they are called, checks included; strengths from 0 to 60 mass %.
    """
    from coolcalc import fluids

    rng = np.random.default_rng(2026)
    w = rng.uniform(0.0, 0.6, count)
    out = np.empty(count)
    for name, way, over, limits in RATES:
        at = () if limits is None else (rng.uniform(*limits, count),)
        if over == "freeze":
            first = fluids.freeze_temp_k(fluid, w)
        elif over == "index":
            first = fluids.refractive_index(fluid, w, *at)
        else:
            first = w
        call = getattr(fluids, name)
        ours = best_seconds(lambda: call(fluid, first, *at))  # noqa: B023
        columns = (first, *at) if at else (first, first)
        limit = best_seconds(lambda: np.add(*columns, out=out))  # noqa: B023
        yield (
            f"{way} {name}: {count / ours / 1e6:.0f} million elements a second "
            f"(budget {BUDGET[way] / 1e6:.0f}), {ours / limit:.0f} times a NumPy pass"
        )


#: CoolProp's name of a property, and that of `coolcalc.fluids`.
COOLPROP = {
    "density_kg_m3": "Dmass",
    "heat_capacity_j_kg_k": "Cpmass",
    "conductivity_w_m_k": "conductivity",
    "viscosity_pa_s": "viscosity",
}


def coolprop_rates(count=20_000):
    """Yield a line a property: the same through PropsSI and through one AbstractState.

    PropsSI takes an array of temperatures at one strength only; a state is asked one by one. Of
    refraction, boiling and the inverses CoolProp knows nothing.
    """
    import CoolProp
    from CoolProp.CoolProp import PropsSI

    rng = np.random.default_rng(2026)
    w, temp = rng.uniform(0.35, 0.59, count), rng.uniform(273.15, 373.15, count)
    state = CoolProp.AbstractState("INCOMP", "MEG")

    def freeze_one_by_one():
        for each in w[:2000]:
            PropsSI("T_FREEZE", "T", 300.0, "P", 101325, f"INCOMP::MEG[{each}]")

    def freeze_state():
        for each in w:
            state.set_mass_fractions([each])
            state.trivial_keyed_output(CoolProp.iT_freeze)

    def line(name, arrays, states, elements=count):
        fast, slow = elements / best_seconds(arrays, 3), count / best_seconds(states, 3)
        return (
            f"CoolProp, {name}: PropsSI {fast / 1e6:.2f}, AbstractState {slow / 1e6:.2f} "
            "million elements a second"
        )

    yield line("freeze_temp_k", freeze_one_by_one, freeze_state, 2000)
    for name, theirs in COOLPROP.items():
        key = CoolProp.CoolProp.get_parameter_index(theirs)

        def arrays(theirs=theirs):
            PropsSI(theirs, "T", temp, "P", 101325, "INCOMP::MEG[0.5]")

        def states(key=key):
            for each, at in zip(w, temp, strict=True):
                state.set_mass_fractions([each])
                state.update(CoolProp.PT_INPUTS, 101325, at)
                state.keyed_output(key)

        yield line(name, arrays, states)


def rows_per_second(count=100_000):
    from coolcalc.balance import exchange, ledger
    from coolcalc.product import GENERIC, WATER

    can = GENERIC["ethylene glycol concentrate"].si()
    shelf = (can, WATER.si("ethylene glycol"))
    rng = np.random.default_rng(2026)
    found = rng.uniform(0.2, 0.5, count)
    capacity = rng.uniform(0.005, 0.06, count)
    target = np.full(count, 0.507)
    inside = ledger.contents(can.fluid, capacity, found, 0.03 / 0.94, 4.6e-4, 293.15)
    limits = exchange.Limits(target, target)
    start = time.perf_counter()
    exchange.plan_exchange(inside, capacity, capacity, target, shelf, limits, 293.15)
    return count / (time.perf_counter() - start)


def system_jobs():
    """Yield the jobs about a system: capacity, growth, boiling."""
    import coolcalc as cc

    mix = cc.Product.generic("ethylene glycol concentrate").mix("50 % product")
    van = cc.CoolingSystem(capacity="10 L", capacity_error="0.5 L")
    tool = cc.Refractometer(scale="freeze point", made_for="ethylene glycol")
    before, after = tool.read("-37 °C"), tool.read("-25 °C")
    yield "expansion", lambda: cc.expansion(system=van, found=mix, room="1.5 L", coldest="-20 °C")
    yield "boil_margin", lambda: cc.boil_margin(found=mix, hottest="112 °C", system=van)
    yield (
        "capacity_from_swap",
        lambda: cc.capacity_from_swap(before=before, after=after, swapped="2 L", pour=cc.WATER),
    )


def frost_jobs():
    """Yield the frost standard: from a given low, from thirty winters as read, from their file."""
    import pathlib

    import coolcalc as cc
    from coolcalc.jobs.daily_minima import read_minima

    can = cc.Product.generic("ethylene glycol concentrate")
    asked = {"depot": "Upper yard", "pour": [can, cc.WATER]}
    file = pathlib.Path(__file__).resolve().parent.parent / "data" / "demo_winters.csv"
    read = read_minima(file, "Tamberlode Field")
    yield "of a given low", lambda: cc.frost_standard(low="-27 °C", low_error="3 K", **asked)
    yield "of thirty winters as read", lambda: cc.frost_standard(minima=read, **asked)
    yield (
        "of their file",
        lambda: cc.frost_standard(minima=file, column="Tamberlode Field", **asked),
    )


def main():
    base, ours, ratio = import_ratio()
    print(f"import: numpy + pint with a registry {base:.3f} s, coolcalc {ours:.3f} s: {ratio:.2f}")
    import coolcalc as cc
    from coolcalc import fluids, prints

    eg = "ethylene glycol"
    for name, call in (
        ("freeze_temp_k", lambda: fluids.freeze_temp_k(eg, 0.5)),
        ("frac_mass_from_freeze_temp_k", lambda: fluids.frac_mass_from_freeze_temp_k(eg, 240.0)),
        ("density_kg_m3", lambda: fluids.density_kg_m3(eg, 0.5, 293.15)),
        ("refractive_index", lambda: fluids.refractive_index(eg, 0.5, 293.15)),
        ("vapor_pressure_pa", lambda: fluids.vapor_pressure_pa(eg, 0.5, 373.15)),
        ("boil_temp_k", lambda: fluids.boil_temp_k(eg, 0.5, 101325.0)),
    ):
        print(f"one {name}: {each_us(call, 2000):.1f} us")
    for line in (*rates(), *coolprop_rates()):
        print(line)
    can = cc.Product.generic(f"{eg} concentrate")
    van = cc.CoolingSystem(capacity="10 L", capacity_error="0.5 L")
    tool = cc.Refractometer(made_for=eg)

    def job(found="-16 °C", **more):
        return cc.correct_mix(
            system=van, found=tool.read(found), target="-37 °C", pour=[can, cc.WATER], **more
        )

    coarse = cc.Refractometer(made_for=eg, error="4 K").read("-2 °C")

    def drawn():
        return cc.correct_mix(
            system=van, found=coarse, target="-37 °C", pour=[can, cc.WATER], aim=0.9
        )

    print(f"one correct_mix: {each_us(job, 50) / 1000:.2f} ms")
    print(f"with an aim: {each_us(lambda: job(aim=0.95), 50) / 1000:.2f} ms")
    print(f"with an aim, by draws: {each_us(drawn, 20) / 1000:.2f} ms")
    print(f"its odds: {each_us(lambda: str(job().odds), 20) / 1000:.2f} ms with the job")
    print(f"its text: {each_us(lambda: str(job()), 50) / 1000:.2f} ms with the job")
    print(f"its card as PDF: {each_us(lambda: prints.card_pdf(job()), 10) / 1000:.0f} ms")
    for name, call in system_jobs():
        print(
            f"one {name}, with its text: {each_us(lambda call=call: str(call()), 30) / 1000:.2f} ms"
        )
    for name, call in frost_jobs():
        print(f"one frost standard {name}: {each_us(call, 5) / 1000:.1f} ms")
    print(f"kernel, exact plans: {rows_per_second() / 1e6:.2f} million rows a second")


if __name__ == "__main__":
    main()
