import { expect, type Locator, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { openBenchWindow } from "./bench-window.ts";

/** The way from an empty bench to the first size; our goal is 180 keys. */
const MOST_KEYS = 180;
const MOST_SCREENS = 8;

let program: ProgramUnderTest;

test.beforeAll(async () => {
  program = await startProgram();
});
test.afterAll(() => program.stop());

/** Somebody who knows the program and types no more than it asks for; every key that goes down is counted. */
class CountedHand {
  readonly page: Page;
  keys = 0;
  readonly screens: string[] = [];

  constructor(page: Page) {
    this.page = page;
  }

  async press(...keys: readonly string[]): Promise<void> {
    for (const key of keys) {
      await this.page.keyboard.press(key);
      this.keys += 1;
    }
  }

  async type(text: string): Promise<void> {
    await this.page.keyboard.type(text);
    this.keys += text.length;
  }

  /** Tabs on to a field, and fails where Tab does not lead forwards to it. */
  async tabTo(target: Locator): Promise<void> {
    for (let tabs = 0; tabs < 20; tabs += 1) {
      if (await target.evaluate((element) => element === document.activeElement)) return;
      await this.press("Tab");
    }
    throw new Error(`Tab does not lead on to ${target}`);
  }

  async fill(label: string | RegExp, text: string): Promise<void> {
    await this.tabTo(this.page.locator("main").getByLabel(label).first());
    await this.type(text);
  }

  /** A screen is there, and what it asks first has the focus: nobody has to look for it. */
  async seen(name: string, first: Locator): Promise<void> {
    await expect(first, `${name}: what has the focus first`).toBeFocused({ timeout: 20_000 });
    this.screens.push(name);
  }
}

test("from an empty bench to the first size in few keys and few screens, with no dead end", async ({
  context,
}) => {
  test.slow();
  const window = await openBenchWindow(context, program.address);
  const { page } = window;
  page.setDefaultTimeout(20_000);
  const hand = new CountedHand(page);
  const field = (label: string | RegExp): Locator => page.locator("main").getByLabel(label).first();

  await hand.seen("welcome", field("Name"));
  await hand.type("Ada Example");
  await hand.press("Control+Enter");

  await hand.seen("first steps", page.getByRole("button", { name: /Register the microscope/ }));
  await hand.press("Enter");

  await hand.seen("microscope", field("Name"));
  await hand.type("Stand A");
  await hand.tabTo(page.getByRole("radio", { name: /^Compensated/ }));
  await hand.press("Space");
  await hand.fill("Objective 1, magnification", "10");
  await hand.fill("Objective 1, aperture", "0.25");
  await hand.fill("Eyepiece 1, name", "10×");
  await hand.fill("Eyepiece 1, reticle scale", "10");
  await hand.fill("Eyepiece 1, divisions", "100");
  await hand.press("Control+Enter");

  await hand.seen("stage micrometer", field("Name"));
  await hand.type("1 mm");
  await hand.fill("Serial number", "4711");
  await expect(field("Length of the scale")).toHaveValue("1");
  await expect(field(/^Divisions/)).toHaveValue("100");
  await hand.press("Control+Enter");

  await hand.seen("certificate", field("Certificate number"));
  await expect(page.getByText("Step 3 of 5: Enter its certificate")).toBeVisible();
  await hand.type("C-77");
  await hand.fill(/^Laboratory/, "Invented");
  await hand.fill("Calibrated on", "20260301");
  await hand.fill("Due again on", "20990301");
  await expect(field("Calibrated on")).toHaveValue("2026-03-01");
  await expect(field("Reference temperature")).toHaveValue("20");
  await hand.fill("Expanded uncertainty U", "0.3");
  await expect(field("Coverage factor k")).toHaveValue("2");
  await hand.tabTo(
    page
      .getByRole("group", { name: /second column/ })
      .getByRole("radio")
      .first(),
  );
  await hand.press("Space");
  const isError = page.getByRole("radio", { name: /error/i }).first();
  for (let step = 0; step < 3 && !(await isError.isChecked()); step += 1) await hand.press("ArrowDown");
  await hand.fill("Line 1, marked", "0");
  await hand.press("Tab");
  await hand.type("0");
  await hand.fill("Line 2, marked", "1000");
  await hand.press("Tab");
  await hand.type("0");
  await hand.press("Control+Enter");

  await hand.seen("calibration", page.getByLabel("Setting 1, reticle left"));
  for (const right of ["96.4", "96.5", "96.4"]) {
    for (const reading of ["0", right, "0", "100"]) {
      await hand.type(reading);
      await hand.press("Enter");
    }
  }
  await expect(page.getByText("From 3 settings.")).toBeVisible();
  await hand.press("Control+Enter");
  await expect(page.getByRole("button", { name: "Measure", exact: true }).last()).toBeFocused();
  await hand.press("Enter");

  await hand.seen("new sheet", field("Sample"));
  await hand.type("Honey 12");
  await hand.press("Control+Enter");

  await page.getByRole("grid").waitFor();
  await hand.seen("sheet", page.locator("[data-active-cell]"));
  await hand.press("Enter");
  await expect(page.getByRole("region", { name: "Confirm the train" })).toBeEmpty();
  for (const reading of ["23.0", "51.5"]) {
    await hand.type(reading);
    await hand.press("Enter");
  }
  await expect(page.getByRole("region", { name: "Last result" })).toContainText(/295\.\d/);

  console.log(`first hour: ${hand.keys} keys, ${hand.screens.length} screens`);
  expect(hand.keys, hand.screens.join(", ")).toBeLessThanOrEqual(MOST_KEYS);
  expect(hand.screens.length).toBeLessThanOrEqual(MOST_SCREENS);
  expect(window.faults).toEqual([]);
});

test("whoever leaves a step is shown the way back to it on every screen", async ({ context }) => {
  const empty = await startProgram();
  try {
    const { page } = await openBenchWindow(context, empty.address);
    await page.locator("main").getByLabel("Name").first().fill("Ada Example");
    await page.keyboard.press("Control+Enter");
    await page.getByRole("heading", { name: "Bench", exact: true }).waitFor();
    await page.keyboard.press("Alt+5");
    await page.getByRole("banner").getByRole("button", { name: "Register the microscope" }).press("Enter");
    await expect(page.locator("main").getByLabel("Name").first()).toBeFocused();
    await expect(page.getByText("Step 1 of 5: Register the microscope")).toBeVisible();
  } finally {
    await empty.stop();
  }
});
