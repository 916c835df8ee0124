import { readFileSync } from "node:fs";
import AxeBuilder from "@axe-core/playwright";
import { type BrowserContext, expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { picturesOf } from "../workbook/other-programs.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { type SavedCopy, savedCopy } from "./saved-copy.ts";

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram({ demo: true });
});
test.afterAll(() => program.stop());

const chart = (page: Page) => page.getByTestId("trend-chart");
const reader = (page: Page) => page.getByTestId("trend-reader");

/** Every line and text of the chart, with its place. */
const drawn = (page: Page): Promise<string[]> =>
  chart(page)
    .locator("svg path, svg text")
    .evaluateAll((all) =>
      all.map((one) => {
        const place = ["d", "x", "y", "transform"].map((name) => one.getAttribute(name) ?? "").join(" ");
        return `${one.textContent ?? ""} ${place}`;
      }),
    );

/** Opens the history of a train by the button on its card at the bench. */
async function openFromBench(person: KeyboardPerson, name: RegExp, nth = 0): Promise<void> {
  await person.go("bench");
  await person.activate(person.page.getByRole("button", { name }).nth(nth));
  await chart(person.page).waitFor();
}

async function expectAccessible(page: Page): Promise<void> {
  const found = await new AxeBuilder({ page }).analyze();
  expect(found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
}

test("the drifting and the jumped train of the demo bench are named, read point by point, by keyboard alone", async ({
  context,
}) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  const drifting = page.getByRole("article").filter({ hasText: "drifting" });
  await expect(drifting).toHaveCount(1);
  await expect(drifting).toContainText(
    /By \+0\.\d+ % a year over 10 calibrations towards \+2\.0 %, met about/,
  );
  // A single value beyond its limits, and a corrected certificate, are jumps too; this one no event explains.
  const jumped = page.getByRole("article").filter({ hasText: "no event recorded" });
  await expect(jumped).toHaveCount(1);
  await expect(jumped).toContainText(/jumped.*By −1\.\d % /);

  await openFromBench(person, /^Trend of 40×\/0\.65 on Window stand/);
  await expect(page.getByText(/By \+0\.\d+ % a year over 10 calibrations/).first()).toBeVisible();
  await person.tabTo(chart(page));
  await person.press("Home");
  const rows = page.getByRole("table", { name: /^Calibrations of / }).getByRole("row");
  // Newest first under a line of headings: the first point of the chart is the last line of the table.
  const count = (await rows.count()) - 1;
  expect(count).toBe(10);
  for (let at = 0; at < count; at += 1) {
    const cells = rows.nth(count - at).locator("th, td");
    const [date, factor, change] = await cells.allTextContents();
    await expect(reader(page)).toContainText(`${date}: ${factor} µm/div (${change} %)`);
    await person.press("ArrowRight");
  }
  const whole = await drawn(page);
  await person.press("+", "+");
  await expect.poll(() => drawn(page)).not.toEqual(whole);
  await person.press("0");
  await expect.poll(() => drawn(page)).toEqual(whole);
  await person.press("Enter");
  await expect(page.getByRole("heading", { name: /in force/ })).toBeVisible();
  expect(faults).toEqual([]);
});

test("every part of the screen is reached by keys and clean in both themes", async ({ context }) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  await person.go("trends");
  await chart(page).waitFor();
  await expectAccessible(page);
  for (const heading of ["Summary", "Summary", "Summary"]) {
    await person.press("Alt+PageDown");
    await page.getByRole("heading", { name: heading }).waitFor();
    await expectAccessible(page);
  }
  await person.press("F8");
  await person.press("Alt+PageUp");
  await page.getByRole("heading", { name: "Summary" }).waitFor();
  await expectAccessible(page);
  await person.go("trends");
  await chart(page).waitFor();
  await expectAccessible(page);
  await person.press("F8");
  expect(faults).toEqual([]);
});

test("which factor was on the bench on a day is answered by one key and the date", async ({ context }) => {
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  await person.go("trends");
  await chart(page).waitFor();
  await person.press("d");
  await expect(page.getByLabel("On which day?")).toBeFocused();
  const all = await callFrom(page, "calibrations.list", { trainId: null });
  const superseded = all.find((one) => one.state === "superseded" && one.inForceAt !== null);
  const day = superseded?.inForceAt?.slice(0, 10) ?? "";
  await page.keyboard.type(day);
  const table = page.getByRole("table", { name: `Factors in force on ${day}` });
  await expect(table).toContainText(
    `${superseded?.result?.shownFactor} ± ${superseded?.result?.shownUncertainty}`,
  );
  await expect(table).toContainText("FL-D-02");
  await expectAccessible(page);
  expect(faults).toEqual([]);
});

