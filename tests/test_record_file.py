"""The file of a record: untouched where it is another's, safe from two writers and from kills."""

import json
import os
import pathlib
import sqlite3
import subprocess
import sys
import tempfile

import pytest

from coolcalc.record import VehicleRecord

from .test_record import read, refusal

WRITERS = pathlib.Path(__file__).with_name("killed_writers.py")


@pytest.fixture
def record(tmp_path):
    with VehicleRecord(tmp_path / "vehicles") as opened:
        yield opened


def wal_database(path):
    connection = sqlite3.connect(path)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("CREATE TABLE other (name)")
    connection.close()


def plain_database(path):
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE other (name)")
    connection.close()


@pytest.mark.parametrize(
    "make",
    [
        lambda path: path.write_bytes(b"x"),
        lambda path: path.write_text("vehicle;reading\n" * 500),
        plain_database,
        wal_database,
    ],
)
def test_a_file_that_is_no_record_is_left_as_it_is(tmp_path, make):
    path = tmp_path / "notes"
    make(path)
    before = path.read_bytes(), path.stat().st_mtime_ns
    assert "notes: it is not a vehicle record, and was left as it is" in refusal(
        VehicleRecord, path
    )
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before


def test_a_newer_layout_is_left_as_it_is(tmp_path):
    path = tmp_path / "vehicles"
    VehicleRecord(path).close()
    connection = sqlite3.connect(path)
    connection.execute("PRAGMA user_version = 2")
    connection.close()
    before = path.read_bytes()
    assert "written by a newer coolcalc (layout 2; this one knows 1)" in refusal(
        VehicleRecord, path
    )
    assert path.read_bytes() == before


def test_a_damaged_record_says_so(tmp_path):
    path = tmp_path / "vehicles"
    with VehicleRecord(path) as record:
        for at in range(40):
            read(record, at, 50)
    whole = path.read_bytes()
    path.write_bytes(whole[:4096] + b"\xff" * (len(whole) - 4096))
    with VehicleRecord(path) as record:
        assert "the file is damaged" in refusal(record.history, "van")


def test_paths_that_cannot_be(tmp_path):
    assert "there is no folder" in refusal(VehicleRecord, tmp_path / "none" / "vehicles")
    assert "is not a file" in refusal(VehicleRecord, tmp_path)
    assert "it is no path" in refusal(VehicleRecord, 7)
    assert "it is no path" in refusal(VehicleRecord, "a\0b")


def test_a_folder_that_is_read_only():
    # Root may write anywhere: then as a user without rights.
    root = os.geteuid() == 0
    with tempfile.TemporaryDirectory() as folder:
        os.chmod(folder, 0o755)
        path = pathlib.Path(folder, "vehicles")
        with VehicleRecord(path) as record:
            read(record, 0, 50)
        os.chmod(path, 0o444)
        os.chmod(folder, 0o555)
        if root:
            os.seteuid(65534)
        try:
            said = refusal(VehicleRecord, path.with_name("new"))
            with VehicleRecord(path) as record:
                assert len(record.history("van").entries) == 1
                assert "read-only" in refusal(read, record, 1, 50)
                assert "cannot be written" in refusal(
                    record.history("van").to_csv, path.with_name("history.csv")
                )
        finally:
            if root:
                os.seteuid(0)
            os.chmod(folder, 0o755)
    assert "the file or its folder is read-only" in said


def test_a_writer_that_keeps_the_file(record, monkeypatch):
    read(record, 0, 50)
    record._connection.execute("PRAGMA busy_timeout = 1")
    other = sqlite3.connect(record.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    assert "another program has kept it" in refusal(read, record, 1, 50)
    assert len(record.history("van").entries) == 1
    other.close()
    read(record, 1, 50)


def start(*arguments):
    # Threads of the algebra have no work here, and would be there at each fork.
    environment = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
    command = [sys.executable, WRITERS, *map(str, arguments)]
    return subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, text=True)


def told(*started):
    """What each of the programs printed, once all have ended."""
    printed = [each.communicate()[0] for each in started]
    assert [each.returncode for each in started] == [0] * len(started)
    return [json.loads(text) for text in printed]


def test_two_writers_at_once_lose_nothing(tmp_path):
    path = tmp_path / "vehicles"
    ids = told(*(start("write", path, vehicle, 200) for vehicle in ("van", "bus")))
    with VehicleRecord(path) as record:
        kept = [
            [entry.entry_id for entry in record.history(vehicle).entries]
            for vehicle in ("van", "bus")
        ]
    assert kept == ids
    assert sorted(ids[0] + ids[1]) == list(range(1, 401))


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kills are made by fork")
def test_a_thousand_killed_writers_lose_nothing(tmp_path):
    """On a disk many die while it is waited for; in memory, where there is one, all goes faster.

    What must hold is asserted in `killed_writers.check`.
    """
    memory = pathlib.Path("/dev/shm")
    fast = memory if os.access(memory, os.W_OK) else tmp_path
    with tempfile.TemporaryDirectory(dir=fast) as folder:
        done = told(start("kill", tmp_path, 200, 1), start("kill", folder, 800, 2))
    assert sum(each["kills"] for each in done) == 1000
    # The test would show nothing if all died idle, or before they wrote.
    assert min(each["died writing"] for each in done) > 50
    assert min(each["reported"] for each in done) > 50
