import { join } from "node:path";
import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { TEST_BROWSER } from "../support/test-browser.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { arriveAt, everyPlace, type Place } from "./every-place.ts";
import { layoutFaults } from "./layout-faults.ts";

// As a person's browser: scrollbars take room.
test.use({ launchOptions: { ...TEST_BROWSER, ignoreDefaultArgs: ["--hide-scrollbars"] } });

/** Windows by their CSS px: usual ones, a small second screen, and 1280 px at 200 %. */
const SIZES = [
  { width: 1280, height: 800 },
  { width: 1366, height: 768 },
  { width: 1920, height: 1080 },
  { width: 1024, height: 600 },
  { width: 800, height: 600 },
  { width: 640, height: 400 },
];
const LONG_ROWS = 20_000;

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let places: readonly Place[];
test.beforeAll(async ({ browser }) => {
  test.setTimeout(180_000);
  program = await startProgram({ demo: true });
  const context = await browser.newContext({ viewport: SIZES[0] ?? null });
  window = await openBenchWindow(context, program.address);
  page = window.page;
  page.setDefaultTimeout(20_000);
  const [person] = await callFrom(page, "people.list", {});
  if (person) await callFrom(page, "people.choose", { personId: person.id });
  places = await everyPlace(page, LONG_ROWS);
});

test.afterAll(async () => {
  await page?.context().close();
  await program.stop();
});

async function arrive(place: Place): Promise<void> {
  if (SIZES[0]) await page.setViewportSize(SIZES[0]);
  await arriveAt(page, place);
}

test("a browser with its scrollbars", async () => {
  const wide = await page.evaluate(() => {
    const box = document.createElement("div");
    box.style.cssText = "inline-size: 100px; block-size: 100px; overflow: scroll";
    document.body.append(box);
    const taken = box.offsetWidth - box.clientWidth;
    box.remove();
    return taken;
  });
  expect(wide).toBeGreaterThan(8);
});

test("nothing is cut off, lies over another or is wider than the window, on any screen at any size", async () => {
  test.setTimeout(600_000);
  const folder = process.env.LINEFALL_PICTURES;
  const only = process.env.LINEFALL_PLACES?.split(",");
  const found: string[] = [];
  const themes = new Set<string | undefined>();
  for (const place of places.filter(({ name }) => only?.includes(name) ?? true)) {
    await arrive(place);
    for (const [turn, size] of [...SIZES, ...SIZES.toReversed()].entries()) {
      // The other theme on the way back.
      if (turn === SIZES.length) await page.keyboard.press("F8");
      await page.setViewportSize(size);
      await page.evaluate(
        () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))),
      );
      const theme = await page.evaluate(() => document.documentElement.dataset.theme);
      themes.add(theme);
      const where = `${place.name} at ${size.width}×${size.height}, ${theme}`;
      found.push(...(await layoutFaults(page)).map((fault) => `${where}: ${fault}`));
      if (folder === undefined) continue;
      await page.screenshot({ path: join(folder, `${place.name}-${theme}-${size.width}.png`) });
    }
  }
  expect(found).toEqual([]);
  expect([...themes].toSorted()).toEqual(["dim", "light"]);
  expect(window.faults).toEqual([]);
});

const placeNamed = (name: string): Place => {
  const found = places.find((one) => one.name === name);
  if (!found) throw new Error(`no place ${name}`);
  return found;
};

test("a sheet of 20,000 rows and a small one: few rows drawn, the head in sight, at every size", async () => {
  for (const name of ["measure-long", "measure-short"]) {
    await arrive(placeNamed(name));
    const grid = page.getByRole("grid");
    for (const size of SIZES) {
      await page.setViewportSize(size);
      const where = `${name} at ${size.width}×${size.height}`;
      await expect.poll(() => grid.getByRole("row").count(), { message: where }).toBeLessThan(60);
      // The cursor stands on the last row: the rows are scrolled, the head is not.
      const scroller = await grid.evaluate((table) => {
        const box = table.parentElement?.getBoundingClientRect();
        const head = table.querySelector("thead")?.getBoundingClientRect();
        return { offset: (head?.top ?? 0) - (box?.top ?? 0), scrolled: table.parentElement?.scrollTop ?? 0 };
      });
      expect(scroller.scrolled, where).toBeGreaterThan(0);
      expect(Math.abs(scroller.offset), where).toBeLessThan(3);
    }
  }
  await page.setViewportSize({ width: 1280, height: 800 });
  const ordinal = page.getByRole("rowheader", { name: String(LONG_ROWS), exact: true });
  await arrive(placeNamed("measure-long"));
  await expect(ordinal).toBeVisible();
  const spill = await ordinal.evaluate((cell) => cell.scrollWidth - cell.clientWidth);
  expect(spill, "a row number of five digits fits its column").toBeLessThanOrEqual(0);
});

test("every key of the pad is in sight where there is room", async () => {
  await arrive(placeNamed("count-at-work"));
  for (const size of SIZES.filter(({ height }) => height >= 768)) {
    await page.setViewportSize(size);
    const pad = page.getByRole("region", { name: "Keys of this count" });
    const bottom = await pad.evaluate((element) => element.getBoundingClientRect().bottom);
    expect(bottom, `${size.width}×${size.height}`).toBeLessThanOrEqual(size.height);
    await expect(pad.getByRole("button", { name: /^0/ })).toBeInViewport({ ratio: 1 });
  }
});

test("Calibrate shows drawing, settings, factor, verdict and the way to put it in force at once at 1280×800", async () => {
  await arrive(placeNamed("calibrate-at-work"));
  const main = page.locator("main");
  await expect(main.locator("[data-outcome]").first()).toBeVisible();
  for (const [what, part] of [
    ["drawing", main.locator("svg[role=img]").first()],
    ["first setting", main.getByRole("textbox").first()],
    ["factor", main.getByRole("heading", { name: "Factor" })],
    ["verdict", main.locator("[data-outcome]").first()],
    ["put in force", main.getByRole("button", { name: /^Put this factor into use/ })],
  ] as const) {
    await expect(part, what).toBeInViewport({ ratio: 1 });
  }
  expect(await main.evaluate((element) => element.scrollTop)).toBe(0);
});