/** Presses a button of the chart by keyboard, then saves what was written from the window's own link. */
async function savedBy(person: KeyboardPerson, button: string): Promise<SavedCopy> {
  const { page } = person;
  await person.activate(page.getByRole("button", { name: button, exact: true }));
  await page.getByText(/^Written: /).waitFor();
  return savedCopy(page, async () => {
    await person.tabTo(page.getByRole("link", { name: "Save a copy from this window" }));
    await person.press("Enter");
  });
}

/** The picture in a window of its own: its size, what it says, and which of its texts reach beyond its edge. */
async function drawnAlone(context: BrowserContext, svg: string) {
  const alone = await context.newPage();
  await alone.setContent(svg.replace(/^<\?xml[^>]*>/, ""));
  const box = await alone.locator("svg").boundingBox();
  const texts = await alone.locator("svg text").evaluateAll((all) =>
    all.map((one) => {
      const { left, right, top, bottom } = one.getBoundingClientRect();
      return { words: one.textContent ?? "", left, right, top, bottom };
    }),
  );
  await alone.close();
  const { x, y, width, height } = box ?? { x: 0, y: 0, width: 0, height: 0 };
  const outside = texts.filter(
    ({ left, right, top, bottom }) => left < x || right > x + width || top < y || bottom > y + height,
  );
  return { box, outside, words: texts.map((one) => one.words) };
}

test("histories side by side are saved as an SVG file, each with its title and what they say together, by keyboard alone", async ({
  context,
}) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  await person.go("trends");
  await chart(page).waitFor();
  for (const part of ["One microscope", "People", "One micrometer"]) {
    await person.press("Alt+PageDown");
    const panel = page.getByRole("region", { name: "Summary" });
    await expect(page.locator("main [aria-current=page]", { hasText: part })).toBeVisible();
    await panel.getByRole("listitem").first().waitFor();
    const cards = page.getByRole("listitem").filter({ has: page.getByRole("heading", { level: 3 }) });
    await cards.first().waitFor();
    const titles = await cards.getByRole("heading", { level: 3 }).allTextContents();
    const findings = await panel.getByRole("listitem").allTextContents();
    const saved = await savedBy(person, "Picture");
    expect(saved.name).toMatch(/\.svg$/);
    const { box, outside, words } = await drawnAlone(context, readFileSync(saved.path, "utf8"));
    expect(box?.height).toBeGreaterThan(200);
    expect(outside).toEqual([]);
    // Long words go on in the next line of the picture.
    const whole = words.join(" ").replaceAll(/\s+/g, " ");
    expect(titles.length).toBeGreaterThan(0);
    for (const shown of [...titles, ...findings])
      expect(whole, part).toContain(shown.replaceAll(/\s+/g, " ").trim());
  }
  expect(faults).toEqual([]);
});

test("the chart is saved as an SVG file and in the workbook as a picture, by keyboard alone", async ({
  context,
}) => {
  test.slow();
  const { page, faults } = await openBenchWindow(context, program.freshAddress());
  const person = new KeyboardPerson(page);
  await openFromBench(person, /^Trend of 40×\/0\.65 on Window stand/);

  const whole = await savedBy(person, "Picture");
  expect(whole.name).toMatch(/^Trend 40x 0\.65 .*\.svg$/);
  expect(readFileSync(whole.path, "utf8")).toContain("10 calibrations, ");
  // Saved again it is what is on the screen then: zoomed in, in per cent.
  await person.activate(page.getByRole("button", { name: "Show per cent" }));
  await person.tabTo(chart(page));
  await person.press("+", "+");
  const svg = await savedBy(person, "Picture");
  const text = readFileSync(svg.path, "utf8");
  expect(text).toMatch(/\d of 10 calibrations, /);
  expect(text).toContain("change from the baseline’s first factor, %");
  const { box, outside } = await drawnAlone(context, text);
  expect(box?.width).toBe(1200);
  expect(outside).toEqual([]);

  const book = await savedBy(person, "Workbook");
  expect(book.name).toMatch(/^Trend 40x 0\.65 .*\.xlsx$/);
  const pictures = picturesOf(book.path);
  expect(pictures).toMatchObject([{ sheet: "Chart", format: "png", width: 2400 }]);
  expect(pictures[0]?.height).toBe(Math.round((box?.height ?? 0) * 2));
  expect(pictures[0]?.alternative).toContain("drifting: By +0.");
  expect(faults).toEqual([]);
});
