import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { SCREEN_TITLES, SCREENS } from "#renderer/window/location.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { readyBench } from "./ready-bench.ts";

test.use({ screenshot: "only-on-failure" });

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;

test.beforeAll(async ({ browser }) => {
  program = await startProgram();
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  window = await openBenchWindow(context, program.address);
  page = window.page;
  page.setDefaultTimeout(20_000);
  person = new KeyboardPerson(page);
});

test.afterAll(async () => {
  await page?.context().close();
  await program.stop();
});

/** Rules of WCAG 2.2 A and AA; whatever axe calls serious or critical beyond them counts too. */
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

async function expectAccessible(what: string): Promise<void> {
  await page.evaluate(() => document.getAnimations().forEach((animation) => void animation.finish()));
  const { violations } = await new AxeBuilder({ page }).withTags(TAGS).analyze();
  const found = violations
    .filter(({ impact }) => impact === "serious" || impact === "critical")
    .map(({ id, nodes }) => `${what}: ${id}: ${nodes.map((node) => node.target.join(" ")).join(", ")}`);
  expect(found).toEqual([]);
}

interface Place {
  readonly name: string;
  readonly go: () => Promise<void>;
}

const heading = (name: string | RegExp) => page.getByRole("heading", { name }).first();

/** The screens by their keys, each waited for by what only it shows. */
const PLACES: readonly Place[] = [
  {
    name: "Bench",
    go: async () => {
      await person.go("bench");
      await heading("Stand A").waitFor();
    },
  },
  {
    name: "Calibrate, the choice",
    go: async () => {
      await person.go("calibrate");
      await page.getByLabel("Optical train").waitFor();
    },
  },
  {
    name: "Calibrate, at work, with a mistake",
    go: async () => {
      await person.go("calibrate");
      await page.getByLabel("Optical train").waitFor();
      await person.press("Control+Enter");
      const first = page.getByLabel("Setting 1, reticle left");
      await first.waitFor();
      if ((await first.inputValue()) === "") await person.take("0", "96.4", "0", "25", "9x");
      await page.getByText("not part of a number").waitFor();
    },
  },
  {
    name: "Measure, the choice",
    go: async () => {
      await person.go("bench");
      await person.go("measure");
      await heading("Open a new sheet").waitFor();
    },
  },
  {
    name: "Measure, at work, with flags and a refused key",
    go: async () => {
      await person.go("bench");
      await person.go("measure");
      await person.activate(page.getByRole("button", { name: /Measure on sheet/ }).first());
      await page.getByRole("grid").waitFor();
      if ((await person.cell(1, 3).textContent()) === "") await person.take("23.0", "51.5", "50", "45");
      await person.press("4", "x");
      await page.getByText("not part of a number").first().waitFor();
    },
  },
  ...SCREENS.filter((screen) => !["bench", "calibrate", "measure"].includes(screen)).map((screen) => ({
    name: SCREEN_TITLES[screen],
    go: async () => {
      await person.go(screen);
      await page.locator("main h1").waitFor();
    },
  })),
];

test("the first question, asked of nobody yet", async () => {
  await heading("Who is at the bench?").waitFor();
  for (const theme of ["dim", "light"]) {
    await expect(page.locator("html")).toHaveAttribute("data-theme", theme);
    await expectAccessible(`who is at the bench, ${theme}`);
    await person.press("F8");
  }
  await readyBench(page);
  await page.reload();
});

for (const theme of ["dim", "light"]) {
  test(`every screen in the ${theme} theme`, async () => {
    test.slow();
    const html = page.locator("html");
    if ((await html.getAttribute("data-theme")) !== theme) await person.press("F8");
    await expect(html).toHaveAttribute("data-theme", theme);
    for (const place of PLACES) {
      await place.go();
      await expectAccessible(`${place.name}, ${theme}`);
      // Half-typed text would be asked about on leaving.
      await person.press("Escape");
    }
    expect(window.faults).toEqual([]);
  });
}

test("the grid is a grid to a screen reader", async () => {
  await PLACES[4]?.go();
  await person.press("Escape");
  const grid = page.getByRole("grid", { name: /^Readings of sheet S-0001, Sample 7$/ });
  await expect(grid).toHaveAttribute("aria-rowcount", /^\d+$/);
  await expect(grid).toHaveAttribute("aria-colcount", "9");
  const cells = grid
    .getByRole("row")
    .filter({ has: page.getByRole("gridcell") })
    .first();
  await expect(cells.getByRole("rowheader")).toHaveText("1");
  await expect(cells).toHaveAttribute("aria-rowindex", "3");
  await expect(grid.getByRole("columnheader", { name: "Length, left edge, divisions" })).toBeVisible();
  await expect(grid.getByRole("gridcell").nth(4)).toHaveAttribute("aria-readonly", "true");
  // One tab stop, and real focus on the cell.
  await expect(grid.locator("[tabindex='0']")).toHaveCount(1);
  await expect(grid.locator("[tabindex='0']")).toBeFocused();
  await person.press("Control+Home");
  await expect(person.cell(1, 1)).toBeFocused();
  await person.press("ArrowLeft", "ArrowUp");
  await expect(person.cell(1, 1)).toBeFocused();
  await person.press("End");
  await expect(person.cell(1, 9)).toBeFocused();
  await person.press("Tab");
  await expect(grid.locator(":focus")).toHaveCount(0);
});
