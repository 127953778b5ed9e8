"""List the published rows that the model misses, beside the table of known disagreements.

    python data/disagreements.py            what is missed and not named, or named and met
    python data/disagreements.py --write    writes the distances of the named rows anew

A row is named by hand, with a reason: nothing is added here, and no tolerance changes.
"""

import csv
import pathlib
import sys

from coolcalc import evidence

HERE = pathlib.Path(__file__).resolve().parent
TABLE = HERE / "disagreements.csv"


def main(arguments):
    """Print the differences between the table and the model; write distances when asked."""
    with TABLE.open(encoding="utf-8", newline="") as file:
        known = {each["row"]: each for each in csv.DictReader(file)}
    found = {
        evidence.name(row): (row, off)
        for row, off in evidence.missed(evidence.read_rows(HERE / "published"))
    }
    for name, (row, off) in found.items():
        if name not in known:
            print(f"not named: {name}: {off:+.3g} {row['unit']}, tolerance {row['tolerance']}")
    for name in known:
        if name not in found:
            print(f"met or gone: {name}")
    if "--write" in arguments:
        with TABLE.open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, ("row", "distance", "why"), lineterminator="\n")
            writer.writeheader()
            for name, each in known.items():
                if name in found:
                    writer.writerow({**each, "distance": f"{found[name][1]:.3g}"})


if __name__ == "__main__":
    main(sys.argv[1:])
