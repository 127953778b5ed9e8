"""Writers of a record in processes of their own: some write to the end, some are killed.

A program, so that the tests' own process, with its threads, is never forked:
``killed_writers.py kill folder kills seed`` or ``killed_writers.py write path vehicle count``.
It prints what was done as JSON.
"""

import json
import os
import pathlib
import random
import signal
import sqlite3
import sys
import time

from coolcalc.record import VehicleRecord

POURS = {"concentrate": 1, "ready-mixed": 2}
#: Longest time that a writer is left to live, and to make a record. [s]
LONGEST_LIFE_S, LONGEST_BIRTH_S = 0.005, 0.01
#: SQLite takes about 230 steps for an entry: up to four of them.
MOST_STEPS = 920
#: Kills between one reading of the file and the next.
BATCH = 50


def add(record, vehicle, at):
    poured = {**{name: f"{litres} L" for name, litres in POURS.items()}, "water": "3 L"}
    return record.add(vehicle=vehicle, what="work", poured=poured, hours=at, note=f"{at}")


def write(path, vehicle, count):
    """Add entries to the end, and return their numbers."""
    with VehicleRecord(path) as record:
        return [add(record, vehicle, at) for at in range(count)]


def write_for_ever(path, vehicle, pipe, steps):
    """Add entries, and report the number of each once it is added.

    With ``steps`` the writer kills itself after so many steps inside SQLite.
    """
    with VehicleRecord(path) as record:
        left = iter(range(steps))

        def step():
            if next(left, None) is None:
                os.kill(os.getpid(), signal.SIGKILL)

        if steps:
            record._connection.set_progress_handler(step, 1)
        os.write(pipe, b"open\n")
        at = 0
        while True:
            os.write(pipe, f"{add(record, vehicle, at)}\n".encode())
            at += 1


def kill_one(path, vehicle, chance):
    """Start a writer, let it be killed at a random moment, and return what it reported.

    Every third dies inside SQLite; the others at a random time, those with a new file while they
    make it.
    """
    new = not path.exists()
    inside = chance.random() < 1 / 3
    steps = chance.randrange(1, MOST_STEPS) if inside else 0
    life_s = chance.uniform(0.0, LONGEST_BIRTH_S if new else LONGEST_LIFE_S)
    read, written = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(read)
            write_for_ever(path, vehicle, written, steps)
        finally:
            os._exit(1)
    os.close(written)
    with os.fdopen(read, "rb") as reports:
        if not inside:
            if not new:
                reports.readline()
            time.sleep(life_s)
            os.kill(child, signal.SIGKILL)
        lines = reports.read().split()
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL
    return [int(line) for line in lines if line != b"open"]


def unfinished(path):
    """Whether a writer died while it wrote: what it began is to be taken back."""
    journal = path.with_name(f"{path.name}-journal")
    return journal.exists() and journal.stat().st_size > 0


def check(path, reported):
    """Refuse a damaged file, a lost entry, half an entry, or one that nobody wrote."""
    with VehicleRecord(path) as record:  # takes back what is unfinished, as any writer does
        histories = {name: record.history(name).entries for name in record.vehicles()}
    connection = sqlite3.connect(path)
    assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
    entries, pours = (
        connection.execute(f"SELECT COUNT(*) FROM {table}").fetchone()[0]
        for table in ("entries", "pours")
    )
    connection.close()
    assert pours == len(POURS) * entries
    for vehicle, ids in reported.items():
        kept = histories.pop(vehicle, ())
        assert [entry.entry_id for entry in kept][: len(ids)] == ids
        # It may have died between the end of a write and its report.
        assert len(kept) - len(ids) in (0, 1)
        for at, entry in enumerate(kept):
            assert (entry.hours, entry.note) == (at, f"{at}")
            litres = {pour.product: 1e3 * pour.volume_m3 for pour in entry.poured}
            assert litres == POURS and abs(1e3 * entry.water_m3 - 3) < 1e-9
    assert histories == {}


def kill(folder, kills, seed):
    """Kill writers, in every fourth batch each on a new file; count what came of it."""
    chance = random.Random(seed)
    reported, died_writing = {}, 0
    for first in range(0, kills, BATCH):
        touched = set()
        for at in range(first, min(first + BATCH, kills)):
            path = pathlib.Path(folder, f"new {at}" if first // BATCH % 4 == 3 else "one for all")
            of_path = reported.setdefault(path, {})
            of_path[f"van {at}"] = kill_one(path, f"van {at}", chance)
            died_writing += unfinished(path)
            touched.add(path)
        for path in touched:
            check(path, reported[path])
    each = [ids for of_path in reported.values() for ids in of_path.values()]
    return {"kills": len(each), "reported": sum(map(len, each)), "died writing": died_writing}


if __name__ == "__main__":
    what, where, *rest = sys.argv[1:]
    if what == "kill":
        print(json.dumps(kill(where, *map(int, rest))))
    else:
        print(json.dumps(write(where, rest[0], int(rest[1]))))
