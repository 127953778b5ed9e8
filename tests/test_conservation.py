"""Nothing is lost or made: any sequence of drain, spill, pour, pour back, run and steam.

What went in, came out and steamed off is added up here, apart from the ledger.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import coolcalc as cc
from coolcalc.balance import ledger
from coolcalc.balance.residual import blend, fill_up

FLUID = "ethylene glycol"
TEMP_K = 293.15
CAN = cc.Product.generic(f"{FLUID} concentrate").si(FLUID)
READY = cc.Product.generic(f"{FLUID} ready-mixed 50 %").si(FLUID)
WATER = cc.WATER.si(FLUID)
PRODUCTS = (CAN, READY, WATER)
#: What a cubic metre weighs, as stated for the products. [kg]
STATED = (1128.0, cc.Product.generic(f"{FLUID} ready-mixed 50 %").density_kg_m3, 998.2)

ACTIONS = st.lists(
    st.one_of(
        st.tuples(st.sampled_from(["drain", "spill"]), st.floats(0.0, 12e-3)),
        st.tuples(st.just("steam"), st.floats(0.0, 4.0)),
        st.tuples(st.just("back"), st.floats(0.0, 1.0)),
        st.tuples(st.just("run"), st.just(0.0)),
        *(st.tuples(st.just(f"pour {at}"), st.floats(0.0, 6e-3)) for at in range(len(PRODUCTS))),
    ),
    max_size=14,
)


def kilograms(state):
    return np.array([float(np.ravel(each)[0]) for each in state[:3]])


@settings(max_examples=150, deadline=None)
@given(start=st.floats(0.0, 10e-3), share=st.floats(0.0, 1.0), actions=ACTIONS)
def test_any_sequence_keeps_every_kilogram(start, share, actions):
    mix = ledger.contents(
        FLUID,
        np.array([start]),
        np.array([share]),
        CAN.share.additive / CAN.share.glycol,
        CAN.additive_volume_m3_kg,
        TEMP_K,
    )
    state, pan, lost, given_in = mix, np.zeros(3), np.zeros(3), np.zeros(3)
    begun = kilograms(mix)
    for name, amount in actions:
        before = kilograms(state)
        if name in ("drain", "spill"):
            state = ledger.drain(state, amount, TEMP_K)
            out = before - kilograms(state)
            pan, lost = (pan + out, lost) if name == "drain" else (pan, lost + out)
        elif name == "steam":
            state = ledger.boil_off(state, amount)
            out = before - kilograms(state)
            assert out[0] == out[2] == 0.0  # glycol and additives stay
            assert -1e-12 <= out[1] <= amount + 1e-12
            lost = lost + out
        elif name == "back":
            part = amount * pan
            state = state._replace(
                glycol_kg=state.glycol_kg + part[0],
                water_kg=state.water_kg + part[1],
                additive_kg=state.additive_kg + part[2],
                additive_m3=state.additive_m3 + part[2] * CAN.additive_volume_m3_kg,
            )
            pan = pan - part
        elif name == "run":
            assert float(ledger.volume_m3(state, 360.0)[0]) >= float(
                ledger.volume_m3(state, TEMP_K)[0]
            )
        else:
            product = PRODUCTS[int(name.split()[1])]
            state = ledger.pour(state, product, amount, TEMP_K)
            density = STATED[int(name.split()[1])]
            given_in = given_in + amount * density * np.array(product.share)
        assert np.all(kilograms(state) >= 0.0)
    assert kilograms(state) + pan + lost == pytest.approx(begun + given_in, rel=2e-5, abs=1e-9)
    total = (kilograms(state) + pan + lost).sum()
    assert total == pytest.approx(begun.sum() + given_in.sum(), rel=2e-5, abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(
    held=st.floats(0.1e-3, 8e-3),
    share=st.floats(0.0, 0.6),
    first=st.floats(0.1e-3, 6e-3),
)
def test_a_fill_to_the_mark_is_full_and_keeps_every_kilogram(held, share, first):
    state = ledger.contents(FLUID, np.array([held]), np.array([share]), 0.03, 5e-4, TEMP_K)
    capacity = np.array([10e-3])
    filled = fill_up(state, capacity, [CAN, WATER], [first, 0.0], TEMP_K)
    assert float(ledger.volume_m3(filled.after, TEMP_K)[0]) == pytest.approx(10e-3, rel=1e-6)
    went_in = sum(
        volume[0] * 1e3 * density * np.array(product.share)
        for volume, product, density in zip(
            filled.volumes_m3, (CAN, WATER), (1.128, 0.9982), strict=True
        )
    )
    # 1.128 kg/L is the density stated for the product, 998.2 kg/m3 that of water at 20 °C
    # (source key iapws-95).
    assert kilograms(filled.after) == pytest.approx(kilograms(state) + went_in, rel=2e-5)


def test_a_bucket_holds_what_was_stirred_into_it():
    """3 L of concentrate and 2 L of water: 3.384 and 1.9964 kg, by hand, 94 % and 3 % of it."""
    mixed = blend((CAN, WATER), (3e-3, 2e-3), TEMP_K)
    total = 3 * 1.128 + 2 * 0.9982
    by_hand = (0.94 * 3.384, 0.03 * 3.384 + 1.9964, 0.03 * 3.384)
    assert tuple(mixed.share) == pytest.approx([each / total for each in by_hand], rel=2e-5)
    assert mixed.additive_volume_m3_kg == pytest.approx(CAN.additive_volume_m3_kg)
