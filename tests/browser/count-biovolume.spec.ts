import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import { READY_METHODS } from "#core/measurement/methods/ready-methods.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { trainOfBench } from "./count-keys.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { readyBench } from "./ready-bench.ts";

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  window = await openBenchWindow(context, program.address);
  page = window.page;
  page.setDefaultTimeout(20_000);
  person = new KeyboardPerson(page);
  await readyBench(page, { calibrated: true });
});

test.afterEach(async () => {
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

/** Twelve fields of diatoms and greens, paused; all invented. */
async function aCount(): Promise<string> {
  const method = await callFrom(page, "countMethods.define", {
    requestId: newRequest(),
    familyId: null,
    definition: UTERMOHL_FIELDS,
  });
  const { id: countId } = await callFrom(page, "counts.open", {
    requestId: newRequest(),
    position: null,
    count: {
      sample: "Mere 3",
      note: "",
      countMethodId: method.id,
      train: await trainOfBench(page),
      categories: UTERMOHL_FIELDS.categories,
      inputs: { side: "25", settledVolume: "10", dilution: "1" },
      batch: "",
    },
  });
  const acts = [7, 5, 9, 6, 8, 4, 7, 10, 6, 8, 5, 7].flatMap((diatoms) => [
    ...Object.entries({ diatoms, greens: 3 }).map(([category, weight]) => ({
      kind: "press" as const,
      requestId: newRequest(),
      category,
      weight: String(weight),
      rowId: null,
      waitedMs: 0,
    })),
    { kind: "field" as const, requestId: newRequest(), position: null, waitedMs: 0 },
  ]);
  await callFrom(page, "counts.pressMany", { countId, acts });
  await callFrom(page, "counts.close", { requestId: newRequest(), countId, lastFieldCounted: false });
  return countId;
}

/** Three cells of a spheroid, labelled. */
async function cells(): Promise<string> {
  const ready = READY_METHODS.find(({ id }) => id === "biovolume-spheroid");
  if (!ready) throw new Error("no method for spheroids");
  const method = await callFrom(page, "methods.define", {
    requestId: newRequest(),
    familyId: null,
    definition: { ...ready.definition, entry: "direct" },
  });
  const sheet = await callFrom(page, "sheets.open", {
    requestId: newRequest(),
    sheet: { sample: "Cells", customer: "", note: "", methodId: method.id, ...(await trainOfBench(page)) },
  });
  for (const [i, [d, h]] of [
    ["20", "41"],
    ["22", "45.5"],
    ["19.5", "40"],
  ].entries()) {
    for (const [dimension, typed] of Object.entries({ d, h })) {
      await callFrom(page, "rows.enter", {
        requestId: newRequest(),
        sheetId: sheet.id,
        rowId: `cell-${i}`,
        cell: { dimension, edge: "direct" },
        typed: String(typed),
        label: "diatoms",
      });
    }
  }
  return sheet.id;
}

async function expectAccessible(): Promise<void> {
  for (const turn of ["first", "second"]) {
    await page.evaluate(() => document.getAnimations().forEach((animation) => void animation.finish()));
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${turn} theme: ${id} ${nodes[0]?.target.join(" ")}`)).toEqual(
      [],
    );
    await person.press("F8");
  }
}

test("cell volumes of a closed count, from a sheet and typed, come to mm³/L and carbon by keyboard", async () => {
  const countId = await aCount();
  const sheetId = await cells();
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("count");
  await person.activate(page.getByRole("button", { name: /^Open count/ }));
  const section = page.getByRole("region", { name: "Biovolume and carbon" });
  await expect(section.getByRole("table")).toHaveCount(0);
  await person.activate(page.getByRole("button", { name: "Cell volumes …" }));
  const dialog = page.getByRole("dialog", { name: "Volumes of the counted cells" });
  await expect(dialog.getByLabel("Taxon")).toBeFocused();
  await expect(dialog.getByLabel("Carbon of one cell")).toHaveValue("diatoms");

  // Nothing chosen: refused at its field.
  await person.tabTo(dialog.getByLabel("Sheet", { exact: true }));
  await person.press("Control+Enter");
  await expect(dialog.getByLabel("Sheet", { exact: true })).toHaveAttribute("aria-invalid", "true");
  await expectAccessible();
  await person.tabTo(dialog.getByLabel("Sheet", { exact: true }));
  await page.keyboard.type("S-");
  await expect(dialog.getByLabel("Sheet", { exact: true })).not.toHaveValue("");
  for (let step = 0; step < 5; step += 1) {
    if ((await dialog.getByLabel("Sheet", { exact: true }).inputValue()) === sheetId) break;
    await person.press("ArrowDown");
  }
  await expect(dialog.getByLabel("Sheet", { exact: true })).toHaveValue(sheetId);
  await expect(dialog.getByLabel("Volume on the sheet")).toHaveValue("volume");
  await person.press("Control+Enter");

  // It leads on to the next taxon, whose volume is typed.
  await expect(dialog.getByLabel("Taxon")).toHaveValue("greens");
  await expect(dialog.getByLabel("Taxon")).toBeFocused();
  await person.tabTo(dialog.getByLabel("Volume from"));
  await person.press("ArrowDown");
  for (const [label, text] of [
    ["Volume", "520"],
    ["U (k = 2)", "60"],
    ["Source", "an invented list, 2020"],
  ] as const) {
    await person.tabTo(dialog.getByRole("textbox", { name: label, exact: false }).first());
    await page.keyboard.type(text);
  }
  await person.press("Control+Enter");
  await expect(dialog.getByLabel("Taxon")).toHaveValue("cyanobacteria");
  await person.press("Escape");

  const table = section.getByRole("table");
  await expect(table.getByRole("row", { name: /^diatoms/ })).toContainText("mm³/L");
  await expect(table.getByRole("row", { name: /^diatoms/ })).toContainText("3 cells");
  await expect(table.getByRole("row", { name: /^diatoms/ })).toContainText("µg C/L");
  await expect(table.getByRole("row", { name: /^green algae/ })).toContainText("520 ± 60 µm³");
  await expect(table.getByRole("row", { name: /^all of them/ })).toContainText("mm³/L");
  await expect(section).toContainText("No carbon relation, so in no sum of carbon: green algae.");
  // Behind the dispersion test: what else is to be said of the scatter.
  await person.activate(page.getByText("More on the scatter between fields"));
  const intervals = page.getByRole("region", { name: "Intervals" });
  await expect(intervals).toContainText("Morisita's index");
  await expect(intervals).toContainText("no more scatter than chance gives");
  const { results, cellVolumes } = await callFrom(page, "counts.get", { countId });
  expect(cellVolumes?.map(({ category }) => category)).toEqual(["diatoms", "greens"]);
  expect(results).not.toBeNull();
  await expectAccessible();
  await section.screenshot({ path: test.info().outputPath("biovolume.png") });

  // One more cell on the sheet: the volume stays as it was taken, and the page says so.
  for (const [dimension, typed] of Object.entries({ d: "30", h: "60" })) {
    await callFrom(page, "rows.enter", {
      requestId: newRequest(),
      sheetId,
      rowId: "cell-9",
      cell: { dimension, edge: "direct" },
      typed,
      label: "diatoms",
    });
  }
  await page.reload();
  await expect(section).toContainText("Measured further since the volume was taken: diatoms.");
  await expect(table.getByRole("row", { name: /^diatoms/ })).toContainText("3 cells");
  await person.activate(page.getByRole("button", { name: "Cell volumes …" }));
  await person.tabTo(dialog.getByLabel("Taxon"));
  await person.press("ArrowUp", "ArrowUp");
  await expect(dialog.getByLabel("Taxon")).toHaveValue("diatoms");
  await expect(dialog.getByLabel("Taxon")).toBeFocused();
  await person.tabTo(dialog.getByLabel("Reason").first());
  await page.keyboard.type("one more cell");
  await person.press("Control+Enter");
  await expect(dialog.getByLabel("Taxon")).toHaveValue("cyanobacteria");
  await person.press("Escape");
  await expect(table.getByRole("row", { name: /^diatoms/ })).toContainText("4 cells");
  await expect(section).not.toContainText("Measured further");
});
