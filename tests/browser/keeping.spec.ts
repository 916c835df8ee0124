import { copyFileSync, existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { openPreparedWindow } from "./measure-window.ts";
import { type ReadyBench, readyBench } from "./ready-bench.ts";
import { savedCopy } from "./saved-copy.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

const button = (person: KeyboardPerson, name: string | RegExp) => person.page.getByRole("button", { name });
const heading = (person: KeyboardPerson, name: string | RegExp) =>
  person.page.getByRole("heading", { name }).first();

async function enterRow(page: Page, sheetId: string, rowId: string): Promise<void> {
  for (const [edge, typed] of [
    ["left", "23.0"],
    ["right", "51.5"],
  ] as const) {
    await callFrom(page, "rows.enter", {
      requestId: crypto.randomUUID(),
      sheetId,
      rowId,
      cell: { dimension: "length", edge },
      typed,
      label: rowId,
    });
  }
}

async function benchWithRow(page: Page, rowId: string): Promise<ReadyBench> {
  const bench = await readyBench(page);
  await enterRow(page, bench.sheetId, rowId);
  return bench;
}

async function readAnew(page: Page): Promise<void> {
  await page.reload();
  await page.locator("main").waitFor();
}

async function showBackups(person: KeyboardPerson): Promise<void> {
  await person.go("records");
  await person.activate(button(person, "Backups"));
  await heading(person, "Backups").waitFor();
}

/** How many rows the list of sheets says there are. */
async function expectRows(person: KeyboardPerson, rows: number): Promise<void> {
  await person.go("measure");
  const sheet = person.page.getByRole("row", { name: /S-0001/ });
  await expect(sheet.getByRole("cell", { name: String(rows), exact: true })).toBeVisible();
}

async function expectVerified(person: KeyboardPerson): Promise<void> {
  await person.go("records");
  await person.activate(button(person, "Verify"));
  await person.activate(button(person, "Verify now"));
  await expect(person.page.getByText("Everything agrees.")).toBeVisible({ timeout: 60_000 });
}

test.describe("a bench is kept", () => {
  let program: ProgramUnderTest;
  test.beforeAll(async () => {
    program = await startProgram();
  });
  test.afterAll(() => program.stop());

  test("a backup is looked into and restored, and what is shown then is the bench that came back", async ({
    context,
  }) => {
    test.setTimeout(600_000);
    const opened = await openPreparedWindow(context, program, (page) => benchWithRow(page, "kept"));
    const { window, person } = opened;
    const { sheetId } = opened.made;

    await showBackups(person);
    await person.activate(button(person, "Make a backup now"));
    const made = person.page.getByText(/^Made: bench-.*-on-request.*\.sqlite$/);
    await expect(made).toBeVisible();
    const fileName = ((await made.textContent()) ?? "").replace("Made: ", "");

    for (const rowId of ["later-1", "later-2"]) await enterRow(window.page, sheetId, rowId);
    await callFrom(window.page, "people.choose", {
      personId: (
        await callFrom(window.page, "people.register", {
          requestId: crypto.randomUUID(),
          person: { name: "Late Comer", initials: "LC", interpupillaryMm: "" },
        })
      ).id,
    });
    await readAnew(window.page);
    await expectRows(person, 3);

    await showBackups(person);
    await person.activate(button(person, `Look inside ${fileName}`));
    await heading(person, `Backup ${fileName}`).waitFor();
    const facts = person.page.locator("dl").first();
    await expect(facts).toContainText(/Rows\s*1/);
    // Without a reason nothing is restored.
    await person.tabTo(person.field("Reason"));
    await person.press("Control+Enter");
    await expect(heading(person, `Backup ${fileName}`)).toBeVisible();
    expect((await callFrom(window.page, "sheets.get", { sheetId })).sheet.rowCount).toBe(3);
    await person.fill("Reason", "the rows of this morning belong to another sample");
    await person.press("Control+Enter");
    await expect(person.page.getByText("The backup is the bench now.")).toBeVisible({ timeout: 60_000 });
    const aside = await person.page.getByText(/^The bench before it was kept as /).textContent();
    const keptAside = (aside ?? "").replace("The bench before it was kept as ", "").replace(/\.$/, "");

    await person.activate(button(person, "Read everything anew"));
    // The window is drawn again where it was, and nothing of the former bench is in it.
    await expect(person.page.getByText("The backup is the bench now.")).toBeHidden();
    await expectRows(person, 1);
    await expect(person.page.locator("header").first()).toContainText("Ada Example");
    await person.activate(button(person, /^Measure on sheet S-0001/));
    await person.page.getByRole("grid").waitFor();
    await person.expectStored(1);
    await expect(person.page.getByRole("grid")).toContainText("kept");
    await expect(person.page.getByRole("grid")).not.toContainText("later");

    await readAnew(window.page);
    await person.expectStored(1);
    await person.go("records");
    await person.activate(button(person, "Audit trail"));
    const newest = person.page.getByRole("table").locator("tbody tr").first();
    await expect(newest).toContainText("restored a backup");
    await expect(newest).toContainText("the rows of this morning belong to another sample");
    await expectVerified(person);
    // The bench as it was stays beside the one that came back.
    expect(existsSync(join(program.folder, keptAside))).toBe(true);
    expect(window.faults).toEqual([]);
  });
});

test("a bench goes to another machine as one file, and is there with everything that was attached to it", async ({
  browser,
}) => {
  test.setTimeout(600_000);
  const here = await startProgram();
  const folder = mkdtempSync(join(tmpdir(), "linefall-other-machine-"));
  let there: ProgramUnderTest | null = null;
  try {
    const opened = await openPreparedWindow(await browser.newContext(), here, (page) =>
      benchWithRow(page, "carried"),
    );
    const { window: first, person } = opened;
    const { sheetId } = opened.made;
    await person.go("registers");
    await person.activate(button(person, /^Stage micrometers/));
    await person.page
      .getByLabel("Attach a scan or photograph to certificate C-1 (PDF, PNG or JPEG)")
      .setInputFiles({ name: "C-1.png", mimeType: "image/png", buffer: PIXEL });
    await expect(person.page.getByText("Kept: C-1.png")).toBeVisible();

    await showBackups(person);
    await person.activate(button(person, "Export the whole bench as one file"));
    const written = person.page.getByText(/^Written: bench-.*-hand-over.*\.sqlite, /);
    await expect(written).toBeVisible({ timeout: 60_000 });
    const link = person.page.getByRole("link", { name: "Save a copy from this window" });
    const { path: file } = await savedCopy(person.page, () => person.activate(link));
    // What the window says once its program is gone is no fault.
    const faultsHere = [...first.faults];
    await here.end();

    copyFileSync(file, join(folder, "bench.sqlite"));
    there = await startProgram({ folder });
    const second = await openBenchWindow(await browser.newContext(), there.address);
    second.page.setDefaultTimeout(30_000);
    const other = new KeyboardPerson(second.page);
    await expectRows(other, 1);
    await other.go("registers");
    await other.activate(button(other, /^Stage micrometers/));
    await other.activate(button(other, "Show C-1.png"));
    await expect(other.page.getByRole("img", { name: "Scan C-1.png" })).toBeVisible();
    await expectVerified(other);
    // Work goes on there.
    await enterRow(second.page, sheetId, "measured-there");
    await readAnew(second.page);
    await expectRows(other, 2);
    expect([...faultsHere, ...second.faults]).toEqual([]);
  } finally {
    await here.stop();
    await there?.stop();
    rmSync(folder, { recursive: true, force: true });
  }
});

/** The smallest PNG there is: one white pixel. Invented input. */
const PIXEL = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8/5+hHgAHggJ/PchI7wAAAABJRU5ErkJggg==",
  "base64",
);
