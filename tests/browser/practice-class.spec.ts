import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { readTenths, SEED } from "./practice-acts.ts";
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
  const { id } = await callFrom(page, "people.register", {
    requestId: newRequest(),
    person: { name: "Tea Teacher", initials: "TT", interpupillaryMm: "" },
  });
  await callFrom(page, "people.choose", { personId: id });
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("practice");
});
test.afterEach(async () => {
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

const button = (name: string | RegExp) => page.getByRole("button", { name });

async function makeClass(): Promise<void> {
  await person.activate(button(/^Class$/));
  await person.fill("Name of the class", "Course of March");
  await person.tabTo(person.field("Names"));
  await page.keyboard.insertText("Una Pupil\nOtto Pupil\t1B\n\n");
  await person.fill("What is read", "ruled slide no. 2");
  await person.fill("Intervals", "2");
  await person.fill("Times each is read", "2");
  await person.press("Control+Enter");
  await page.getByRole("heading", { name: "Practice of the class Course of March" }).waitFor();
}

test("a class is made from a pasted list; pupils begin by one key, and the page says who should practise what", async () => {
  test.slow();
  await person.activate(button(/^Class$/));
  await expect(person.field("Name of the class")).toBeFocused();
  await person.press("Control+Enter");
  await expect(page.getByText(/Names is empty/).first()).toBeVisible();
  await makeClass();
  await person.activate(button("Begin as Una Pupil"));
  await page.getByRole("heading", { name: /^Read tenths: 1 of 40/ }).waitFor();
  const [attempt] = await callFrom(page, "practice.list", { personId: null });
  expect(attempt?.seed).toBe(SEED);
  await callFrom(page, "practice.giveUp", { requestId: newRequest(), attemptId: attempt?.id ?? "" });

  await readTenths(page, () => 0.4);
  const people = await callFrom(page, "people.list", {});
  const otto = people.find(({ name }) => name === "Otto Pupil")?.id ?? "";
  await callFrom(page, "people.choose", { personId: otto });
  await readTenths(page);
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.activate(button(/^Class$/));
  await expect(page.getByText("Una Pupil should practise “Read tenths”: reads too high.")).toBeVisible();
  await expect(page.getByText(/Between people: F\(1, 78\) = .*, p < 0\.001/)).toBeVisible();
  const table = page.getByRole("table", { name: "Practice: Read tenths" });
  await expect(table.getByRole("row", { name: /Otto Pupil/ })).toContainText("met");
  await expect(table.getByRole("row", { name: /Una Pupil/ })).toContainText("not met");
  await expect(page.getByRole("img", { name: /Mean error of everybody/ })).toBeVisible();
  await seenInBothThemes(page, "class-results");
  await person.activate(button("Workbook"));
  await expect(page.getByText(/^Written: Practice Course of March/)).toBeVisible();
});

test("everybody reads the same real slide by keyboard; two of them make a study, and nothing is put in force", async () => {
  await makeClass();
  const people = await callFrom(page, "people.list", {});
  for (const [reader, name] of ["Una Pupil", "Otto Pupil"].entries()) {
    const personId = people.find((one) => one.name === name)?.id ?? "";
    await callFrom(page, "people.choose", { personId });
    await page.reload();
    await page.getByRole("heading").first().waitFor();
    await person.activate(button(/^Class$/));
    let number = 0;
    for (const time of [1, 2]) {
      for (const interval of [1, 2]) {
        number += 1;
        await page.getByText(`${name}: interval ${interval} of 2, time ${time} of 2`).waitFor();
        await person.tabTo(person.field("Left end"));
        if (number === 1) {
          await page.keyboard.type("ten");
          await person.press("Enter");
          await expect(page.getByText(/Left end .*number|not a number/i).first()).toBeVisible();
          await person.press("Control+a");
        }
        await page.keyboard.type("10.0");
        await person.fill("Right end", `${30 + 20 * interval}.${number + reader}`);
        await person.press("Enter");
      }
    }
    await page.getByText(`${name} has taken every reading.`).waitFor();
  }
  const study = page.getByRole("table", { name: /repeatability and reproducibility/ });
  await expect(study.getByRole("row", { name: /Between people/ })).toBeVisible();
  await seenInBothThemes(page, "class-study");
  expect(await callFrom(page, "calibrations.list", { trainId: null })).toEqual([]);
});

test("from the first page of an empty bench practice is one button away; the free view fills a projector", async () => {
  await person.go("bench");
  await page.getByRole("heading", { name: "First calibration" }).waitFor();
  await person.activate(button(/^Practise at a drawn eyepiece/));
  await expect(page.getByRole("heading", { name: "Practice", level: 1 })).toBeVisible();
  await person.activate(button("Free view"));
  const stage = page.getByRole("region", { name: "Slide and focus" });
  await expect(stage).toBeFocused();
  await person.press("p");
  await person.press("5");
  const canvas = page.locator("main canvas");
  await expect.poll(async () => (await canvas.boundingBox())?.height ?? 0).toBeGreaterThan(640);
  await expect(page.getByText(/1 div is 10\.000\sµm/)).toBeVisible();
  // The picture has the shape of its place, however many pixels it is drawn with: circles stay round.
  const squeezed = () =>
    canvas.evaluate(
      (one: HTMLCanvasElement) => (one.width / one.height) * (one.clientHeight / one.clientWidth),
    );
  await page.setViewportSize({ width: 2200, height: 1000 });
  await expect.poll(async () => Math.abs((await squeezed()) - 1)).toBeLessThan(0.01);
  await expect.poll(() => canvas.evaluate((one: HTMLCanvasElement) => one.width)).toBe(1600);
  await page.setViewportSize({ width: 1280, height: 800 });
  await expect(stage).toBeFocused();
  await person.press("p");
  await expect.poll(async () => (await canvas.boundingBox())?.height ?? 999).toBeLessThan(500);
});
