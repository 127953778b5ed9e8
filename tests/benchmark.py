"""Ratios measured in one run: import, property calls, one job, the kernel. Not a test.

Run: python tests/benchmark.py
"""

import statistics
import subprocess
import sys
import time

import numpy as np

BASELINE = "import numpy, pint; ureg = pint.get_application_registry(); ureg.Quantity(1, 'liter')"
OURS = "import coolcalc; coolcalc.Q(1, 'liter')"


def seconds(code):
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", code], check=True)
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


def elements_per_second(count=1_000_000):
    """Rates of the vapour pressure and its inverse, and of a NumPy pass over the same memory."""
    from coolcalc import fluids

    rng = np.random.default_rng(2026)
    frac, temp_k = rng.uniform(0.0, 0.9, count), rng.uniform(293.15, 403.15, count)
    pressure_pa = rng.uniform(8e4, 2.5e5, count)
    for name, call in (
        ("vapor_pressure_pa", lambda: fluids.vapor_pressure_pa("ethylene glycol", frac, temp_k)),
        ("boil_temp_k", lambda: fluids.boil_temp_k("ethylene glycol", frac, pressure_pa)),
        ("water_vapor_pressure_pa", lambda: fluids.water_vapor_pressure_pa(temp_k)),
        ("a NumPy product of two arrays", lambda: frac * temp_k),
    ):
        yield name, count / each_us(call, 2)


def main():
    base, ours, ratio = import_ratio()
    print(f"import: numpy + pint with a registry {base:.3f} s, coolcalc {ours:.3f} s: {ratio:.2f}")
    import coolcalc as cc
    from coolcalc import fluids

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
    for name, rate in elements_per_second():
        print(f"{name}: {rate:.0f} million elements a second")
    can = cc.Product.generic(f"{eg} concentrate")
    van = cc.CoolingSystem(capacity="10 L", capacity_error="0.5 L")
    tool = cc.Refractometer(made_for=eg)

    def job():
        return cc.correct_mix(
            system=van, found=tool.read("-16 °C"), target="-37 °C", pour=[can, cc.WATER]
        )

    print(f"one correct_mix: {each_us(job, 50) / 1000:.2f} ms")
    print(f"its text: {each_us(lambda: str(job()), 50) / 1000:.2f} ms with the job")
    print(f"kernel, exact plans: {rows_per_second() / 1e6:.2f} million rows a second")


if __name__ == "__main__":
    main()
