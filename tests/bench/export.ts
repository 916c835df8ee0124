import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { python } from "../support/outside-programs.ts";
import { printTable, threeFigures } from "./print-table.ts";

const CHILD = fileURLToPath(new URL("../support/export-bench-child.ts", import.meta.url));
const PYTHON = fileURLToPath(new URL("write_cells.py", import.meta.url));

interface Measured {
  readonly took: number;
  readonly peak: number;
}

function inChild(what: "program" | "bare" | "cells", rows: number, path: string): Measured {
  return JSON.parse(execFileSync(process.execPath, [CHILD, what, String(rows), path], { encoding: "utf8" }));
}

/**
 * A sheet with every column of Rows: this program's whole workbook (six worksheets, statistics, checked and flushed)
 * against the same library writing the cells of Rows bare, and against Python's openpyxl write-only writing them. Each
 * in a process of its own, so that peaks of memory are its own too.
 */
export function benchExport(): void {
  const folder = mkdtempSync(join(tmpdir(), "linefall-export-"));
  try {
    const table = [10_000, 100_000].map((rows) => {
      const book = join(folder, `program-${rows}.xlsx`);
      const cells = join(folder, `cells-${rows}.jsonl`);
      const program = inChild("program", rows, book);
      const bare = inChild("bare", rows, join(folder, `bare-${rows}.xlsx`));
      inChild("cells", rows, cells);
      const openpyxl: Measured = JSON.parse(
        execFileSync(python(), [PYTHON, cells, join(folder, `python-${rows}.xlsx`)], {
          encoding: "utf8",
        }),
      );
      return [
        `${rows.toLocaleString("en-GB")} rows`,
        threeFigures(program.took / 1000),
        `${threeFigures(program.took / bare.took)} ×`,
        `${threeFigures(program.took / openpyxl.took)} ×`,
        threeFigures(program.peak),
        threeFigures(bare.peak),
        threeFigures(openpyxl.peak),
        threeFigures(statSync(book).size / 1024 / 1024),
      ];
    });
    printTable(
      [
        "whole workbook",
        "s",
        "to exceljs bare",
        "to openpyxl write-only",
        "peak MiB",
        "bare MiB",
        "openpyxl MiB",
        "file MiB",
      ],
      table,
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
