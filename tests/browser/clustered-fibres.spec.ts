import { expect, test } from "@playwright/test";
import { FIBRES_ON_FILTER } from "#core/counting/methods/ready-bench-methods.ts";
import { startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import { Keypad } from "./keypad.ts";
import { endWithoutFaults, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

/** Fibres of eight fields, half fibres among them, far more scattered than by chance. Invented. */
const FIELDS = [1, 0, 2.5, 24, 0, 1.5, 30, 1];

test("fibres that cluster: the field is the unit of the uncertainty, on the pad and in the closed count", async ({
  context,
}) => {
  test.slow();
  const program = await startProgram();
  const { window, page, person } = await openPreparedWindow(context, program, async (at) => {
    const { trainIds } = await readyBench(at);
    const [microscope] = await callFrom(at, "microscopes.list", {});
    expect(trainIds.length).toBeGreaterThan(0);
    const method = await callFrom(at, "countMethods.define", {
      requestId: newRequest(),
      familyId: null,
      definition: FIBRES_ON_FILTER,
    });
    await callFrom(at, "counts.open", {
      requestId: newRequest(),
      count: {
        sample: "Invented air sample",
        note: "",
        countMethodId: method.id,
        train: {
          microscopeId: microscope?.id ?? "",
          eyepieceId: microscope?.eyepieces[0]?.id ?? "",
          intermediateMagnification: "1" as never,
          objectiveId: microscope?.objectives[0]?.id ?? "",
        },
        categories: FIBRES_ON_FILTER.categories,
        inputs: { diameter: "9.6", airVolume: "500", blankCount: "0", blankFields: "100" },
        batch: "",
      },
      position: null,
    });
  });
  const pad = await Keypad.of(page);
  await person.go("count");
  await person.activate(page.getByRole("button", { name: /^Continue count/ }));
  await page.getByText(/F7 resumes at field/).waitFor();
  await person.press("F7");
  await page.getByText("Counting.", { exact: true }).waitFor();
  await pad.type(FIELDS.map((fibres) => (fibres === 0 ? "⏎" : `+${fibres}+1⏎`)).join(""));
  const n = FIELDS.length;
  const total = FIELDS.reduce((sum, one) => sum + one, 0);
  const s = Math.sqrt(FIELDS.reduce((sum, one) => sum + (one - total / n) ** 2, 0) / (n - 1));
  // Student's t of 7 degrees of freedom, two-sided 95 %: NIST/SEMATECH e-Handbook, table 1.3.6.7.2, from memory.
  const relative = (2.365 * s * Math.sqrt(n)) / total;
  expect(relative).toBeGreaterThan(1);
  await expect(page.locator('[data-figure="total"]')).toHaveText(String(total));
  await expect(page.getByText(/by the scatter between fields/).first()).toBeVisible();
  await person.activate(page.getByRole("button", { name: "Close the count …" }));
  await page.getByText(/is empty/).waitFor();
  await person.press("2");
  await page.getByRole("heading", { name: "Results" }).waitFor();
  const [count] = await callFrom(page, "counts.list", {});
  const state = await callFrom(page, "counts.state", { countId: count?.id ?? "" });
  const loading = state.count.results?.densities.find(({ unit }) => unit === "fibres/mm²");
  expect(loading).toMatchObject({ basis: "between-fields", degreesOfFreedom: 7 });
  // Limits of fields that differ so much: T·exp(−t·s√n/T) and T·exp(t·s√n/T·√(n/(n − 1))) objects.
  const objects = (limit = "0") => Number(limit) / Number(loading?.perObject);
  expect(objects(loading?.lower) / (total * Math.exp(-relative))).toBeCloseTo(1, 2);
  expect(objects(loading?.upper) / (total * Math.exp(relative * Math.sqrt(n / (n - 1))))).toBeCloseTo(1, 2);
  const counted = loading?.components.find(({ key }) => key === "count");
  expect(Number(counted?.relative)).toBeCloseTo((s * Math.sqrt(n)) / total, 6);
  await expect(page.getByText(loading?.shown ?? "?").first()).toBeVisible();
  await expect(page.getByText(/by the scatter between fields/).first()).toBeVisible();
  await seenInBothThemes(page, "clustered-fibres");
  await endWithoutFaults(window, program);
});
