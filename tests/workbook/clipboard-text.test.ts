import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { clipboardText } from "#renderer/grid/clipboard-text.ts";
import { cellsAsOfficeImportsThem } from "./other-programs.ts";

let folder = "";
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "linefall-clipboard-"));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const imported = (text: string): string[][] => {
  const path = join(folder, "cells.csv");
  writeFileSync(path, text);
  return cellsAsOfficeImportsThem(path);
};

/** Invented labels and notes. First characters: OWASP ASVS 5.0 1.2.10, CWE-1236. */
const CELLS = [
  ["=1+1", "10,5", "seen\ttwice"],
  ["+1+1", "-3.5", "two\nlines"],
  ["@SUM(1;1)", "40.0", '"big" grain'],
  ['=HYPERLINK("http://example.invalid";"x")', "60", "µm ± 0,5"],
];

it("copied cells reach LibreOffice as text, though it evaluates formulas; tabs, line ends and quotes stay in them", () => {
  // Without the guard this import does compute: else the test below could not fail.
  expect(imported("=1+1\tx")[0]?.[0]).toBe("2");
  const rows = imported(clipboardText(CELLS));
  expect(rows.slice(0, CELLS.length).map(([label]) => label)).toEqual(CELLS.map(([label]) => `'${label}`));
  expect(rows.slice(0, CELLS.length).map((row) => row[2])).toEqual(CELLS.map((row) => row[2]));
});
