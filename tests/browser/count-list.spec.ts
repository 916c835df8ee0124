import { expect, type Page, test } from "@playwright/test";
import { listText } from "#core/counting/lists/list-text.ts";
import { POLLEN_MARKER } from "#core/counting/methods/ready-pollen-methods.ts";
import { inventedTaxa, TAXA_TEXT } from "../support/invented-taxa.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { expectFigure } from "./count-keys.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { Keypad } from "./keypad.ts";
import { paste } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;

test.use({ screenshot: "only-on-failure" });

test.beforeEach(async ({ context }) => {
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  program = await startProgram();
  window = await openBenchWindow(context, program.address);
  page = window.page;
  page.setDefaultTimeout(20_000);
  await readyBench(page);
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  person = new KeyboardPerson(page);
  await page.evaluate(() => {
    const made = { keys: 0, clicks: 0 };
    Object.assign(globalThis, { handMade: made });
    addEventListener("keydown", () => (made.keys += 1), true);
    addEventListener("pointerdown", () => (made.clicks += 1), true);
  });
});

test.afterEach(async () => {
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

/** Keys and clicks since the window was loaded. */
function handMade(): Promise<{ keys: number; clicks: number }> {
  return page.evaluate(
    () => (globalThis as unknown as { handMade: { keys: number; clicks: number } }).handMade,
  );
}

async function openLists(): Promise<void> {
  await person.go("count");
  await page.getByRole("heading", { name: "Open a count" }).waitFor();
  await person.press("Alt+PageDown", "Alt+PageDown");
  await expect(page.getByLabel("Categories, one a line")).toBeFocused();
}

/** Chooses in a list of a form by its first letters. */
async function pick(field: string, words: string): Promise<void> {
  await person.tabTo(person.field(field));
  await page.keyboard.type(words);
}

test("25 taxa by paste, a count by typed letters, percentages of two sums, by keyboard alone", async () => {
  await openLists();
  await paste(page, TAXA_TEXT);
  await expect(page.getByText("25 categories")).toBeVisible();
  await person.press("Shift+Tab");
  await page.keyboard.type("Pollen");
  await person.press("Control+Enter");
  await page.getByRole("heading", { name: "Pollen", exact: true }).waitFor();
  const taken = await handMade();
  console.log(`25 taxa on the bench: ${taken.keys} keys, ${taken.clicks} clicks (before: 483 and 61)`);
  expect(taken.keys).toBeLessThan(40);
  expect(taken.clicks).toBe(0);

  await person.press("Alt+PageUp", "Alt+PageUp");
  await person.fill("Sample", "Peat, 40 cm");
  await pick("Method", POLLEN_MARKER.name);
  await pick("Categories", "Pollen, version 1");
  await person.press("Control+Enter");
  await page.getByText("Counting.", { exact: true }).waitFor();
  const open = await handMade();
  console.log(`… and a count opened by them: ${open.keys} keys, ${open.clicks} clicks`);

  await page.keyboard.press("Numpad7");
  await page.keyboard.press("Numpad7");
  const find = page.getByRole("combobox", { name: "Letters or code" });
  const take = async (letters: string, name: string): Promise<void> => {
    await page.keyboard.press("Space");
    await page.keyboard.type(letters);
    await expect(page.getByRole("option", { selected: true })).toContainText(name);
    await page.keyboard.press("Enter");
    await expect(find).toBeHidden();
  };
  await take("poa", "Poaceae");
  await take("pla l", "Plantago lanceolata");
  await take("471", "Calluna vulgaris");
  await take("nym", "Nymphaea");
  await page.keyboard.press("Numpad8");
  await page.keyboard.press("Space");
  await page.keyboard.press("Escape");
  await expect(find).toBeHidden();
  await page.keyboard.press("Numpad7");
  await expectFigure(page, "total", 7);

  const land = page.getByRole("table", { name: /^Percentages of Land pollen, 7 counted/ });
  const trees = page.getByRole("table", { name: /^Percentages of Trees and shrubs, 4 counted/ });
  // Clopper–Pearson limits of 4 of 7 and 3 of 4 by SciPy 1.17.
  await expect(land.getByRole("row", { name: /^Trees/ })).toContainText("57.1 % (18.4 to 90.1)");
  await expect(land.getByRole("row", { name: /^Nymphaea \(outside\)/ })).toContainText("14.3 %");
  await expect(trees.getByRole("row", { name: /^Betula/ })).toContainText("75.0 % (19.4 to 99.4)");
  await expect(page.getByText(/3 of 3 Betula/)).toBeVisible();
  expect((await handMade()).clicks).toBe(0);
});

test("any taxon by its code from the keypad alone, a colony and taking back with it", async () => {
  await callFrom(page, "categoryLists.define", {
    requestId: crypto.randomUUID(),
    familyId: null,
    definition: { name: "Pollen", categories: inventedTaxa(), note: "" },
    carryNames: null,
  });
  await person.go("count");
  await person.fill("Sample", "Peat, 41 cm");
  await pick("Method", POLLEN_MARKER.name);
  await pick("Categories", "Pollen, version 1");
  await person.press("Control+Enter");
  await page.getByText("Counting.", { exact: true }).waitFor();
  const pad = await Keypad.of(page);
  await pad.type(".4711⏎");
  await expectFigure(page, "total", 1);
  await pad.type("+8+.47⏎");
  await expectFigure(page, "total", 9);
  // Nothing typed: Enter takes the last one again, the same key or - comes back without one.
  await pad.type(".⏎");
  await expectFigure(page, "total", 10);
  await pad.type("..7");
  await expectFigure(page, "total", 11);
  await pad.type(".--");
  await expectFigure(page, "total", 10);
  await pad.type(".9⏎");
  await expect(page.getByText("No category begins with “9”", { exact: false })).toBeVisible();
});

test("a list's lines are refused with their reason, and a new name goes through to an open count", async () => {
  await openLists();
  await paste(page, `${listText(inventedTaxa())}Betula\t\tTrees\nOstrya\t\tTrees\tLand pollen\tperhaps\n`);
  await expect(page.getByText("25 categories, 2 refused lines")).toBeVisible();
  await expect(page.getByRole("row", { name: /^27/ })).toContainText("“Betula” is on line 2 already");
  await expect(page.getByRole("row", { name: /^28/ })).toContainText(
    "“perhaps” under Counts as is not known",
  );
  await person.press("Shift+Tab");
  await page.keyboard.type("Pollen");
  await person.press("Control+Enter");
  await expect(page.getByText(/Not saved: 1 field/)).toBeVisible();
  await person.tabTo(page.getByRole("checkbox", { name: "Leave the refused lines out" }));
  await person.press("Space", "Control+Enter");
  await page.getByRole("heading", { name: "Pollen", exact: true }).waitFor();

  const [list] = await callFrom(page, "categoryLists.list", {});
  if (!list) throw new Error("no list was kept");
  const method = await callFrom(page, "countMethods.define", {
    requestId: crypto.randomUUID(),
    familyId: null,
    definition: {
      ...POLLEN_MARKER,
      categories: list.definition.categories,
      stopping: { ...POLLEN_MARKER.stopping, rule: null },
    },
  });
  const { id } = await callFrom(page, "counts.open", {
    requestId: crypto.randomUUID(),
    position: null,
    count: {
      sample: "Peat, 42 cm",
      note: "",
      countMethodId: method.id,
      train: null,
      categories: list.definition.categories,
      categoryListId: list.id,
      inputs: {},
      batch: "",
    },
  });
  await person.activate(page.getByRole("button", { name: "Make the next version …" }));
  await expect(page.getByLabel("Categories, one a line")).toBeFocused();
  await person.press("Control+a");
  await paste(page, listText(list.definition.categories).replace("Poaceae", "Gramineae"));
  await expect(page.getByText("Renamed: Poaceae → Gramineae.")).toBeVisible();
  await person.fill("Why names have changed", "The laboratory's name list of this year");
  await person.press("Control+Enter");
  await expect(page.getByText("Version 2")).toBeVisible();
  const { categories } = await callFrom(page, "counts.get", { countId: id });
  expect(categories.map(({ name }) => name)).toContain("Gramineae");
});
