import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { FIBRES_ON_FILTER } from "#core/counting/methods/ready-bench-methods.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { expectFigure, trainOfBench } from "./count-keys.ts";
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

test("a doubtful fibre and a doubtful field are judged by the method's rule, while the count stands", async () => {
  const method = await callFrom(page, "countMethods.define", {
    requestId: newRequest(),
    familyId: null,
    definition: FIBRES_ON_FILTER,
  });
  await callFrom(page, "counts.open", {
    requestId: newRequest(),
    position: null,
    count: {
      sample: "Filter 12",
      note: "",
      countMethodId: method.id,
      train: await trainOfBench(page),
      categories: FIBRES_ON_FILTER.categories,
      inputs: { diameter: "10" },
      batch: "",
    },
  });
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("count");
  await person.activate(page.getByRole("button", { name: /^Continue count/ }));
  await page.getByText(/F7 resumes at field/).waitFor();
  await person.press("F7");
  await page.getByText("Counting.", { exact: true }).waitFor();
  await person.press("Numpad1");
  await expectFigure(page, "total", 1);

  await person.activate(page.getByRole("button", { name: "Fibre rules …" }));
  const dialog = page.getByRole("dialog", { name: "What counts as a fibre" });
  await expect(dialog).toContainText("more than 5 µm long");
  await expect(dialog).toContainText("not a clearance certificate");
  await expect(dialog.getByLabel("Length along its curve")).toBeFocused();
  // The factor of the bench is about 10.4 µm/div: 1.2 × 0.4 div are 12.4 × 4.1 µm, exactly 3 : 1.
  await page.keyboard.type("1.2");
  await person.press("Tab");
  await page.keyboard.type("0.4");
  const fibre = dialog.locator("[data-figure=fibre]");
  await expect(fibre).toContainText("a fibre, counts 1.");
  await person.press("Control+a");
  await page.keyboard.type("0.41");
  await expect(fibre).toContainText("not a fibre, length to width is not at least 3:1.");
  await person.press("Control+a");
  await page.keyboard.type("0.2");
  await person.tabTo(dialog.getByLabel("Ends inside the area"));
  await person.press("ArrowDown");
  await expect(fibre).toContainText("must be odd when one end is inside");
  await person.tabTo(dialog.getByLabel("Crosses the edge so often"));
  await person.press("Control+a");
  await page.keyboard.type("1");
  await expect(fibre).toContainText("a fibre, counts 0.5.");
  await person.tabTo(dialog.getByLabel("Covered by debris"));
  await page.keyboard.type("16");
  await expect(dialog.locator("[data-figure=covered]")).toHaveText("This field may be counted.");
  await page.keyboard.type(".7");
  await expect(dialog.locator("[data-figure=covered]")).toHaveText("Leave this field out and take another.");
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);
  await person.press("Escape");
  // What was typed there was no press.
  await expectFigure(page, "total", 1);
  await person.press("Numpad1");
  await expectFigure(page, "total", 2);
});
