import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, type Page, test } from "@playwright/test";
import { callFrom } from "../browser/bench-window.ts";
import { type MeasureWindow, openMeasureWindow, openSheet } from "../browser/measure-window.ts";
import { type ShapedProgram, startShapedProgram } from "./shaped-program.ts";

/** What is Electron's own: bridge, navigation, permissions, dialogs, unloading, a page that is gone. */
let program: ShapedProgram;
let measure: MeasureWindow;
let page: Page;

test.beforeEach(async ({ context }) => {
  program = await startShapedProgram();
  measure = await openMeasureWindow(context, program);
  ({ page } = measure);
});
test.afterEach(() => program.stop());

const dialogs = async () => (await program.booted.look()).messageBoxes;

test("the page sees one frozen bridge of the preload, and nothing of Node or of Electron", async () => {
  const seen = await page.evaluate(() => {
    const bridge = Reflect.get(window, "linefall") as { call(name: string, input: unknown): Promise<string> };
    const attempt = (run: () => unknown) => {
      try {
        return String(run());
      } catch (error) {
        return (error as Error).message;
      }
    };
    return {
      keys: Object.keys(bridge).sort(),
      frozen: Object.isFrozen(bridge),
      others: ["require", "process", "ipcRenderer", "linefallIpc"].map(
        (name) => typeof Reflect.get(window, name),
      ),
      uncloned: attempt(() => bridge.call("bench.status", () => 1)),
    };
  });
  expect(seen).toEqual({
    keys: ["call", "host", "tellUnsaved"],
    frozen: true,
    others: ["undefined", "undefined", "undefined", "undefined"],
    uncloned: "An object could not be cloned.",
  });
  const unknown = page.evaluate(() =>
    (Reflect.get(window, "linefall") as { call(name: string, input: string): Promise<string> }).call(
      "__proto__",
      "{}",
    ),
  );
  await expect(unknown).rejects.toThrow("No handler registered");
});

test("the page goes nowhere, not even to itself, opens nothing, loads nothing and is granted nothing", async () => {
  const tried = await page.evaluate(async () => {
    Reflect.set(window, "stillHere", true);
    const stopped = () => "stopped";
    const outcome = {
      fetched: await fetch("https://attacker.test/").then(() => "loaded", stopped),
      read: await navigator.clipboard.readText().then(() => "read", stopped),
      copied: await navigator.clipboard.writeText("198.4").then(() => "copied", stopped),
      notified: await Notification.requestPermission(),
    };
    window.open("https://attacker.test/");
    return outcome;
  });
  expect(tried).toEqual({ fetched: "stopped", read: "stopped", copied: "copied", notified: "denied" });
  await expect.poll(() => page.context().pages().length).toBe(1);
  for (const go of [
    () => window.location.reload(),
    () => {
      window.location.href = "https://attacker.test/";
    },
  ])
    await page.evaluate(go);
  await expect.poll(() => page.evaluate(() => Reflect.get(window, "stillHere"))).toBe(true);
  expect(page.url()).toBe(program.address);
});

test("what is not stored is named before the window closes; nothing is lost when it stays", async () => {
  const { person } = measure;
  await person.go("registers");
  await person.activate(page.getByRole("button", { name: /^Microscopes/ }));
  await person.activate(page.getByRole("button", { name: "Record an event" }));
  await person.fill("In words", "stage knocked by a chair");
  await program.booted.ask("answers", { buttons: [0] });
  await program.booted.ask("close", null);
  await expect.poll(dialogs).toHaveLength(1);
  expect((await dialogs())[0]).toMatchObject({
    message: "Not everything in this window is stored on the bench.",
    detail: expect.stringMatching(/^Not stored yet:\n• \S/),
  });
  await expect(person.field("In words")).toHaveValue("stage knocked by a chair");
  await program.booted.ask("answers", { buttons: [1] });
  await program.booted.ask("close", null);
  expect(await program.booted.ended).toBe(0);
  expect(page.isClosed()).toBe(true);
});

test("a file that is there is replaced only when the person says so, and never one of the bench", async () => {
  const save = () =>
    callFrom(page, "exports.begin", {
      sheetIds: [measure.bench.sheetId],
      format: "values workbook",
      paper: "A4",
    }).then(
      () => "saved",
      (error: Error) => error.message,
    );
  const path = join(program.saveFolder, "mine.xlsx");
  writeFileSync(path, "before");
  await program.booted.ask("answers", { saveFolder: null, savePath: path, overwrite: false });
  await save();
  expect((await program.booted.look()).overwriteQuestions).toEqual([path]);
  expect(readFileSync(path, "utf8")).toBe("before");
  await program.booted.ask("answers", { savePath: join(program.folder, "bench.sqlite"), overwrite: true });
  expect(await save()).not.toBe("saved");
  expect(readFileSync(join(program.folder, "bench.sqlite")).subarray(0, 15).toString()).toBe(
    "SQLite format 3",
  );
});

test("the report is printed by the window itself into a PDF", async () => {
  const { begun } = await callFrom(page, "reports.print", { sheetId: measure.bench.sheetId });
  const path = join(program.saveFolder, String(begun?.fileName));
  await expect.poll(() => existsSync(path)).toBe(true);
  expect(readFileSync(path).subarray(0, 5).toString()).toBe("%PDF-");
});

test("a page that is gone is offered again, and what was acknowledged is there", async () => {
  await measure.person.take("10", "40");
  await measure.person.expectStored(1);
  await program.booted.ask("answers", { buttons: [0] });
  await program.booted.ask("emit", {
    on: "contents",
    event: "render-process-gone",
    args: [{ reason: "crashed", exitCode: 5 }],
  });
  await expect.poll(async () => (await program.booted.look()).order).toContain("reload");
  await openSheet(page, measure.person);
  await measure.person.expectStored(1);
});
