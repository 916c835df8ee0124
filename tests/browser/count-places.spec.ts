import AxeBuilder from "@axe-core/playwright";
import { expect, type Page, test } from "@playwright/test";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import { POLLEN_MARKER } from "#core/counting/methods/ready-pollen-methods.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { expectFigure, seededCount } from "./count-keys.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { Keypad } from "./keypad.ts";
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
  await readyBench(page);
});

test.afterEach(async () => {
  // What the window says once its program is gone is no fault.
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

/** In both themes, ends in the one it began with. */
async function expectAccessible(what: string): Promise<void> {
  for (const turn of ["first", "second"]) {
    await page.evaluate(() => document.getAnimations().forEach((animation) => void animation.finish()));
    const { violations } = await new AxeBuilder({ page }).analyze();
    const found = violations.map(
      ({ id, impact, nodes }) =>
        `${what}, ${turn} theme: ${impact} ${id}: ${nodes.map((node) => node.target.join(" ")).join(", ")}`,
    );
    expect(found).toEqual([]);
    await person.press("F8");
  }
}

test("pad, dialogs, closed count, recount and methods are accessible in both themes", async () => {
  test.slow();
  await seededCount(page, POLLEN_MARKER);
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("count");
  await expectAccessible("the counts");
  await person.activate(page.getByRole("button", { name: /^Continue count/ }));
  await page.getByText(/F7 resumes at field/).waitFor();
  await expectAccessible("left running");
  await person.press("F7");
  await page.getByText("Counting.", { exact: true }).waitFor();
  const pad = await Keypad.of(page);
  await pad.type("1122⏎13.⏎2+12");
  await expectFigure(page, "stored", 10);
  await expectAccessible("the pad with a number waiting");
  await pad.type("-");
  await person.activate(page.getByRole("button", { name: "Position …" }));
  await expectAccessible("the position of a field");
  await person.tabTo(page.getByLabel("Stage vernier, x"));
  await page.keyboard.type("62.4");
  await person.tabTo(page.getByLabel("Stage vernier, y"));
  await page.keyboard.type("14.8");
  await person.press("Control+Enter");
  await page.getByRole("dialog").waitFor({ state: "detached" });
  await page.getByText("Counting.", { exact: true }).waitFor();
  await person.press("F7");
  await page.getByText("Paused: keys are not taken.").waitFor();
  await expectAccessible("paused");
  for (const name of ["Change keys …", "Inputs …", "Linked sheet …", "Sound …", "Close the count …"]) {
    await person.activate(page.getByRole("button", { name }));
    await page.getByRole("dialog").waitFor();
    await expectAccessible(name);
    await person.press("Escape");
    await page.getByRole("dialog").waitFor({ state: "detached" });
  }
  await person.activate(page.getByRole("button", { name: "Close the count …" }));
  await person.press("Enter");
  await page.getByRole("heading", { name: "Results" }).waitFor();
  await expect(
    page.getByRole("img", { name: /Map of counted fields.*3: stage x 62\.4, y 14\.8/ }),
  ).toBeVisible();
  await expectAccessible("a closed count");
  await person.fill("Share of the fields", "0.5");
  await person.press("Control+Enter");
  await page.getByRole("heading", { name: /^Recount of/ }).waitFor();
  await expectAccessible("a recount");
  await person.press("Alt+PageUp");
  await page.locator("main nav [aria-current=page]", { hasText: "Lists" }).waitFor();
  await expectAccessible("the lists");
  await person.press("Alt+PageUp");
  await page.getByRole("heading", { name: "Count methods" }).waitFor();
  await expectAccessible("the methods");
  await person.activate(page.getByRole("button", { name: /^Make the next version/ }));
  await page.getByRole("heading", { name: /^The next version of/ }).waitFor();
  await expectAccessible("the form of a method");
});

test("a laboratory makes a method of its own from a ready one, by keyboard alone, and finds it at the next count", async () => {
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("count");
  await page.getByRole("heading", { name: "Open a count" }).waitFor();
  await person.press("Alt+PageDown");
  await person.activate(page.getByRole("button", { name: `Show ${UTERMOHL_FIELDS.name}` }));
  await person.activate(page.getByRole("button", { name: "Make your own of it …" }));
  await person.fill("Name", "Our plankton");
  await person.tabTo(person.field("Stopping rule"));
  await page.keyboard.type("at so many fields");
  await person.fill("Stop at", "x");
  await person.press("Control+Enter");
  await expect(page.getByText(/Not saved: 1 field/)).toBeVisible();
  await person.fill("Stop at", "60");
  await person.tabTo(person.field("Chamber"));
  await page.keyboard.type("an own chamber, round");
  await person.fillAll({
    "Its name": "Chamber 3",
    Diameter: "26.4",
    "Where the dimensions come from": "measured here",
  });
  await person.press("Control+Enter");
  await page.getByRole("heading", { name: "Our plankton" }).waitFor();
  const [method] = await callFrom(page, "countMethods.list", {});
  expect(method?.definition.stopping).toMatchObject({
    name: "60 fields",
    rule: { kind: "fields", atLeast: 60 },
  });
  expect(method?.definition.density).toMatchObject({
    chamber: { from: "own", name: "Chamber 3", outline: { kind: "circle", diameter: "26.4" } },
  });
  await person.press("Alt+PageUp");
  await expect(person.field("Method").locator("option", { hasText: "Our plankton" })).toHaveCount(1);
});
