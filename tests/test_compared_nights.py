"""Nights on which the yard was read beside the station."""

import pytest

import coolcalc as cc
from coolcalc.errors import FormError, InputError
from coolcalc.jobs.compared_nights import read_nights

CAN = cc.Product.generic("ethylene glycol concentrate")
#: Yard colder by 2, 3, 4, 5, 6 K.
NIGHTS = [(f"{-10 - at} °C", f"{-12 - 2 * at} °C") for at in range(5)]


def test_the_difference_by_hand():
    """Mean 4; deviation √2.5; Student's t of four degrees of freedom, from tables, 2.776."""
    colder, half_width, count = read_nights(NIGHTS)
    assert (colder, count) == (pytest.approx(4.0), 5)
    assert half_width == pytest.approx(2.776 * 2.5**0.5 * 1.2**0.5, abs=0.002)


def test_it_stands_in_the_standard_with_its_doubt():
    job = cc.frost_standard(
        depot="Upper yard",
        low="-25 °C",
        site="hollow or valley floor",
        nights=NIGHTS,
        pour=[CAN, cc.WATER],
    )
    assert job.margins[1].takes_k == pytest.approx(4.0)
    assert job.site.half_width_k == pytest.approx(4.81, abs=0.01)
    assert any("5 nights are few" in note for note in job.notes)


def test_fahrenheit_is_the_same():
    warm = [
        (f"{1.8 * (-10 - at) + 32:.2f} °F", f"{1.8 * (-12 - 2 * at) + 32:.2f} °F")
        for at in range(5)
    ]
    assert read_nights(warm)[:2] == pytest.approx(read_nights(NIGHTS)[:2], abs=0.02)


@pytest.mark.parametrize(
    "nights", [NIGHTS[:4], "-10 °C", 7, [("-10 °C",)] * 6, [], [("-10 °C", "-14 °C", "x")] * 5]
)
def test_what_are_no_nights_are_refused(nights):
    with pytest.raises(InputError) as refused:
        read_nights(nights)
    assert refused.value.field == "nights"


def test_a_bad_night_is_named_by_its_number():
    with pytest.raises(FormError, match="nights: night 2"):
        read_nights([("-10 °C", "-12 °C"), ("-10 °C", "12"), ("10 °C", "-40 °C"), *NIGHTS])


def test_one_way_to_tell_it():
    with pytest.raises(InputError, match="keep one"):
        cc.frost_standard(
            depot="x", low="-25 °C", nights=NIGHTS, colder_than_station="2 K", pour=[CAN]
        )
