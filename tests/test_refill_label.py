"""A label after a refill: none where other litres went in than its strength is made of."""

import pytest

import coolcalc as cc
from coolcalc.errors import InputError

CAN = cc.Product.generic("ethylene glycol concentrate")


def refill(went_in):
    return cc.refill(
        system=cc.CoolingSystem(capacity="12 L"),
        found="35 % mass glycol",
        caught="7.8 L",
        target="-37 °C",
        pour=[CAN, cc.WATER],
        went_in=went_in,
    )


@pytest.mark.parametrize("went_in", ["0 L", "5.5 L", "11 L"])
def test_no_label_where_other_litres_went_in(went_in, tmp_path):
    with pytest.raises(InputError, match="No label can promise"):
        refill(went_in).save_label(tmp_path / "label.pdf")
    refill("7.8 L").save_label(tmp_path / "label.pdf")


def test_the_label_of_a_ready_mixed_circuit_tells_to_top_up_with_what_is_specified(tmp_path):
    ready = cc.Product.generic("ethylene glycol ready-mixed 50 %")
    job = cc.refill(
        system=cc.CoolingSystem(capacity="10 L", fill="ready-mixed only"),
        inside="nothing",
        target="50 % product",
        pour=[ready],
    )
    page = job.save_label(tmp_path / "label.html").read_text(encoding="utf-8")
    assert "only with the coolant that its maker specifies" in page and "same mix" not in page
