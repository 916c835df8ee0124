import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { replaceCertificate } from "./bench-acts.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { enterRows, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

let program: ProgramUnderTest;
test.beforeAll(async () => {
  program = await startProgram();
});
test.afterAll(() => program.stop());

/** As many results as take some seconds to convert; a block is at most 50,000 lines. */
const BLOCKS = 3;
const LINES = 40_000;
const RESULTS = BLOCKS * LINES;

const button = (person: KeyboardPerson, name: string | RegExp) => person.page.getByRole("button", { name });

/** Right edges from 51.5 to 71.4 div, left edge 23.0. Invented inputs. */
const BLOCK = Array.from({ length: LINES }, (_, at) => `g\t23.0\t${51.5 + (at % 200) / 10}\n`).join("");

/** Opens a second sheet of the same train and method, empty. */
async function openSecond(page: Page, sheetId: string): Promise<string> {
  const { sheet } = await callFrom(page, "sheets.get", { sheetId });
  const { note, methodId, microscopeId, eyepieceId, objectiveId, intermediateMagnification } = sheet;
  const parts = { methodId, microscopeId, eyepieceId, objectiveId, intermediateMagnification };
  const opened = await callFrom(page, "sheets.open", {
    requestId: crypto.randomUUID(),
    sheet: { sample: "Sample 8", note, ...parts },
  });
  return opened.id;
}

/** Readings on a sheet, a second sheet, and a certificate with +4 µm at the full length. Invented. @returns the second sheet */
async function prepare(page: Page): Promise<string> {
  const bench = await readyBench(page);
  for (let block = 1; block <= BLOCKS; block += 1) await enterRows(page, bench.sheetId, BLOCK);
  const second = await openSecond(page, bench.sheetId);
  await replaceCertificate(page, bench, [
    { nominal: "0", value: "0" },
    { nominal: "500", value: "2" },
    { nominal: "1000", value: "4" },
  ]);
  return second;
}

test("a long re-evaluation is stopped and goes on, while somebody else's readings are taken as ever", {
  tag: "@loopback",
}, async ({ context }) => {
  test.setTimeout(900_000);
  const { window, person, made: second } = await openPreparedWindow(context, program, prepare, 60_000);

  // The factor on the replaced certificate is the first thing to do today, and leads to what it touched.
  await person.go("bench");
  await person.activate(button(person, /Re-evaluate 10×\/0\.25 on Stand A/).first());
  await expect(person.page.getByText(`${RESULTS} results in ${RESULTS} rows on 1 sheet`)).toBeVisible({
    timeout: 120_000,
  });
  await person.fill("Reason", "corrected certificate");
  await person.press("Control+Enter");
  const stop = person.page.getByRole("button", { name: "Stop", exact: true });
  await stop.waitFor();
  await stop.focus();
  await person.press("Enter");
  const state = person.page.getByText(/^stopped: \d+ of \d+ results converted$/);
  await expect(state).toBeVisible();
  const [, done = "0"] = /stopped: (\d+) of/.exec((await state.textContent()) ?? "") ?? [];
  expect(Number(done)).toBeGreaterThan(0);
  expect(Number(done)).toBeLessThan(RESULTS);
  expect((await callFrom(window.page, "trail.verify", {})).differences).toEqual([]);

  const other = await openBenchWindow(context, program.freshAddress());
  other.page.setDefaultTimeout(60_000);
  const colleague = new KeyboardPerson(other.page);
  await other.page.getByRole("heading", { name: "To do today" }).waitFor();
  await colleague.go("measure");
  await colleague.activate(button(colleague, /^Measure on sheet S-0002/));
  await colleague.page.getByRole("grid").waitFor();
  await colleague.activate(button(colleague, /^Yes, correct/));
  await colleague.page.getByRole("grid").locator('[role="gridcell"][tabindex="0"]').focus();

  await person.activate(button(person, "Go on"));
  await colleague.take("23.0", "51.5");
  await colleague.expectStored(1);
  const [running] = await callFrom(other.page, "reevaluations.list", {});
  expect(running?.state).toBe("running");
  // The window that waits for it is not held up either: another screen comes up, and back.
  await person.go("records");
  await person.go("trace");
  await expect(person.page.getByText(`finished: ${RESULTS} results converted`)).toBeVisible({
    timeout: 300_000,
  });
  const { rows } = await callFrom(window.page, "rows.page", { sheetId: second, from: 1, count: 1 });
  // 28.5 div × 1004/96.4 µm: what was read meanwhile has the factor that took the other's place. Invented inputs.
  expect(rows[0]?.measurements[0]?.size?.shownValue).toBe("296.8");
  expect([...window.faults, ...other.faults]).toEqual([]);
});
