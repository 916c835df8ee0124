import { expect, type Page, test } from "@playwright/test";
import type { CountEvent } from "#core/contract/records/count.ts";
import { replayEvents } from "#core/counting/inputs/field-counts.ts";
import { HAEMOCYTOMETER } from "#core/counting/methods/ready-bench-methods.ts";
import { POLLEN_MARKER } from "#core/counting/methods/ready-pollen-methods.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { eventsOf, expectFigure, PaperCount, seededCount } from "./count-keys.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { Keypad } from "./keypad.ts";
import { readyBench } from "./ready-bench.ts";

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;
let pad: Keypad;

test.use({ screenshot: "only-on-failure" });

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  await enter(await openBenchWindow(context, program.address));
  await readyBench(page);
  await page.reload();
  await page.getByRole("heading").first().waitFor();
});

test.afterEach(async () => {
  // What the window says once its program is gone is no fault.
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

async function enter(opened: BenchWindow): Promise<void> {
  window = opened;
  page = opened.page;
  page.setDefaultTimeout(20_000);
  person = new KeyboardPerson(page);
  pad = await Keypad.of(page);
}

/** Goes on with the first count of the list, by keyboard. */
async function goOnWithCount(): Promise<void> {
  await page.getByRole("heading").first().waitFor();
  await person.go("count");
  await person.activate(page.getByRole("button", { name: /^Continue count/ }));
  await page.getByText(/F7 resumes at field/).waitFor();
  await person.press("F7");
  await page.getByText("Counting.", { exact: true }).waitFor();
}

/** Ruled squares of a chamber: every field enters the density, no factor does. */
const FIELDS_OF_A_CHAMBER = {
  ...POLLEN_MARKER,
  name: "Squares of a chamber",
  area: HAEMOCYTOMETER.area,
  density: HAEMOCYTOMETER.density,
};

async function openPollenCount(): Promise<string> {
  const countId = await seededCount(page, POLLEN_MARKER);
  await goOnWithCount();
  return countId;
}

const CODE_OF = new Map(POLLEN_MARKER.categories.map(({ key, keyCode }) => [key, keyCode]));
const OBJECT_KEYS = new Set(
  POLLEN_MARKER.categories
    .filter(({ kind }) => kind === "object")
    .map(({ keyCode }) => keyCode.replace("Numpad", "")),
);

/** The key of a stored event as it was typed. */
function keyTyped({ kind, category }: CountEvent): string {
  if (kind === "field") return "⏎";
  const code = CODE_OF.get(category ?? "") ?? "";
  return code === "NumpadDecimal" ? "." : code.replace("Numpad", "");
}

/** What stands of the stored sequence, as the paper has it. */
function standingOf(events: readonly CountEvent[]): readonly string[] {
  return events
    .filter(({ kind, struckBy }) => kind !== "undo" && struckBy === null)
    .map((event) => `${event.field} ${keyTyped(event)} ${Number(event.weight ?? 0)}`);
}

/** Keys of one field: some objects by a fixed rule, now and then a slip taken back, a colony, a doubtful one. */
function keysOfField(field: number): string {
  const singles = Array.from({ length: 15 }, (_, at) => String(1 + ((field * 7 + at * 3) % 7))).join("");
  const slip = field % 4 === 0 ? "3-" : "";
  const colony = field % 5 === 0 ? "+8+2" : "";
  const doubtful = field % 6 === 0 ? "0" : "";
  const marker = field % 3 === 0 ? "." : "";
  return singles + slip + colony + doubtful + marker;
}

test("a count of 500 objects in 30 fields by the keypad alone, with slips, colonies, a crash and going on", async ({
  context,
}) => {
  test.setTimeout(180_000);
  const countId = await openPollenCount();
  const paper = new PaperCount();
  const type = async (keys: string): Promise<void> => {
    paper.type(keys);
    await pad.type(keys);
  };
  const isObject = (key: string): boolean => OBJECT_KEYS.has(key);
  for (let field = 1; field <= 17; field += 1) await type(`${keysOfField(field)}⏎`);
  // A field too early: taken back, counted on, and begun again.
  await type("⏎-12⏎");
  await expectFigure(page, "total", paper.objectsOf(isObject));
  await expect(page.getByText("on the way")).toHaveCount(0);
  const stored = await eventsOf(page, countId);
  expect(standingOf(stored)).toEqual(paper.standing());

  await program.kill9();
  (window.faults as string[]).length = 0;
  await program.restart();
  await page.close();
  await enter(await openBenchWindow(context, program.address));
  await goOnWithCount();
  await expectFigure(page, "field", paper.field);
  await expectFigure(page, "total", paper.objectsOf(isObject));

  for (let field = paper.field; field <= 29; field += 1) await type(`${keysOfField(field)}⏎`);
  const missing = 500 - paper.objectsOf(isObject);
  expect(missing).toBeGreaterThan(2);
  await type("5".repeat(missing + 1));
  await type("-");
  await expectFigure(page, "total", 500);
  await expectFigure(page, "field", 30);
  await expect(page.getByText("on the way")).toHaveCount(0);

  const events = await eventsOf(page, countId);
  expect(events.map(({ sequence }) => sequence)).toEqual(events.map((_, at) => at + 1));
  expect(standingOf(events)).toEqual(paper.standing());
  // The sequence before the crash is the beginning of the sequence after it.
  expect(events.slice(0, stored.length).map(({ hash }) => hash)).toEqual(stored.map(({ hash }) => hash));
  const replayed = replayEvents(events);
  expect(replayed.currentField).toBe(30);
  const { fields } = await callFrom(page, "counts.state", { countId });
  for (const { ordinal, counts } of fields) {
    for (const [category, count] of Object.entries(counts)) {
      expect(Number(count) * 1000).toBe(replayed.fields.get(ordinal)?.get(category)?.thousandths);
    }
  }

  await person.activate(page.getByRole("button", { name: "Close the count …" }));
  await person.press("Enter");
  await page.getByRole("heading", { name: "Results" }).waitFor();
  const { frozen, results } = await callFrom(page, "counts.results", { countId });
  expect([frozen, results.total, results.fields]).toEqual([true, "500", 30]);
});

test("twenty presses a second for a minute are all recorded in their order", async () => {
  test.setTimeout(180_000);
  const countId = await openPollenCount();
  const keys = Array.from({ length: 1200 }, (_, at) =>
    at % 97 === 96 ? "⏎" : String(1 + ((at * 5 + Math.floor(at / 11)) % 7)),
  ).join("");
  const begun = Date.now();
  const sending: Promise<void>[] = [];
  for (const [at, key] of [...keys].entries()) {
    const wait = begun + at * 50 - Date.now();
    if (wait > 0) await new Promise((resolve) => setTimeout(resolve, wait));
    sending.push(pad.type(key));
  }
  await Promise.all(sending);
  const paper = new PaperCount();
  paper.type(keys);
  await expectFigure(page, "stored", 1200);
  await expectFigure(page, "field", paper.field);
  const events = await eventsOf(page, countId);
  expect(standingOf(events)).toEqual(paper.standing());
});

test("keys without any gap between them lose nothing, and none doubles", async () => {
  const countId = await openPollenCount();
  const keys = Array.from({ length: 300 }, (_, at) => (at % 41 === 40 ? "-" : String(1 + (at % 7)))).join("");
  await pad.rush(keys);
  const paper = new PaperCount();
  paper.type(keys);
  await expectFigure(page, "stored", 300);
  expect(standingOf(await eventsOf(page, countId))).toEqual(paper.standing());
});

test("NumLock off changes nothing; a key held down counts once and says so", async () => {
  const countId = await openPollenCount();
  await pad.typeWithoutNumLock("142");
  await expectFigure(page, "total", 3);
  const session = await page.context().newCDPSession(page);
  const key = { key: "1", code: "Numpad1", location: 3, isKeypad: true, text: "1" };
  for (let repeat = 0; repeat < 6; repeat += 1) {
    await session.send("Input.dispatchKeyEvent", { type: "keyDown", autoRepeat: repeat > 0, ...key });
  }
  await session.send("Input.dispatchKeyEvent", { type: "keyUp", ...key });
  await expect(page.getByRole("status").first()).toContainText("counts once");
  await expectFigure(page, "total", 4);
  await expectFigure(page, "stored", 4);
  expect((await eventsOf(page, countId)).map(keyTyped)).toEqual(["1", "4", "2", "1"]);
});

test("with the host gone presses wait, also over a reload of the window, and go out in order", {
  tag: "@loopback",
}, async () => {
  const countId = await openPollenCount();
  await page.route("**/call/counts.pressMany", (route) => route.abort());
  await pad.type("12+5+3-4⏎1");
  await expectFigure(page, "total", 4);
  await expect(page.getByRole("alert")).toContainText("not stored yet", { timeout: 20_000 });
  expect(await eventsOf(page, countId)).toEqual([]);
  page.once("dialog", (dialog) => void dialog.accept());
  await page.reload();
  await page.unroute("**/call/counts.pressMany");
  await expectFigure(page, "stored", 7);
  expect(standingOf(await eventsOf(page, countId))).toEqual(["1 1 1", "1 2 1", "1 4 1", "2 ⏎ 0", "2 1 1"]);
  // The refusals of the aborted requests are expected here.
  (window.faults as string[]).length = 0;
});

test("presses made while a count is fetched anew stay on the screen, however late the older answer comes", {
  tag: "@loopback",
}, async () => {
  const countId = await openPollenCount();
  await pad.type("12");
  await expectFigure(page, "stored", 2);
  // The answer is the host's own, and given to the window late.
  await page.evaluate(() => {
    const real = globalThis.fetch;
    globalThis.fetch = async (...asked) => {
      const response = await real(...asked);
      if (String(asked[0]).endsWith("/call/counts.state")) {
        globalThis.fetch = real;
        document.title = "asked";
        await new Promise((go) => document.addEventListener("late", go, { once: true }));
      }
      return response;
    };
  });
  await person.activate(page.getByRole("button", { name: "Position …" }));
  await person.tabTo(page.getByLabel("Stage vernier, x"));
  await page.keyboard.type("62.4");
  await person.tabTo(page.getByLabel("Stage vernier, y"));
  await page.keyboard.type("14.8");
  await person.press("Control+Enter");
  await expect(page).toHaveTitle("asked");
  await page.getByRole("dialog").waitFor({ state: "detached" });
  await pad.type("⏎114");
  await expectFigure(page, "stored", 6);
  await page.evaluate(() => document.dispatchEvent(new Event("late")));
  await expect.poll(async () => (await eventsOf(page, countId)).length).toBe(6);
  await pad.type("1");
  await expectFigure(page, "stored", 7);
  await expectFigure(page, "field", 2);
  await expectFigure(page, "in-field", 4);
});

test("a count is opened, paused, its keys changed with a reason, gone on with and closed by keyboard alone", async () => {
  await person.go("count");
  await person.fill("Sample", "Lake Invented");
  await person.tabTo(person.field("Method"));
  await page.keyboard.type("Phytoplankton, Uter");
  await person.fillAll({ "side of the grid square": "25.0", "volume settled": "10" });
  await person.activate(page.getByRole("button", { name: "Open the count" }));
  await page.getByText("Counting.", { exact: true }).waitFor();
  await pad.type("11212⏎");
  await pad.type("12113⏎");
  await expect(page.locator('[data-figure="density"]')).toContainText("/mL");

  await person.press("F7");
  await page.getByText("Paused: keys are not taken.").waitFor();
  await pad.type("1");
  await expectFigure(page, "total", 10);
  await person.activate(page.getByRole("button", { name: "Change keys …" }));
  await person.tabTo(page.getByRole("button", { name: /^diatoms:/ }));
  await person.press("Enter", "D");
  await person.tabTo(page.getByLabel("Reason"));
  await page.keyboard.type("the left hand is free");
  await person.press("Control+Enter");
  await page.getByRole("dialog").waitFor({ state: "detached" });
  await person.press("F7");
  await page.getByText("Counting.", { exact: true }).waitFor();
  await page.keyboard.press("d");
  await expectFigure(page, "total", 11);
  await expectFigure(page, "field", 3);
  await expectFigure(page, "stored", 13);

  await person.activate(page.getByRole("button", { name: "Close the count …" }));
  await person.activate(page.getByRole("button", { name: "Close: field 3 is not finished" }));
  await page.getByText("Total 10 in 2 finished fields.").waitFor();
});

test("one key takes the object in hand to the linked sheet and back; the next press is that object", async () => {
  const countId = await openPollenCount();
  await pad.type("11");
  await pad.type("/");
  await person.tabTo(page.getByLabel("Sheet for measured objects"));
  await page.keyboard.type("S-0001");
  await person.press("Control+Enter");
  await page.getByRole("dialog").waitFor({ state: "detached" });
  await pad.type("/");
  await page.getByRole("grid").waitFor();
  await pad.type("23.0⏎51.5⏎");
  await person.expectStored(1);
  await person.press("Alt+ArrowLeft");
  await expect(page.getByRole("status").first()).toContainText("Row 1 was measured");
  await pad.type("23");
  await expectFigure(page, "stored", 4);
  const rows = (await eventsOf(page, countId)).map(({ rowId }) => rowId !== null);
  expect(rows).toEqual([false, false, true, false]);
});

test("fields of a closed count are drawn, entered without seeing the first result, and compared", async () => {
  await openPollenCount();
  await pad.rush("1122⏎112⏎");
  await expectFigure(page, "stored", 9);
  await person.activate(page.getByRole("button", { name: "Close the count …" }));
  await page.getByText("Field 3 is empty.").waitFor();
  await person.press("Enter");
  await page.getByRole("dialog").waitFor();
  await person.press("1");
  await page.getByRole("heading", { name: "Results" }).waitFor();
  await person.fill("Share of the fields", "1");
  await person.press("Control+Enter");
  await page.getByRole("heading", { name: /^Recount of/ }).waitFor();
  await expect(page.getByText("First and second count")).toHaveCount(0);
  for (const [field, pinus, betula] of [
    [1, "2", "2"],
    [2, "2", "1"],
    [3, "0", "0"],
  ] as const) {
    await page.getByRole("form", { name: `Field ${field}` }).waitFor();
    await person.fillAll({ Pinus: pinus, Betula: betula });
    await person.press("Control+Enter");
  }
  await person.activate(page.getByRole("button", { name: /^Finish and compare/ }));
  await expect(page.getByRole("row", { name: /^total/ })).toContainText(/7\s*7/);
});

test("the last, empty field counts or not, as one key says, and the trail tells which", async () => {
  for (const [answer, finished] of [
    ["2", 2],
    ["1", 3],
  ] as const) {
    const name = `Squares of a chamber, answer ${answer}`;
    const countId = await seededCount(page, { ...FIELDS_OF_A_CHAMBER, name });
    await page.reload();
    await goOnWithCount();
    await pad.rush("111⏎11⏎");
    await expectFigure(page, "stored", 7);
    await person.activate(page.getByRole("button", { name: "Close the count …" }));
    await page.getByText("Field 3 is empty.").waitFor();
    await person.press(answer);
    await page.getByText(`Total 5 in ${finished} finished fields.`).waitFor();
    const lines = await callFrom(page, "trail.page", { before: null, count: 20 });
    const told = lines.find(({ act, subjectId }) => act === "tallies.close" && subjectId === countId);
    expect(JSON.parse(told?.detail ?? "{}")).toMatchObject({
      lastFieldCounted: answer === "1",
      lastField: { number: 3, objects: "0" },
    });
  }
});

test("a number that its key cannot take is refused with its digits, and a half is taken where it may be", async () => {
  const countId = await openPollenCount();
  await pad.type("+3.4+1");
  await expect(page.getByRole("status").first()).toContainText("takes whole and half numbers, not 3.4");
  await expectFigure(page, "total", 0);
  await pad.type("-+3.5+1");
  await expectFigure(page, "total", 3.5);
  await pad.type("+3.5+2");
  await expect(page.getByRole("status").first()).toContainText("takes whole numbers, not 3.5");
  await pad.type("-2");
  await expectFigure(page, "total", 4.5);
  // The total is the window's; the events are the service's, a moment later.
  await expect
    .poll(async () => (await eventsOf(page, countId)).map(({ weight }) => weight))
    .toEqual(["3.5", "1"]);
});

test("a category counted in decimal units takes lengths as typed, and they add up exactly to the end", async () => {
  const [pinus, betula, ...rest] = POLLEN_MARKER.categories;
  if (!pinus || !betula) throw new Error("the method has no two categories");
  const filaments = { ...betula, key: "filaments", name: "filaments", decimals: true as const };
  const countId = await seededCount(page, {
    ...FIELDS_OF_A_CHAMBER,
    name: "Filaments by their length",
    categories: [pinus, filaments, ...rest],
  });
  await page.reload();
  await goOnWithCount();
  await expect(page.locator("[data-category=filaments]")).toContainText("decimals allowed");
  await pad.type("+2.4+2+0.1+2+0.2+2");
  await expectFigure(page, "total", 2.7);
  await pad.type("+0.1234+2");
  const said = page.getByRole("status").first();
  await expect(said).toContainText("“filaments” takes numbers with at most three decimals, not 0.1234");
  await pad.type("-+2.4+1");
  await expect(said).toContainText("“Pinus” takes whole and half numbers, not 2.4");
  await pad.type("-+0.25+2⏎+3.1+2⏎");
  await expectFigure(page, "total", 6.05);
  await person.activate(page.getByRole("button", { name: "Close the count …" }));
  await person.press("2");
  await page.getByText("Total 6.05 in 2 finished fields.").waitFor();
  await expect(page.getByText(/counted in decimal units, which are no separate objects/)).toBeVisible();
  expect((await eventsOf(page, countId)).map(({ weight }) => weight)).toEqual(
    expect.arrayContaining(["2.4", "0.1", "0.2", "0.25", "3.1"]),
  );
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);
  // The recount of a field takes and refuses by the same rule.
  await person.fill("Share of the fields", "0.5");
  await person.press("Control+Enter");
  await person.fillAll({ Pinus: "0.3", filaments: "2.9" });
  await person.press("Control+Enter");
  await expect(page.getByText(/takes whole and half numbers, not 0\.3/).first()).toBeVisible();
});

test("an objective out of service opens no count, and the form says so before", async () => {
  const [microscope] = await callFrom(page, "microscopes.list", {});
  const item = { kind: "objective", id: microscope?.objectives[0]?.id ?? "" } as const;
  const change = { item, from: "2026-01-01", reason: "scratched front lens" };
  const request = () => crypto.randomUUID();
  await callFrom(page, "registers.setServiceState", {
    requestId: request(),
    ...change,
    state: "out of service",
  });
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("count");
  await person.fill("Sample", "Lake Invented");
  await person.tabTo(person.field("Method"));
  await page.keyboard.type("Phytoplankton, Uter");
  await expect(page.getByText("This train: out of service.")).toContainText("scratched front lens");
  await person.fillAll({ "side of the grid square": "25.0", "volume settled": "10" });
  await person.activate(page.getByRole("button", { name: "Open the count" }));
  await expect(page.getByText(/That objective is out of service since 2026-01-01/).first()).toBeVisible();
  expect(await callFrom(page, "counts.list", {})).toEqual([]);
});

test("a rare taxon is told by its limits, a clustered count by its fields", async () => {
  await seededCount(page, FIELDS_OF_A_CHAMBER);
  await page.reload();
  await goOnWithCount();
  const density = page.locator('[data-figure="density"]');
  await pad.rush("1⏎1⏎⏎1⏎⏎");
  await expect(density).toContainText(/^\d+ \/mL \(95 %: \d+ to \d+ \/mL\)$/);
  await pad.rush("+12+1⏎+20+1⏎+25+1⏎");
  // Clustered: 60 in 8 fields, h = t(0.975, 7)·s·√8 = 67.9 objects; 60·exp(−h/60) and 60·exp(h/60·√(8/7)) objects.
  await expect(density).toContainText(/^75000 \/mL \(95 %: 24000 to 250000 \/mL\)$/);
  await expect(page.getByText(/in about 86 of 100 counts, not in 95/)).toBeVisible();
  await expect(page.getByText(/by the scatter between fields/).first()).toBeVisible();
});
