import AxeBuilder from "@axe-core/playwright";
import { expect, test } from "@playwright/test";
import { PARTICLES_PER_CONTAINER } from "#core/counting/methods/ready-particle-methods.ts";
import { startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import { trainOfBench } from "./count-keys.ts";
import { endWithoutFaults, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

test("a laboratory's own limits decide a count of particles in two size classes, by keyboard", async ({
  context,
}) => {
  const program = await startProgram();
  const { window, page, person } = await openPreparedWindow(context, program, async (at) => {
    await readyBench(at, { calibrated: true });
  });
  await person.go("count");
  await person.activate(page.getByRole("button", { name: "Methods", exact: true }));
  const { name } = PARTICLES_PER_CONTAINER;
  await person.activate(page.getByRole("button", { name: `Show ${name}` }));
  await expect(page.getByText("at most 3000, by simple acceptance")).toBeVisible();
  await person.activate(page.getByRole("button", { name: "Make your own of it …" }));
  const limits = page.getByRole("group", { name: "Limits of the density" });
  // Not a number: refused at its field, then mended.
  await person.tabTo(limits.getByLabel("At most").first());
  await person.press("Control+a");
  await page.keyboard.type("few");
  await person.press("Control+Enter");
  await expect(limits.getByLabel("At most").first()).toHaveAttribute("aria-invalid", "true");
  await person.tabTo(limits.getByLabel("At most").first());
  await person.press("Control+a");
  await page.keyboard.type("100");
  await person.tabTo(limits.getByLabel("It conforms when").nth(1));
  await person.press("ArrowDown");
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id, nodes }) => `${id} ${nodes[0]?.target.join(" ")}`)).toEqual([]);
  await person.press("Control+Enter");
  await expect(page.getByText("at most 100, by simple acceptance")).toBeVisible();

  const [method] = await callFrom(page, "countMethods.list", {});
  const { id: countId } = await callFrom(page, "counts.open", {
    requestId: newRequest(),
    position: null,
    count: {
      sample: "Lot 7",
      note: "",
      countMethodId: method?.id ?? "",
      train: await trainOfBench(page),
      categories: PARTICLES_PER_CONTAINER.categories,
      inputs: { diameter: "90", sampleSize: "10" },
      batch: "",
    },
  });
  const acts = [7, 5, 9, 6, 8].flatMap((weight) => [
    {
      kind: "press" as const,
      requestId: newRequest(),
      category: "from_10",
      weight: String(weight),
      rowId: null,
      waitedMs: 0,
    },
    { kind: "field" as const, requestId: newRequest(), position: null, waitedMs: 0 },
  ]);
  await callFrom(page, "counts.pressMany", { countId, acts });
  await callFrom(page, "counts.close", { requestId: newRequest(), countId, lastFieldCounted: false });
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("count");
  await person.activate(page.getByRole("button", { name: "Counts", exact: true }));
  await person.activate(page.getByRole("button", { name: /^Open count/ }));
  const decided = page.getByRole("region", { name: "Limits" });
  // 35 particles in 5 fields of about 0.69 mm², 385 mm² of filter, 10 containers: about 390 in each.
  await expect(decided).toContainText("total");
  await expect(decided).toContainText("at most 100 /container: does not conform by simple acceptance");
  await expect(decided).toContainText("at most 300 /container: conforms by guarded acceptance");
  await endWithoutFaults(window, program);
});
