"""Writes the cells of a JSON-lines file with openpyxl's write-only workbook; prints milliseconds and peak MiB.

    write_cells.py cells.jsonl book.xlsx
"""

import datetime
import json
import resource
import sys
import time

import openpyxl


def cell(value):
    if isinstance(value, dict):
        return datetime.datetime.fromisoformat(value["date"].replace("Z", ""))
    return value


took = 0.0
started = time.perf_counter()
book = openpyxl.Workbook(write_only=True)
sheet = book.create_sheet("Rows")
took += time.perf_counter() - started
with open(sys.argv[1], encoding="utf-8") as lines:
    for line in lines:
        cells = [cell(value) for value in json.loads(line)]
        started = time.perf_counter()
        sheet.append(cells)
        took += time.perf_counter() - started
started = time.perf_counter()
book.save(sys.argv[2])
took += time.perf_counter() - started
print(json.dumps({"took": took * 1000, "peak": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024}))
