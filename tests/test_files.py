"""Where a file is saved: what is no path is refused in words."""

import pytest

import coolcalc as cc
from coolcalc.errors import InputError
from coolcalc.files import save
from coolcalc.record import VehicleRecord

CAN = cc.Product.generic("ethylene glycol concentrate")


@pytest.mark.parametrize("path", [5, None, ["card.pdf"], "a\0b.pdf", object()])
def test_what_is_no_path_is_refused(path, tmp_path):
    job = cc.refill(
        system=cc.CoolingSystem(capacity="10 L"),
        inside="nothing",
        target="50 % product",
        pour=[CAN, cc.WATER],
    )
    with VehicleRecord(tmp_path / "vans") as record:
        record.add(vehicle="van", what="reading", found=CAN.mix("50 % product"))
        history = record.history("van")
    makers = {".pdf": lambda: b""}
    for ask in (job.save_card, job.save_label, history.to_csv, lambda it: save(it, makers)):
        with pytest.raises(InputError, match=r"^path: .* is no path; give a file's name"):
            ask(path)


def test_bytes_and_paths_are_paths(tmp_path):
    assert save(str(tmp_path / "a.pdf").encode(), {".pdf": lambda: b"x"}).read_bytes() == b"x"
