import { expect, type Page, test } from "@playwright/test";
import { RANK_REASONS } from "#core/calibration/micrometer-adviser.ts";
import { choose } from "#core/practice/exercises/choose.ts";
import { count } from "#core/practice/exercises/count.ts";
import { countField } from "#core/practice/exercises/count-field.ts";
import { FAULTS, faultyBench } from "#core/practice/exercises/faulty-bench.ts";
import { findFault } from "#core/practice/exercises/find-fault.ts";
import { lineUp } from "#core/practice/exercises/line-up.ts";
import { measure } from "#core/practice/exercises/measure.ts";
import { micrometerChoice } from "#core/practice/exercises/micrometer-choice.ts";
import { tenths } from "#core/practice/exercises/tenths.ts";
import { freeTruth } from "#core/practice/free-view.ts";
import { memberAt } from "#core/statistics/sample.ts";
import { firstView, trueReadings, trueRow } from "../support/practice-reader.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { Keypad } from "./keypad.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

test.use({ viewport: { width: 1280, height: 800 } });

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  window = await openBenchWindow(context, program.address);
  page = window.page;
  person = new KeyboardPerson(page);
  await readyBench(page);
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("practice");
});
test.afterEach(async () => {
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

const reading = () => page.getByLabel("Reading", { exact: true });
const button = (name: string | RegExp) => page.getByRole("button", { name });
const readingOf = (ordinal: number) =>
  page.getByRole("heading", { name: `Read tenths: ${ordinal} of ${tenths.tasks}` });

/** What a good reader would type: the program knows the seed, a reader only the picture. */
async function answersOf(): Promise<string[]> {
  const [attempt] = await callFrom(page, "practice.list", { personId: null });
  return trueReadings(attempt?.seed ?? 0).map((truth) => truth.toFixed(1));
}

/** The two ways to press a key: the numeric keypad, or the keys of an ordinary keyboard. */
const HANDS = ["keypad", "keyboard"] as const;
type Hand = (keys: string) => Promise<void>;

/** @param names what the keyboard presses in place of a key of the pad */
async function handOf(
  hands: (typeof HANDS)[number],
  names: Readonly<Record<string, string>> = {},
): Promise<Hand> {
  if (hands === "keyboard") return (keys) => person.press(...[...keys].map((key) => names[key] ?? key));
  const keypad = await Keypad.of(page);
  return (keys) => keypad.type(keys);
}

const COUNTING_KEYS = { 4: "ArrowLeft", 6: "ArrowRight", "-": "Backspace", "⏎": "Enter" };

/** Middle of the drawn line below the reticle's scale, in pixels of the picture, and the picture's width. */
async function drawnLine(): Promise<{ readonly at: number; readonly width: number }> {
  await expect(page.locator("main canvas")).toHaveAttribute("data-drawn", /[1-9]/);
  return page.locator("main canvas").evaluate((canvas: HTMLCanvasElement) => {
    const { width, height } = canvas;
    const data = canvas.getContext("2d")?.getImageData(0, Math.round(height / 2) + 20, width, 1).data;
    const light = Array.from({ length: width }, (_, x) => data?.[x * 4] ?? 0);
    const [dark, sum] = light.reduce<[number, number]>(
      ([all, at], value, x) =>
        value > 0 && value < 150 ? [all + 255 - value, at + (255 - value) * x] : [all, at],
      [0, 0],
    );
    return { at: sum / dark, width };
  });
}

test("forty tenths are read by keyboard; the result says what the readings show, and everybody finds it", async () => {
  test.slow();
  await person.activate(button("Begin").first());
  await readingOf(1).waitFor();
  await expect(reading()).toBeFocused();
  const [attempt] = await callFrom(page, "practice.list", { personId: null });
  const { view, lookAtMm } = memberAt(tenths.task(attempt?.seed ?? 0, 1).looks, 0);
  const shownAt = view.placing.xUm / 25 - lookAtMm[0];
  const { at, width } = await drawnLine();
  expect(Math.abs(at - (width - 1) / 2 - (shownAt * width) / 4.2)).toBeLessThan(0.5);

  const answers = await answersOf();
  await person.take("43");
  await expect(page.getByText(/read to tenths/)).toBeVisible();
  await expect(reading()).toHaveValue("43");
  await person.press("Control+a");
  for (const [index, answer] of answers.entries()) {
    if (index > 0) await readingOf(index + 1).waitFor();
    await person.take(answer);
    // A crash loses nothing that was taken.
    if (index === 20) {
      await readingOf(22).waitFor();
      await page.reload();
      await readingOf(22).waitFor();
      await person.tabTo(reading());
    }
  }
  await expect(page.getByText(/^Criteria met: taken as proven until \d{4}-\d\d-\d\d/)).toBeVisible();
  const figures = page.getByRole("table", { name: "Figures of the attempt" });
  await expect(figures.getByRole("row", { name: /Scatter of single readings/ })).toContainText(
    "not shown to be exceeded",
  );
  await expect(page.getByText("Practice is never evidence")).toBeVisible();

  await person.activate(button("Results"));
  const row = page.getByRole("row", { name: /Ada Example/ });
  await expect(row).toContainText("Criteria met");
});

test("an attempt is read by the keypad alone, and given up", async () => {
  await person.activate(button("Begin").first());
  await readingOf(1).waitFor();
  const [first = "50.0"] = await answersOf();
  await (await Keypad.of(page)).type(`${first}⏎`);
  await readingOf(2).waitFor();
  await person.activate(button("Give up this attempt"));
  await expect(page.getByText("Given up")).toBeVisible();
});

test("a stage micrometer is lined up five times by keyboard; a wrong line is told at its field", async () => {
  test.slow();
  await person.activate(page.getByRole("region", { name: "Line up" }).getByRole("button", { name: "Begin" }));
  for (let ordinal = 1; ordinal <= lineUp.tasks; ordinal += 1) {
    await page.getByRole("heading", { name: `Line up: ${ordinal} of ${lineUp.tasks}` }).waitFor();
    await expect(page.getByRole("region", { name: "Slide and focus" })).toBeFocused();
    const [attempt] = await callFrom(page, "practice.list", { personId: null });
    const { optics, placing } = firstView(lineUp, attempt?.seed ?? 0, ordinal);
    const turns = Math.round(placing.turnedDeg * 10);
    for (let turn = 0; turn < Math.abs(turns); turn += 1) await person.press(turns > 0 ? "End" : "Home");
    await person.press("Space");
    const { span } = freeTruth(optics, { ...placing, turnedDeg: 0 });
    const [left, right] = span ?? [];
    await person.fill("Scale, left", left?.divisions.toFixed(1) ?? "");
    await person.fill("Scale, right", right?.divisions.toFixed(1) ?? "");
    await person.fill("Line of the slide, right", String(right?.atUm));
    if (ordinal === 2) {
      await person.fill("Line of the slide, left", "5");
      await person.press("Enter");
      await expect(page.getByText(/must be a line of the slide/)).toBeVisible();
    }
    await person.fill("Line of the slide, left", String(left?.atUm));
    await person.press("Enter");
    if (ordinal === 3) {
      await page.getByRole("heading", { name: `Line up: 4 of ${lineUp.tasks}` }).waitFor();
      await page.reload();
    }
  }
  await expect(page.getByText(/^Criteria met/)).toBeVisible();
  const figures = page.getByRole("table", { name: "Figures of the attempt" });
  await expect(figures.getByRole("row", { name: /^Error of the factor/ })).toContainText(
    "not shown to be exceeded",
  );
});

for (const hands of HANDS) {
  test(`the fault of twelve benches is named by the ${hands} alone; a reload loses no answer; the truth follows`, async () => {
    test.slow();
    await person.activate(
      page.getByRole("region", { name: "Find the fault" }).getByRole("button", { name: "Begin" }),
    );
    const hand = await handOf(hands, { 0: "Space" });
    const view = page.getByRole("region", { name: "View" });
    const [attempt] = await callFrom(page, "practice.list", { personId: null });
    for (let ordinal = 1; ordinal <= findFault.tasks; ordinal += 1) {
      await page.getByRole("heading", { name: `Find the fault: ${ordinal} of ${findFault.tasks}` }).waitFor();
      await expect(view).toBeFocused();
      const { fault } = faultyBench(attempt?.seed ?? 0, ordinal);
      // One wrong answer, given on purpose.
      const named = ordinal === 5 ? (FAULTS.indexOf(fault) + 1) % FAULTS.length : FAULTS.indexOf(fault);
      if (ordinal === 1 && hands === "keypad") await seenInBothThemes(page, "practice-find-fault");
      await hand("0");
      await expect(page.getByRole("img", { name: /the left half/ })).toBeVisible();
      await hand(String(named + 1));
      if (ordinal === 7) {
        await page.getByRole("heading", { name: `Find the fault: 8 of ${findFault.tasks}` }).waitFor();
        await page.reload();
        await page.getByRole("heading", { name: `Find the fault: 8 of ${findFault.tasks}` }).waitFor();
        await person.tabTo(view);
      }
    }
    await expect(page.getByText(/^Criteria met/)).toBeVisible();
    const figures = page.getByRole("table", { name: "Figures of the attempt" });
    await expect(figures.getByRole("row", { name: /^Right answers/ })).toContainText("92 %");
    await expect(figures.getByRole("row", { name: /^Looks taken/ })).toContainText("2.0");
    const answers = page.getByRole("table", { name: "Answers, one by one" });
    await expect(answers.getByRole("row", { name: /^5/ })).toContainText("wrong");
    await expect(answers.getByRole("row", { name: /right/ })).toHaveCount(findFault.tasks - 1);
    if (hands === "keypad") await seenInBothThemes(page, "practice-find-fault-outcome");
  });

  test(`twelve slides are chosen by the ${hands} alone, each with its reason; one step back is a key`, async () => {
    test.slow();
    await person.activate(
      page.getByRole("region", { name: "Choose the slide" }).getByRole("button", { name: "Begin" }),
    );
    const hand = await handOf(hands);
    const view = page.getByRole("region", { name: "View" });
    const [attempt] = await callFrom(page, "practice.list", { personId: null });
    for (let ordinal = 1; ordinal <= choose.tasks; ordinal += 1) {
      await page.getByRole("heading", { name: `Choose the slide: ${ordinal} of ${choose.tasks}` }).waitFor();
      await expect(view).toBeFocused();
      if (ordinal === 1 && hands === "keypad") await seenInBothThemes(page, "practice-choose");
      const { ranked, reason } = micrometerChoice(attempt?.seed ?? 0, ordinal);
      if (ordinal === 2) {
        await hand("1");
        await expect(page.getByRole("heading", { name: "What puts it before" })).toBeVisible();
        await hand("-");
        await expect(page.getByRole("heading", { name: "Which slide?" })).toBeVisible();
      }
      await hand(ranked[0]?.id ?? "");
      await expect(page.getByRole("heading", { name: "What puts it before" })).toBeVisible();
      // One wrong reason, given on purpose.
      const given = (RANK_REASONS.indexOf(reason) + (ordinal === 4 ? 1 : 0)) % RANK_REASONS.length;
      await hand(String(given + 1));
    }
    await expect(page.getByText(/^Criteria met/)).toBeVisible();
    const figures = page.getByRole("table", { name: "Figures of the attempt" });
    await expect(figures.getByRole("row", { name: /^Right answers with the right reason/ })).toContainText(
      "92 %",
    );
    const answers = page.getByRole("table", { name: "Answers, one by one" });
    await expect(answers.getByRole("row", { name: /^4/ })).toContainText("wrong");
    if (hands === "keypad") await seenInBothThemes(page, "practice-choose-outcome");
  });

  test(`ten fields are counted by the ${hands} alone; presses are taken back by a key`, async () => {
    test.slow();
    await person.activate(page.getByRole("region", { name: "Count" }).getByRole("button", { name: "Begin" }));
    const hand = await handOf(hands, COUNTING_KEYS);
    const field = page.getByRole("region", { name: "Field" });
    const [attempt] = await callFrom(page, "practice.list", { personId: null });
    for (let ordinal = 1; ordinal <= count.tasks; ordinal += 1) {
      await page.getByRole("heading", { name: `Count: ${ordinal} of ${count.tasks}` }).waitFor();
      await expect(field).toBeFocused();
      const objects = countField(attempt?.seed ?? 0, ordinal)
        .filter(({ counts }) => counts)
        .sort((a, b) => a.specimen.xUm - b.specimen.xUm);
      // The line begins at the left edge; one step is 0.08 mm on the reticle, 4 µm on the slide.
      let at = 0;
      for (const { kind, specimen } of objects) {
        const to = Math.round((specimen.xUm + 140) / 4);
        await hand((to < at ? "4" : "6").repeat(Math.abs(to - at)));
        await hand(kind);
        at = to;
      }
      if (ordinal === 1) {
        await hand("1-");
        if (hands === "keypad") await seenInBothThemes(page, "practice-count");
      }
      await hand("⏎");
      // A crash loses the presses of the field at hand, and no field that was taken.
      if (ordinal === 3) {
        await page.getByRole("heading", { name: `Count: 4 of ${count.tasks}` }).waitFor();
        await hand("1");
        await page.reload();
        await expect(page.getByText("Kind 1: 0 · Kind 2: 0")).toBeVisible();
        await person.tabTo(field);
      }
    }
    await expect(page.getByText(/^Criteria met/)).toBeVisible();
    const figures = page.getByRole("table", { name: "Figures of the attempt" });
    await expect(figures.getByRole("row", { name: /^Counted of what was there/ })).toContainText("100.0 %");
    await expect(figures.getByRole("row", { name: /^Missed/ })).toContainText("0 %");
    if (hands === "keypad") await seenInBothThemes(page, "practice-count-outcome");
  });
}

test("twenty specimens are measured by keyboard; the objective is chosen and entered, a slip of it is told", async () => {
  test.slow();
  await person.activate(page.getByRole("region", { name: "Measure" }).getByRole("button", { name: "Begin" }));
  const stage = page.getByRole("region", { name: "Slide and focus" });
  const [attempt] = await callFrom(page, "practice.list", { personId: null });
  for (let ordinal = 1; ordinal <= measure.tasks; ordinal += 1) {
    await page.getByRole("heading", { name: `Measure: ${ordinal} of ${measure.tasks}` }).waitFor();
    await expect(stage).toBeFocused();
    const { objective = "", from = "", to = "" } = trueRow(attempt?.seed ?? 0, ordinal);
    await person.press("+", "+");
    await expect(page.getByRole("img", { name: "View through the eyepiece: 40×" })).toBeVisible();
    if (ordinal === 1) {
      await seenInBothThemes(page, "practice-measure");
      await person.press("Enter", "Control+a");
      await person.take(objective, from, to);
    } else {
      // The objective entered stays; one row is read with another one in the path.
      if (ordinal === 6) await person.press("+");
      await person.press("Enter", "Enter");
      await person.take(from, to);
    }
  }
  await expect(page.getByText(/^Criteria met/)).toBeVisible();
  const figures = page.getByRole("table", { name: "Figures of the attempt" });
  await expect(figures.getByRole("row", { name: /^Mean error of the sizes/ })).toContainText(
    "not shown to be exceeded",
  );
  await expect(figures.getByRole("row", { name: /^Rows with a wrong objective/ })).toContainText("5 %");
  await seenInBothThemes(page, "practice-measure-outcome");
});

test("a class reads the same lines by its seed; what is no seed is refused at its field", async () => {
  await person.fill("Seed", "51a");
  await person.activate(button("Begin").first());
  await expect(page.getByText(/must be a whole number/)).toBeVisible();
  await person.fill("Seed", "5113");
  await person.activate(button("Begin").first());
  await readingOf(1).waitFor();
  const [attempt] = await callFrom(page, "practice.list", { personId: null });
  expect(attempt?.seed).toBe(5113);
});

test("in the free view the slide is brought to the scale by keys, and the truth is shown", async () => {
  await person.activate(button("Free view"));
  const stage = page.getByRole("region", { name: "Slide and focus" });
  await expect(stage).toBeFocused();
  for (let turns = 0; turns < 20; turns += 1) await person.press("End");
  for (let steps = 0; steps < 7; steps += 1) await person.press("PageDown");
  await person.press("5");
  await expect(page.getByText(/1 div is 10\.000\sµm/)).toBeVisible();
  await expect(page.getByText(/Turned by 0\.0°/)).toBeVisible();
  await person.press("+");
  await expect(page.getByText(/1 div is 5\.000\sµm/)).toBeVisible();
  await person.press("h");
  await expect(page.getByText(/^Focus until the picture is as sharp/)).toBeVisible();
  await person.press("s", "s", "s");
  await expect(page.getByText(/^Read where two lines of the slide, far apart/)).toBeVisible();
  await expect(page.getByText(/Turned by 0\.0°; focus off by 0\.00/)).toBeVisible();
  await seenInBothThemes(page, "practice-free");
  await person.press("/");
  await expect(page.getByText(/Slide: specimens, one of each kind\./)).toBeVisible();
  await expect(page.getByText(/sphere 42 µm, spiny ellipsoid 48 µm/)).toBeVisible();
  await person.press("s");
  await expect(page.getByText(/^Lay an object along the scale/)).toBeVisible();
  await seenInBothThemes(page, "practice-free-specimens");
  await person.press("/", "d");
  await expect(
    page.getByText(/a square of a chamber with two kinds\. Spoilt by a tilted slide\./),
  ).toBeVisible();
  await seenInBothThemes(page, "practice-free-chamber");
});

test("the criteria are the laboratory's, with a reason", async () => {
  await person.activate(button("Criteria"));
  await person.fill("Largest mean error", "0,03");
  await person.press("Control+Enter");
  await expect(page.getByText(/Enter a reason in words/).first()).toBeVisible();
  await person.fill("Reason for the change", "finer reticles here");
  await person.press("Control+Enter");
  await expect(page.getByText("The criteria are kept.")).toBeVisible();
  await expect(page.getByRole("textbox", { name: "Largest mean error", exact: true })).toHaveValue("0.03");
});
