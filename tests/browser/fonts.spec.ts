import { expect, type Page, test } from "@playwright/test";
import { SCREEN_TITLES, SCREENS } from "#renderer/window/location.ts";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { type BenchWindow, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { readyBench } from "./ready-bench.ts";

let program: ProgramUnderTest;
let window: BenchWindow;

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  window = await openBenchWindow(context, program.address);
});
test.afterEach(async () => {
  // What the window says once its program is gone is no fault.
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

/** The fonts the browser draws the texts of `main` with, and whether each came with the program. */
async function fontsInUse(page: Page): Promise<ReadonlyMap<string, boolean>> {
  const session = await page.context().newCDPSession(page);
  await session.send("DOM.enable");
  await session.send("CSS.enable");
  const { root } = await session.send("DOM.getDocument", { depth: -1 });
  const { nodeIds } = await session.send("DOM.querySelectorAll", { nodeId: root.nodeId, selector: "main *" });
  const seen = new Map<string, boolean>();
  for (const nodeId of nodeIds) {
    // An element may have gone meanwhile: the screen goes on.
    const answer = await session.send("CSS.getPlatformFontsForNode", { nodeId }).catch(() => null);
    for (const font of answer?.fonts ?? []) seen.set(font.familyName, font.isCustomFont);
  }
  await session.detach();
  return seen;
}

test("every screen is drawn with the fonts that come with the program, the micro sign too", async () => {
  const { page } = window;
  const person = new KeyboardPerson(page);
  await readyBench(page);
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  const seen = new Map<string, boolean>();
  for (const screen of SCREENS) {
    await person.go(screen);
    await page.getByRole("heading", { name: SCREEN_TITLES[screen] }).first().waitFor();
    await page.evaluate(() => document.fonts.ready);
    for (const [family, own] of await fontsInUse(page)) seen.set(family, own);
  }
  const families = [...seen.keys()].join(", ");
  expect([...seen].filter(([, own]) => !own)).toEqual([]);
  for (const wanted of ["Atkinson Hyperlegible Next", "Atkinson Hyperlegible Mono", "Noto Sans"]) {
    expect(families).toContain(wanted);
  }
});
