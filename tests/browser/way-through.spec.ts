import { join } from "node:path";
import { expect, test } from "@playwright/test";
import Database from "better-sqlite3";
import { pythonPrints } from "../support/outside-programs.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";

test.use({ screenshot: "only-on-failure" });

let program: ProgramUnderTest;

test.beforeAll(async () => {
  program = await startProgram();
});
test.afterAll(() => program.stop());

const heading = (person: KeyboardPerson, name: string | RegExp) => person.page.getByRole("heading", { name });

async function registerMicroscope(person: KeyboardPerson): Promise<void> {
  await heading(person, "First calibration").waitFor();
  await person.press("1");
  await person.fill("Name", "Stand A");
  await person.choose("Binocular head", /^Compensated/);
  await person.fillAll({
    "Objective 1, magnification": "10",
    "Objective 1, aperture": "0.25",
  });
  await person.activate(person.page.getByRole("button", { name: "Add objective" }));
  await person.fillAll({
    "Objective 2, magnification": "40",
    "Objective 2, aperture": "0.65",
    "Eyepiece 1, name": "right 10×",
    "Eyepiece 1, reticle scale": "10",
    "Eyepiece 1, divisions": "100",
  });
  await person.press("Control+Enter");
}

async function registerMicrometer(person: KeyboardPerson): Promise<void> {
  await heading(person, "New stage micrometer").waitFor();
  await person.fillAll({
    Name: "1 mm in 100",
    "Serial number": "4711",
    "Length of the scale": "1",
    Divisions: "100",
  });
  await person.press("Control+Enter");
  await heading(person, "New certificate for 1 mm in 100").waitFor();
  await person.fillAll({
    "Certificate number": "C-77",
    Laboratory: "Invented Length Laboratory",
    "Calibrated on": "2026-03-01",
    "Due again on": "2099-03-01",
    "Why this interval": "glass scale, kept clean",
    "Reference temperature": "20",
    "Expanded uncertainty U": "0.3",
    "Coverage factor k": "2",
  });
  await person.choose("What does the second column of its table hold?", /error/i);
  await person.fillAll({ "Line 1, marked": "0" });
  await person.press("Enter");
  await person.page.keyboard.type("0");
  await person.fillAll({ "Line 2, marked": "1000" });
  await person.press("Enter");
  await person.page.keyboard.type("0");
  await person.press("Control+Enter");
  await expect(person.page.getByText("C-77").first()).toBeVisible();
}

async function calibrate(person: KeyboardPerson): Promise<void> {
  await person.page.getByLabel("Optical train").waitFor();
  await person.press("Control+Enter");
  await person.page.getByRole("table", { name: "Settings" }).waitFor();
  await person.take("0", "96.4", "0", "100", "0.5", "96.9", "0", "100", "0.2", "96.6", "0", "100");
  await expect(person.page.getByText("From 3 settings.")).toBeVisible();
  await expect(person.page.locator("main")).toContainText("10.373");
  await expect(person.page.getByText("Kept as typed.")).toBeVisible();
  await person.fill("Reason", "first calibration of this train");
  await person.press("Control+Enter");
  await expect(person.page.getByText(/^In force: 10\.373 ± 0\.0\d+ µm\/div/)).toBeVisible();
}

async function defineMethod(person: KeyboardPerson): Promise<void> {
  await person.go("registers");
  await person.activate(person.page.getByRole("button", { name: /^Methods/ }));
  await person.press("Alt+n");
  await person.fillAll({ Name: "Grain length", "Dimension 1, dimension": "Length" });
  await person.press("Control+Enter");
  await heading(person, /Grain length/)
    .first()
    .waitFor();
}

async function openSheet(person: KeyboardPerson): Promise<void> {
  await person.go("bench");
  await heading(person, "First calibration").waitFor();
  await person.press("5");
  await person.fill("Sample", "Heather honey 12");
  await person.press("Control+Enter");
  await person.page.getByRole("grid").waitFor();
}

/** Label, left, right, div, size, objective, flags. */
const COLUMN = { label: 2, left: 3, right: 4, divisions: 5, size: 6, objective: 7, flags: 8 } as const;

