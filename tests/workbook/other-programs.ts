import { execFileSync } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { OFFICE, python, pythonPrints } from "../support/outside-programs.ts";

const READER = fileURLToPath(new URL("read_with_openpyxl.py", import.meta.url));

export interface ReadCell {
  readonly type: string;
  readonly content: string | number | boolean | { readonly date: string };
  readonly value: string | number | boolean | null | { readonly date: string };
  readonly format: string;
}

export interface ReadSheet {
  readonly cells: Readonly<Record<string, ReadCell>>;
  readonly freeze: string | null;
  readonly orientation: string;
  readonly paper: string | number;
  readonly titleRows: string | null;
  readonly footer: string;
  readonly widths: Readonly<Record<string, number>>;
}

export interface ReadBook {
  readonly sheets: Readonly<Record<string, ReadSheet>>;
  readonly names: Readonly<Record<string, string>>;
  readonly creator: string;
  readonly order: readonly string[];
}

/** Everything openpyxl finds in a workbook. */
export function readBook(path: string): ReadBook {
  const output = execFileSync(python(), [READER, path], { maxBuffer: 512 * 1024 * 1024, encoding: "utf8" });
  return JSON.parse(output) as ReadBook;
}

const PARTS = `
import hashlib, json, sys, zipfile
with zipfile.ZipFile(sys.argv[1]) as file:
    assert file.testzip() is None
    print(json.dumps([[i.filename, list(i.date_time), hashlib.sha256(file.read(i)).hexdigest()] for i in file.infolist()]))
`;

/** Name, date and SHA-256 of each part as Python's own `zipfile` unpacks them (The Python Library Reference). */
export function zipPartsOf(path: string): readonly (readonly [string, readonly number[], string])[] {
  return JSON.parse(execFileSync(python(), ["-c", PARTS, path], { encoding: "utf8" }));
}

/** A picture on a worksheet as openpyxl finds it; sizes in px. */
export interface FoundPicture {
  readonly sheet: string;
  readonly format: string;
  readonly width: number;
  readonly height: number;
  /** Row of its upper left corner, from 1. */
  readonly row: number;
  readonly shown: readonly [number, number] | null;
  readonly alternative: string;
}

const PICTURES = `
import json, re, sys, zipfile
from openpyxl import load_workbook
path = sys.argv[1]
parts = zipfile.ZipFile(path)
described = [re.search(r'<xdr:cNvPr [^>]*descr="([^"]*)"', parts.read(n).decode()) for n in parts.namelist() if n.startswith("xl/drawings/drawing")]
found = []
for sheet in load_workbook(open(path, "rb")):
    for image in sheet._images:
        extent = getattr(image.anchor, "ext", None)
        shown = [extent.width / 9525, extent.height / 9525] if extent else None
        text = described[len(found)] if len(found) < len(described) else None
        found.append(dict(sheet=sheet.title, format=image.format, width=image.width, height=image.height,
                          row=image.anchor._from.row + 1, shown=shown, alternative=text.group(1) if text else ""))
print(json.dumps(found))
`;

/** The pictures of a workbook. */
export function picturesOf(path: string): readonly FoundPicture[] {
  return JSON.parse(pythonPrints(PICTURES, path)) as FoundPicture[];
}

/** A copy of a workbook in which one number is another; openpyxl drops all cached values. */
export function editedCopy(path: string, sheet: string, address: string, value: number): string {
  const copy = path.replace(/\.xlsx$/, "-edited.xlsx");
  execFileSync(python(), [READER, path, "edit", copy, sheet, address, String(value)]);
  return copy;
}

/** Always recalculate on load: without it LibreOffice trusts the cached values of a file it did not write. */
const RECALCULATE = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
`;

/** Runs LibreOffice without a window and with a profile of its own, and hands its output file to `take`. */
function throughOffice<T>(
  paths: readonly string[],
  format: string,
  take: (outFolder: string) => T,
  options: readonly string[] = [],
): T {
  const folder = mkdtempSync(join(tmpdir(), "linefall-office-"));
  const profile = join(folder, "profile");
  const out = join(folder, "out");
  mkdirSync(join(profile, "user"), { recursive: true });
  writeFileSync(join(profile, "user", "registrymodifications.xcu"), RECALCULATE);
  try {
    execFileSync(
      OFFICE,
      [
        `-env:UserInstallation=${pathToFileURL(profile).href}`,
        "--headless",
        "--norestore",
        ...options,
        "--convert-to",
        format,
        "--outdir",
        out,
        ...paths,
      ],
      { stdio: "pipe", timeout: 240_000 },
    );
    return take(out);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Copies in which LibreOffice has recalculated every formula, in one start of it. */
export function allRecalculated(paths: readonly string[]): string[] {
  return throughOffice(paths, "xlsx:Calc MS Excel 2007 XML", (out) =>
    paths.map((path) => {
      const kept = path.replace(/\.xlsx$/, "-recalculated.xlsx");
      copyFileSync(join(out, basename(path)), kept);
      return kept;
    }),
  );
}

/** A copy in which LibreOffice has recalculated every formula. */
export function recalculated(path: string): string {
  return allRecalculated([path])[0] ?? "";
}

/** A PDF of what LibreOffice prints of a workbook, beside it. */
export function printedBook(path: string): string {
  return throughOffice([path], "pdf:calc_pdf_Export", (out) => {
    const kept = path.replace(/\.xlsx$/, ".pdf");
    copyFileSync(join(out, basename(path).replace(/\.xlsx$/, ".pdf")), kept);
    return kept;
  });
}

/** What LibreOffice shows on the worksheet Rows, cell by cell, by way of its CSV export (RFC 4180, UTF-8). */
export function rowsAsOfficeShowsThem(path: string): string[][] {
  const secondSheet = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,2";
  return throughOffice([path], secondSheet, (out) =>
    csvRows(readFileSync(join(out, basename(path).replace(/\.xlsx$/, "-Rows.csv")), "utf8")),
  );
}

/**
 * What LibreOffice makes of tab-separated text when its text import is told to evaluate formulas (CSV filter options,
 * token 13), cell by cell. `path` ends in `.csv`.
 */
export function cellsAsOfficeImportsThem(path: string): string[][] {
  const sheets = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1";
  const tabsWithFormulas = "--infilter=CSV:9,34,76,1,,0,false,true,false,false,false,-1,true";
  const name = basename(path).replace(/\.csv$/, "");
  return throughOffice(
    [path],
    sheets,
    (out) => csvRows(readFileSync(join(out, `${name}-${name}.csv`), "utf8")),
    [tabsWithFormulas],
  );
}

function csvRows(csv: string): string[][] {
  const rows: string[][] = [[]];
  for (const match of csv.matchAll(/(?:"((?:[^"]|"")*)"|([^,"\n]*))([,\n]|$)/g)) {
    rows.at(-1)?.push(match[1]?.replaceAll('""', '"') ?? match[2] ?? "");
    if (match[3] === "\n") rows.push([]);
    if (match[3] === "") break;
  }
  return rows;
}
