"""Reads a workbook with openpyxl, an independent library, and prints what it holds as JSON.

    read_with_openpyxl.py book.xlsx            every cell: formula or value, and the cached value
    read_with_openpyxl.py book.xlsx edit out.xlsx Rows C2 41.5
                                               writes a copy with one cell changed (and no cached values)
"""

import datetime
import json
import sys

import re
from xml.etree.ElementTree import iterparse

import openpyxl
import openpyxl.reader.excel

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"


def read_strings(source):
    """Shared strings with _xHHHH_ decoded by ECMA-376 Part 1, 22.9.2.19; openpyxl itself decodes _x005F_ only."""
    strings = []
    for _, node in iterparse(source):
        if node.tag == MAIN + "si":
            text = "".join(part.text or "" for part in node.iter(MAIN + "t"))
            strings.append(re.sub("_x([0-9A-Fa-f]{4})_", lambda m: chr(int(m.group(1), 16)), text))
    return strings


openpyxl.reader.excel.read_string_table = read_strings


def plain(value):
    if isinstance(value, (datetime.datetime, datetime.date)):
        return {"date": value.isoformat()}
    return value


def read(path):
    formulas = openpyxl.load_workbook(path)
    values = openpyxl.load_workbook(path, data_only=True)
    sheets = {}
    for name in formulas.sheetnames:
        sheet, cached = formulas[name], values[name]
        cells = {}
        for row in sheet.iter_rows():
            for cell in row:
                if cell.value is None:
                    continue
                cells[cell.coordinate] = {
                    "type": cell.data_type,
                    "content": plain(cell.value) if cell.data_type != "f" else str(cell.value),
                    "value": plain(cached[cell.coordinate].value),
                    "format": cell.number_format,
                }
        setup = sheet.page_setup
        sheets[name] = {
            "cells": cells,
            "freeze": sheet.freeze_panes,
            "orientation": setup.orientation,
            "paper": setup.paperSize,
            "titleRows": sheet.print_title_rows,
            "footer": (sheet.oddFooter.left.text or "") + "|" + (sheet.oddFooter.right.text or ""),
            "widths": {key: column.width for key, column in sheet.column_dimensions.items()},
        }
    names = {n.name: n.attr_text for n in formulas.defined_names.definedName}
    properties = formulas.properties
    return {"sheets": sheets, "names": names, "creator": properties.creator, "order": formulas.sheetnames}


def edit(path, out, sheet, address, value):
    book = openpyxl.load_workbook(path)
    book[sheet][address] = float(value)
    book.save(out)


if __name__ == "__main__":
    if len(sys.argv) > 2 and sys.argv[2] == "edit":
        edit(sys.argv[1], *sys.argv[3:7])
    else:
        json.dump(read(sys.argv[1]), sys.stdout, ensure_ascii=True)