async function measure(person: KeyboardPerson): Promise<void> {
  await person.take("23.0", "51.5");
  await person.expectCell(1, COLUMN.size, /^295\.6 ± \d\.\d$/);
  await person.expectStored(1);
  await expect(person.page.getByRole("region", { name: "Last result" })).toContainText(/295\.6.± 4\.\d.*µm/s);
  // The other objective has no calibration: its rows keep divisions and say why.
  await person.press("/", "2");
  await expect(person.page.getByRole("region", { name: "Objective in use" })).toContainText(
    "No calibration in force",
  );
  await person.take("20.0", "45.5");
  await person.expectCell(2, COLUMN.divisions, "25.5");
  await person.expectCell(2, COLUMN.size, "no factor");
  await person.expectCell(2, COLUMN.objective, "2 · 40×");
  await person.expectStored(2);
  await expect(person.page.getByRole("region", { name: "Last result" })).toContainText(
    "No calibration in force for 40×/0.65 on Stand A",
  );
}

/** The cells of the first two rows of the Rows sheet, by heading, read back by another program. */
function readWorkbook(path: string): readonly Readonly<Record<string, unknown>>[] {
  const script = `
import json, sys
from openpyxl import load_workbook
sheet = load_workbook(sys.argv[1], data_only=True)["Rows"]
rows = [[cell for cell in row] for row in sheet.iter_rows(values_only=True)]
top = next(i for i, row in enumerate(rows) if row[0] in ("Row", "row", "Ordinal"))
print(json.dumps([dict(zip([str(h) for h in rows[top]], row)) for row in rows[top + 1:top + 3]], default=str))
`;
  return JSON.parse(pythonPrints(script, path)) as readonly Record<string, unknown>[];
}

test("from an empty bench to a size in µm, a workbook, and all of it again after a restart, by keyboard alone", async ({
  context,
}) => {
  test.slow();
  const window: BenchWindow = await openBenchWindow(context, program.address);
  window.page.setDefaultTimeout(15_000);
  const person = new KeyboardPerson(window.page);

  await heading(person, "Who is at the bench?").waitFor();
  await person.fill("Name", "Ada Example");
  await person.press("Control+Enter");
  await registerMicroscope(person);
  await registerMicrometer(person);
  await calibrate(person);
  await defineMethod(person);
  await openSheet(person);
  await measure(person);

  await person.go("records");
  await person.activate(person.page.getByRole("button", { name: "Workbook of S-0001 with formulas" }));
  await expect(person.page.getByText(/^Written: /)).toBeVisible({ timeout: 60_000 });
  const path = await person.page
    .getByText(/\.xlsx$/)
    .first()
    .textContent();
  const [first, second] = readWorkbook(path ?? "");
  expect(first).toMatchObject({ "Length: left as typed": "23.0", "Length: right as typed": "51.5" });
  expect(first?.["Length: size (µm)"]).toBeCloseTo(295.64315353, 6);
  expect(first?.["Length: U (µm)"]).toBeCloseTo(4, 0);
  expect(second).toMatchObject({ "Length: left as typed": "20.0", "Length: divisions (div)": 25.5 });
  expect(second?.["Length: why no size"]).toMatch(/No calibration in force for 40×/);
  expect(window.faults).toEqual([]);

  await person.page.close();
  await program.restart();
  const again = new KeyboardPerson((await openBenchWindow(context, program.address)).page);
  await again.go("measure");
  await again.activate(again.page.getByRole("button", { name: "Measure on sheet S-0001, Heather honey 12" }));
  await again.expectCell(1, COLUMN.left, "23.0");
  await again.expectCell(1, COLUMN.right, "51.5");
  await again.expectCell(1, COLUMN.size, /^295\.6 ± \d\.\d$/);
  await again.expectCell(2, COLUMN.left, "20.0");
  await again.expectCell(2, COLUMN.size, "no factor");

  await again.page.close();
  await program.end();
  const database = new Database(join(program.folder, "bench.sqlite"), { readonly: true });
  const typed = database
    .prepare(
      `SELECT left_typed, right_typed FROM measurement
       JOIN specimen_row ON specimen_row.key = measurement.row_key ORDER BY specimen_row.ordinal`,
    )
    .all();
  database.close();
  expect(typed).toEqual([
    { left_typed: "23.0", right_typed: "51.5" },
    { left_typed: "20.0", right_typed: "45.5" },
  ]);
});
