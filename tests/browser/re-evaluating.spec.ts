import { expect, type Page, test } from "@playwright/test";
import { type LoopbackProgram, startLoopbackProgram } from "../support/loopback-program.ts";
import { callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { readyBench } from "./ready-bench.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

let program: LoopbackProgram;
test.beforeAll(async () => {
  program = await startLoopbackProgram();
});
test.afterAll(() => program.stop());

/** As many results as take some seconds to convert; a block is at most 50,000 lines. */
const BLOCKS = 3;
const LINES = 40_000;
const RESULTS = BLOCKS * LINES;
const CHARACTERS_OF_A_PART = 190_000;

const button = (person: KeyboardPerson, name: string | RegExp) => person.page.getByRole("button", { name });

/** Takes a block of readings in as a paste does: right edges from 60 to 79.9 div, left edge 40. Invented inputs. */
async function enterBlock(page: Page, sheetId: string, blockId: string): Promise<void> {
  const line = (index: number): string => `g\t40\t${60 + (index % 200) / 10}\n`;
  const text = Array.from({ length: LINES }, (_, index) => line(index)).join("");
  for (let part = 1; (part - 1) * CHARACTERS_OF_A_PART < text.length; part += 1) {
    await callFrom(page, "rows.stageBlock", {
      sheetId,
      blockId,
      part,
      text: text.slice((part - 1) * CHARACTERS_OF_A_PART, part * CHARACTERS_OF_A_PART),
    });
  }
  await callFrom(page, "rows.enterBlock", {
    requestId: crypto.randomUUID(),
    block: {
      sheetId,
      blockId,
      columns: [
        { kind: "label" },
        { kind: "reading", cell: { dimension: "length", edge: "left" } },
        { kind: "reading", cell: { dimension: "length", edge: "right" } },
      ],
      skipFirstLine: false,
      startAt: null,
      excluded: [],
      corrections: [],
    },
  });
}

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

/** The corrected certificate has +4 µm at the full length. Invented. */
async function replaceCertificate(
  page: Page,
  certificateId: string,
  stageMicrometerId: string,
): Promise<void> {
  await callFrom(page, "certificates.replace", {
    requestId: crypto.randomUUID(),
    certificateId,
    reason: "the laboratory corrected a slip",
    certificate: {
      stageMicrometerId,
      number: "C-1 corrected",
      laboratory: "Invented Length Laboratory",
      accreditation: "",
      calibratedOn: "2025-06-20",
      dueOn: "2099-06-01",
      dueReason: "glass scale, kept clean",
      temperature: "20",
      sign: "error",
      lines: [
        { nominal: "0", value: "0" },
        { nominal: "500", value: "2" },
        { nominal: "1000", value: "4" },
      ],
      expandedUncertainty: "0.3",
      coverageFactor: "2",
    },
  });
}

test("a long re-evaluation is stopped and goes on, while somebody else's readings are taken as ever", async ({
  context,
}) => {
  test.setTimeout(900_000);
  const window = await openBenchWindow(context, program.address);
  window.page.setDefaultTimeout(60_000);
  const person = new KeyboardPerson(window.page);
  const { sheetId, certificateId, micrometerId } = await readyBench(window.page);
  for (let block = 1; block <= BLOCKS; block += 1) await enterBlock(window.page, sheetId, `block-${block}`);
  const second = await openSecond(window.page, sheetId);
  await replaceCertificate(window.page, certificateId, micrometerId);
  await window.page.reload();
  await window.page.locator("main").waitFor();

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
  await colleague.activate(button(colleague, /^It is so/));
  await colleague.page.getByRole("grid").locator('[role="gridcell"][tabindex="0"]').focus();

  await person.activate(button(person, "Go on"));
  await colleague.take("40", "60");
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
  // 20 div × 1004/99 µm: what was read meanwhile has the factor that took the other's place. Invented inputs.
  expect(rows[0]?.measurements[0]?.size?.shownValue).toBe("202.8");
  expect([...window.faults, ...other.faults]).toEqual([]);
});
