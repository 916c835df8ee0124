import AxeBuilder from "@axe-core/playwright";
import { expect, test } from "@playwright/test";
import { HAEMOCYTOMETER } from "#core/counting/methods/ready-bench-methods.ts";
import { startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import { endWithoutFaults, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

/** Blanks of four squares each; the last holds far more. Invented. */
const BLANKS = [5, 6, 4, 5, 7, 4, 40];

test("blanks that are counted again and again stand as a series, and the one that is wrong is named", async ({
  context,
}) => {
  const program = await startProgram();
  const { window, page, person } = await openPreparedWindow(context, program, async (at) => {
    await readyBench(at);
    const method = await callFrom(at, "countMethods.define", {
      requestId: newRequest(),
      familyId: null,
      definition: HAEMOCYTOMETER,
    });
    for (const objects of BLANKS) {
      const { id: countId } = await callFrom(at, "counts.open", {
        requestId: newRequest(),
        position: null,
        count: {
          sample: "Blank",
          note: "",
          countMethodId: method.id,
          train: null,
          categories: HAEMOCYTOMETER.categories,
          inputs: { dilution: "1" },
          batch: "",
        },
      });
      const quarter = [0, 1, 2, 3].map((field) => Math.floor((objects + field) / 4));
      const acts = quarter.flatMap((weight) => [
        ...(weight === 0
          ? []
          : [
              {
                kind: "press" as const,
                requestId: newRequest(),
                category: "unstained",
                weight: String(weight),
                rowId: null,
                waitedMs: 0,
              },
            ]),
        { kind: "field" as const, requestId: newRequest(), position: null, waitedMs: 0 },
      ]);
      await callFrom(at, "counts.pressMany", { countId, acts });
      await callFrom(at, "counts.close", { requestId: newRequest(), countId, lastFieldCounted: false });
    }
  });
  await person.go("count");
  await person.activate(page.getByRole("button", { name: /^Open count T-0007/ }));
  const chart = page.getByRole("img", { name: "Objects per field, count by count" });
  await expect(chart).toBeVisible();
  await expect(page.getByText(/^Beyond the limits .*: T-0007\.$/)).toBeVisible();
  await expect(page.getByRole("row", { name: /^T-0007/ })).toContainText("beyond");
  await expect(page.getByRole("row", { name: /^T-0001/ })).not.toContainText("beyond");
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);
  await chart.scrollIntoViewIfNeeded();
  await page.screenshot({ path: test.info().outputPath("series.png") });
  await endWithoutFaults(window, program);
});
