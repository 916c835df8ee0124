import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { arriveAt, everyPlace, type Place } from "./every-place.ts";

/** Words of people that another notation would change. */
const SAMPLE = "Lot 7.31 of 2026-02-11";
const CUSTOMER = "4471.25";

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let places: readonly Place[];

test.beforeAll(async ({ browser }) => {
  test.setTimeout(180_000);
  program = await startProgram({ demo: true });
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  window = await openBenchWindow(context, program.address);
  page = window.page;
  page.setDefaultTimeout(20_000);
  const [person] = await callFrom(page, "people.list", {});
  const personId = person?.id ?? "";
  await callFrom(page, "people.choose", { personId });
  places = await everyPlace(page, 60);
  const [sheet] = await callFrom(page, "sheets.list", {});
  if (!sheet) throw new Error("the demo bench has sheets");
  const { methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId } = sheet;
  const typed = { methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId };
  await callFrom(page, "sheets.open", {
    requestId: newRequest(),
    sheet: { ...typed, sample: SAMPLE, note: "bottle 7.25", customer: CUSTOMER },
  });
  await callFrom(page, "ownSettings.change", {
    personId,
    change: { decimalSign: "comma", dateForm: "31.01.2026" },
  });
});

test.afterAll(async () => {
  await page?.context().close();
  await program.stop();
});

/** What stands on the page with a point between digits, or as a date of the record: text, fields, names for readers. */
function inRecordNotation(): string[] {
  const kept = "[data-as-written], [data-as-written] *, code, pre, script, style";
  const said: [where: string, text: string][] = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const parent = node.parentElement;
    if (parent && !parent.matches(kept)) said.push([parent.tagName, node.textContent ?? ""]);
  }
  for (const one of document.querySelectorAll<HTMLInputElement>("input, textarea")) {
    said.push([`field ${one.id}`, one.value], [`placeholder of ${one.id}`, one.placeholder]);
  }
  for (const one of document.querySelectorAll("[aria-label], [title]")) {
    if (one.matches(kept)) continue;
    for (const name of ["aria-label", "title"]) {
      said.push([`${name} of ${one.tagName}`, one.getAttribute(name) ?? ""]);
    }
  }
  const decimal = /(?<![\p{L}\d.,_-])\d+\.\d+(?![\d_]|[.,]\d)/u;
  const date = /(?<![\d.-])\d{4}-\d\d-\d\d(?![\d-])/;
  return said
    .filter(([, text]) => decimal.test(text) || date.test(text))
    .map(([where, text]) => `${where}: ${text.slice(0, 300)}`);
}

/** What is no number of the program: names that people gave, clauses, versions of licences. */
const STAYS = [/0\.2 mm scale/, /Lot 7\.31/, /4471\.25/, /:\d{4},? \d/, /Licen[cs]e 1\.1/];

test("a person with a decimal comma sees it, and the own form of dates, on every screen", async () => {
  test.setTimeout(300_000);
  const only = process.env.LINEFALL_PLACES?.split(",");
  const found: string[] = [];
  for (const place of places.filter(({ name }) => only?.includes(name) ?? true)) {
    await arriveAt(page, place);
    const here = (await page.evaluate(inRecordNotation)).filter(
      (one) => !STAYS.some((sign) => sign.test(one)),
    );
    found.push(...here.map((one) => `${place.name}: ${one}`));
    const text = (await page.locator("body").textContent()) ?? "";
    for (const changed of ["Lot 7,31", "of 11.02.2026", "4471,25", "bottle 7,25"]) {
      if (text.includes(changed)) found.push(`${place.name}: somebody's own words became ${changed}`);
    }
    if (place.name === "measure") expect(text).toContain(SAMPLE);
  }
  expect(found).toEqual([]);
  expect(window.faults).toEqual([]);
});
