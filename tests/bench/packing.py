#!/usr/bin/env python3
"""Sheets that a general-purpose rectangle packing library takes for the craft jobs, beside what trimside takes.

    python3 tests/bench/packing.py target/release/trimside

The library (`pip install rectpack`) need not cut edge to edge, so the same number of sheets is already a win. All its
packing rules and orders are tried (for a minute at most) and the best kept. Only jobs from one size of sheet can be
asked of it; it turns every piece, even those that may not. Both run on this machine, one after the other.
"""
import csv
import itertools
import json
import pathlib
import subprocess
import sys
import time
from fractions import Fraction

import rectpack

JOBS = pathlib.Path(__file__).resolve().parents[3] / "shared/reference/cutting/jobs"
RULES = [
    getattr(rectpack, name)
    for name in sorted(dir(rectpack))
    if name.startswith(("Guillotine", "MaxRects", "Skyline")) and isinstance(getattr(rectpack, name), type)
]
ORDERS = [rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE, rectpack.SORT_PERI]


def steps(text):
    """A length in steps of 1/320 mm, the unit in which sixteenths and tenths of a millimetre are whole."""
    words = text.split()
    metric = words[-1] == "mm"
    total = sum(Fraction(word) for word in words if word != "mm")
    return int(total * (320 if metric else 8128))


def rows(path):
    with open(path, newline="") as file:
        return list(csv.DictReader(file))


def library(pieces, sheet):
    """Fewest sheets over all rules and orders, and the seconds for all of them."""
    begun, best = time.monotonic(), None
    sizes = [(steps(p["width"]), steps(p["height"])) for p in pieces for _ in range(int(p["count"]))]
    for rule, order in itertools.product(RULES, ORDERS):
        packer = rectpack.newPacker(mode=rectpack.PackingMode.Offline, pack_algo=rule, sort_algo=order, rotation=True)
        for size in sizes:
            packer.add_rect(*size)
        packer.add_bin(*sheet, count=len(sizes))
        packer.pack()
        if len(packer.rect_list()) == len(sizes):
            best = min(best or len(packer), len(packer))
        if time.monotonic() - begun > 60:
            break
    return best, time.monotonic() - begun


def main():
    program = sys.argv[1] if len(sys.argv) > 1 else "target/release/trimside"
    print(f"{'job':<28}{'library':>8}{'s':>7}{'trimside':>10}{'s':>7}  least possible")
    for job in sorted(path for path in JOBS.iterdir() if path.is_dir()):
        pieces, sheets = rows(job / "pieces.csv"), rows(job / "sheets.csv")
        command = [program, "plan", "--pieces", job / "pieces.csv", "--sheets", job / "sheets.csv", "--json"]
        totals = json.loads(subprocess.run(command, check=True, capture_output=True).stdout)["totals"]
        ours = f"{totals['cost']:>10g}{totals['seconds']:>7.2f}  {totals['lower_bound']:g}"
        if len(sheets) == 1:
            best, seconds = library(pieces, (steps(sheets[0]["width"]), steps(sheets[0]["height"])))
            print(f"{job.name:<28}{best or '-':>8}{seconds:>7.1f}{ours}")
        else:
            print(f"{job.name:<28}{'-':>8}{'':>7}{ours}   (several sizes of sheet: not asked of the library)")


if __name__ == "__main__":
    main()
