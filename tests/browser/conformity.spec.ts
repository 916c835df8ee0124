import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { calibrate, newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom } from "./bench-window.ts";
import type { KeyboardPerson } from "./keyboard-person.ts";
import { endWithoutFaults, openPreparedWindow, openSheet } from "./measure-window.ts";
import { type ReadyBench, readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

/** Settings of a scale of so many divisions on 1 mm, 0.1 div apart. Invented. */
const settingsOf = (divisions: number) =>
  [0, 0.1, -0.1].map((off) => ({
    reticleLeft: "0",
    reticleRight: (divisions + off).toFixed(1),
    lineLeft: "0",
    lineRight: "100",
  }));

async function open(
  context: Parameters<typeof openPreparedWindow>[0],
  prepare: (page: Page, bench: ReadyBench) => Promise<void> = async () => {},
): Promise<void> {
  program = await startProgram();
  const opened = await openPreparedWindow(context, program, async (at) => {
    await prepare(at, await readyBench(at));
  });
  ({ window, page, person } = opened);
}

test.afterEach(() => endWithoutFaults(window, program));

test("limits of a method are typed with their rule, and the report decides each specimen by it, by keyboard", async ({
  context,
}) => {
  test.slow();
  await open(context);
  await person.go("registers");
  await person.activate(
    page.getByRole("button", { name: "Methods" }).or(page.getByRole("tab", { name: "Methods" })),
  );
  await person.activate(page.getByRole("button", { name: "Define a method" }));
  await person.fill("Name", "Grains within limits");
  await person.tabTo(page.getByLabel("Dimension 1, dimension"));
  await page.keyboard.type("Length");
  await person.activate(page.getByRole("button", { name: "Add limits" }));
  await expect(page.getByLabel("Limit 1, size or quantity")).toHaveValue("length");
  await person.tabTo(page.getByLabel("Limit 1, lower limit"));
  await page.keyboard.type("300");
  await person.tabTo(page.getByLabel("Limit 1, upper limit"));
  await page.keyboard.type("200");
  await person.tabTo(page.getByLabel("Limit 1, decision rule"));
  await page.keyboard.type("guarded");
  await person.press("Control+Enter");
  await expect(
    page.getByText("Upper limit must be greater than the lower limit", { exact: true }),
  ).toBeVisible();
  await person.tabTo(page.getByLabel("Limit 1, upper limit"));
  await person.press("Control+a");
  await page.keyboard.type("400");
  await person.press("Control+Enter");
  await page.getByRole("heading", { name: "Grains within limits" }).waitFor();
  await expect(
    page.getByText(/from 300 to 400 µm, by guarded acceptance with w = U \(JCGM 106:2012 8\.3\)/),
  ).toBeVisible();

  await person.go("measure");
  await person.fill("Sample", "Sieved grains");
  await person.tabTo(person.field("Method"));
  await page.keyboard.type("Grains within");
  await person.activate(page.getByRole("button", { name: "Open the sheet" }));
  await page.getByRole("region", { name: "Confirm the train" }).waitFor();
  await person.press("Enter");
  // Of 10.373 µm/div by hand: 342 µm; 301 µm, inside by less than its U; 415 µm.
  await person.take("10", "43", "10", "39", "10", "50");
  await person.expectStored(3);
  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Report of S-0002" }));
  const report = page.getByRole("article");
  await expect(report).toContainText(
    /Length, from 300 to 400 µm, by guarded acceptance .* 1 of 3 specimens conform .*; 2 do not: rows 2, 3\./,
  );
  await seenInBothThemes(page, "report-with-limits");
});

test("a limit on a derived quantity is decided as soon as its last size is there, as in the report", async ({
  context,
}) => {
  await open(context, async (at) => {
    const [before] = await callFrom(at, "methods.list", {});
    const [sheet] = await callFrom(at, "sheets.list", {});
    if (!before || !sheet) throw new Error("the bench has no method or no sheet");
    const method = await callFrom(at, "methods.define", {
      requestId: newRequest(),
      familyId: null,
      definition: {
        ...before.definition,
        name: "Slender grains",
        dimensions: [
          { key: "length", name: "Length" },
          { key: "width", name: "Width" },
        ],
        derived: [{ key: "ratio", name: "L/W", kind: "ratio", of: ["length", "width"] }],
        limits: [{ of: "ratio", lower: "2", upper: "", rule: "guarded-acceptance" }],
      },
    });
    const { sample, note, microscopeId, eyepieceId, intermediateMagnification, objectiveId } = sheet;
    const parts = { microscopeId, eyepieceId, intermediateMagnification, objectiveId };
    await callFrom(at, "sheets.open", {
      requestId: newRequest(),
      sheet: { sample, note, methodId: method.id, ...parts },
    });
  });
  await openSheet(page, person, "S-0002");
  const last = page.getByRole("region", { name: "Last result" });
  await person.take("10", "70");
  await expect(last).toContainText("Length");
  await expect(last).not.toContainText("L/W");
  await person.take("10", "30");
  await expect(last).toContainText(/L\/W 3\.0\d* ± 0\.\d+: conforms \(probability 99\.9 %\)/);
  await person.take("10", "50", "10", "40");
  await expect(last).toContainText(/L\/W 1\.3\d* ± 0\.\d+: does not conform \(probability < 0\.1 %\)/);
  await person.expectStored(2);
  await seenInBothThemes(page, "limit-of-a-quantity");
  await person.go("records");
  await person.activate(page.getByRole("button", { name: "Report of S-0002" }));
  await expect(page.getByRole("article")).toContainText(
    /L\/W, at least 2, by guarded acceptance .* 1 of 2 specimens conform .*; 1 does not: row 2\./,
  );
});

test("the tolerance of factors is decided with a rule, and the factor in force is held against it", async ({
  context,
}) => {
  test.slow();
  await open(context, async (at, { trainIds, micrometerId, certificateId }) => {
    const train = { trainId: trainIds[0] ?? "", stageMicrometerId: micrometerId, certificateId };
    // 0.31 % below the first: 1000/96.7 over 1000/96.4.
    await calibrate(at, train, settingsOf(96.7), "second calibration");
  });
  await person.go("trends");
  const decision = page.getByText(/^The factor in force/);
  await expect(decision).toContainText("conforms: −0.3");
  const decide = async (percent: string, rule: string): Promise<void> => {
    await person.activate(page.getByRole("button", { name: "Change the tolerance" }));
    await person.fill("Tolerance", percent);
    await person.tabTo(person.field("Decision rule"));
    await page.keyboard.type(rule);
    await person.fill("Reason", "as our procedure says");
    await person.activate(page.getByRole("button", { name: "Decide this tolerance" }));
  };
  await decide("0.4", "simple");
  await expect(decision).toContainText(
    /^The factor in force conforms: −0\.3\d? % from the first of its baseline, tolerance ± 0\.4 %, by simple acceptance \(JCGM 106:2012 8\.2\)/,
  );
  // Within the limits, though not by its U of some 0.2 %.
  await decide("0.4", "guarded");
  await expect(decision).toContainText(/does not conform: .* by guarded acceptance with w = U/);
  await seenInBothThemes(page, "factor-and-tolerance");
});

test("the chart of people says that its line is the mean of all of them", async ({ context }) => {
  await open(context, async (at, { trainIds, micrometerId, certificateId }) => {
    const other = await callFrom(at, "people.register", {
      requestId: newRequest(),
      person: { name: "Ben Example", initials: "BE", interpupillaryMm: "64" },
    });
    await callFrom(at, "people.choose", { personId: other.id });
    const train = { trainId: trainIds[0] ?? "", stageMicrometerId: micrometerId, certificateId };
    await calibrate(at, train, settingsOf(96.6), "calibrated by a second person");
  });
  await person.go("trends");
  await person.press("Alt+PageDown", "Alt+PageDown");
  await expect(page.getByText(/^Change from the mean of all people, the line at 0/)).toBeVisible();
  for (const name of ["Ada Example", "Ben Example"]) {
    const chart = page.getByRole("img", { name: new RegExp(`^${name}`) });
    await expect(chart.getByText("0 %: mean of all people", { exact: true })).toBeVisible();
  }
  await expect(page.getByText("its own mean")).toHaveCount(0);
  // Each lies as far from the mean as the other, on opposite sides.
  const changes = page.getByRole("table", { name: /^Calibrations, / }).locator("tbody tr td:nth-child(3)");
  const [first, second] = (await changes.allTextContents()).map((text) => Number(text.replace("−", "-")));
  expect((first ?? 1) + (second ?? 1)).toBeCloseTo(0, 1);
  expect(Math.abs(first ?? 0)).toBeGreaterThan(0.05);
  await seenInBothThemes(page, "people-and-their-mean");
  await person.press("Alt+PageUp");
  await expect(page.getByText("0 %: its own mean", { exact: true }).first()).toBeVisible();
});
