import { expect, type Page, test } from "@playwright/test";
import { type ProgramUnderTest, startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { type BenchWindow, callFrom, openBenchWindow } from "./bench-window.ts";
import { KeyboardPerson } from "./keyboard-person.ts";
import { readTenths } from "./practice-acts.ts";
import { type ReadyBench, readyBench } from "./ready-bench.ts";

test.use({ viewport: { width: 1280, height: 800 } });

let program: ProgramUnderTest;
let window: BenchWindow;
let page: Page;
let person: KeyboardPerson;
let ready: ReadyBench;

test.beforeEach(async ({ context }) => {
  program = await startProgram();
  window = await openBenchWindow(context, program.address);
  page = window.page;
  person = new KeyboardPerson(page);
  ready = await readyBench(page, { calibrated: false });
  await readTenths(page, (index) => (index % 2 === 0 ? 0.1 : -0.1));
});
test.afterEach(async () => {
  const faults = [...window.faults];
  await program.stop();
  expect(faults).toEqual([]);
});

const anew = async (): Promise<void> => {
  await page.reload();
  await page.getByRole("heading").first().waitFor();
};
const button = (name: string | RegExp) => page.getByRole("button", { name });

test("with one setting the scatter of practice is offered, taken by one key and put in force under its name", async () => {
  const { id } = await callFrom(page, "calibrations.begin", {
    requestId: newRequest(),
    calibration: {
      trainId: ready.trainIds[0] ?? "",
      stageMicrometerId: ready.micrometerId,
      certificateId: ready.certificateId,
    },
  });
  const begun = await callFrom(page, "calibrations.get", { calibrationId: id });
  const { conditions, estimator, coverage, remark } = begun;
  await callFrom(page, "calibrations.keepDraft", {
    calibrationId: id,
    settings: [{ reticleLeft: "0.0", reticleRight: "96.4", lineLeft: "0", lineRight: "100" }],
    conditions,
    estimator,
    coverage,
    remark,
  });
  await anew();
  await person.go("calibrate");
  await person.activate(button(/^Continue Stand A/));
  await expect(
    page.getByText(/One setting only; its scatter is taken as s = 0\.2 div, ν = 10, assumed/),
  ).toBeVisible();
  await expect(page.getByText(/It would be s = .* practice: pooled from 1 attempt/)).toBeVisible();
  await person.press("Alt+P");
  await expect(
    page.getByText(/One setting only; its scatter is taken as s = .* practice: pooled from 1 attempt/),
  ).toBeVisible();
  await expect(page.getByText("Kept as typed.")).toBeVisible();
  await anew();
  await expect(page.getByText(/its scatter is taken as s = .* practice: pooled/)).toBeVisible();
  const kept = await callFrom(page, "calibrations.get", { calibrationId: id });
  expect(kept.conditions.repeatability).toBe("practice");
  await person.press("Alt+P");
  await expect(page.getByText(/its scatter is taken as s = 0\.2 div/)).toBeVisible();
});

test("a method takes the scatter of practice by one key and says whose it is; typed over, it is nobody's", async () => {
  await anew();
  await person.go("registers");
  await person.activate(button("Methods"));
  await person.activate(page.getByRole("button", { name: /Grain size/ }).first());
  await person.activate(button(/next version|New version/i).first());
  await person.activate(button(/^Take s = .* practice: pooled from 1 attempt of Ada Example/));
  await expect(page.getByText(/The repeatability is that of s = .* practice/)).toBeVisible();
  await expect(person.field("Degrees of freedom of the repeatability")).toHaveValue("39");
  await person.fill("Repeatability of one pair of readings", "0.3");
  await expect(page.getByText("A size read once takes the repeatability above.")).toBeVisible();
});

test("the register of people shows the scatter by its origin", async () => {
  await anew();
  await person.go("registers");
  await person.activate(button("People"));
  await person.activate(page.getByRole("button", { name: /Ada Example/ }).first());
  const row = page.getByRole("row", { name: /Practice at the drawn eyepiece/ });
  await expect(row).toContainText("39");
});
