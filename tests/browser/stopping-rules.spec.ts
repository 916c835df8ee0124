import { expect, test } from "@playwright/test";
import { POLLEN_MARKER } from "#core/counting/methods/ready-pollen-methods.ts";
import { startProgram } from "../support/program-under-test.ts";
import { newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import { endWithoutFaults, openPreparedWindow } from "./measure-window.ts";
import { readyBench } from "./ready-bench.ts";
import { seenInBothThemes } from "./seen-in-both-themes.ts";

test.use({ screenshot: "only-on-failure", viewport: { width: 1280, height: 800 } });

test("several conditions stop a count together, the first of them or all, by keyboard", async ({
  context,
}) => {
  test.slow();
  const program = await startProgram();
  const { window, page, person } = await openPreparedWindow(context, program, async (at) => {
    await readyBench(at, { calibrated: true });
    const [first] = POLLEN_MARKER.categories;
    await callFrom(at, "countMethods.define", {
      requestId: newRequest(),
      familyId: null,
      definition: {
        ...POLLEN_MARKER,
        name: "Pollen with a sum (invented)",
        categories: POLLEN_MARKER.categories.map((one) =>
          one.key === first?.key ? { ...one, sums: [{ name: "land pollen", part: "in" }] } : one,
        ),
      },
    });
  });
  const key = POLLEN_MARKER.categories[0]?.key ?? "";
  await person.go("count");
  await person.activate(page.getByRole("button", { name: "Methods", exact: true }));
  await person.activate(page.getByRole("button", { name: "Show Pollen with a sum (invented)" }));
  await person.activate(page.getByRole("button", { name: /^Make the next version/ }));
  await person.tabTo(person.field("Stopping rule"));
  await page.keyboard.type("several");
  await expect(page.getByRole("table", { name: "Conditions of the stopping rule" })).toBeVisible();
  await person.tabTo(page.getByLabel("Condition 1, at least"));
  await page.keyboard.type("few");
  await person.tabTo(page.getByLabel("Condition 1, of what"));
  await page.keyboard.type("objects of the sum");
  await person.tabTo(page.getByLabel("Condition 2, at least"));
  await page.keyboard.type("2");
  await person.activate(page.getByRole("button", { name: "Add condition" }));
  await expect(page.getByLabel("Condition 3, at least")).toBeFocused();
  await page.keyboard.type("5");
  await person.tabTo(page.getByLabel("Condition 3, of what"));
  await page.keyboard.type("marker");
  await person.fill("In any case after", "9");
  await person.press("Control+Enter");
  await expect(page.getByLabel("Condition 1, at least")).toHaveAttribute("aria-invalid", "true");
  await seenInBothThemes(page, "conditions-of-stopping");
  await person.tabTo(page.getByLabel("Condition 1, at least"));
  await person.press("Control+a");
  await page.keyboard.type("12");
  await person.press("Control+Enter");
  const name = "12 objects of “land pollen” and 2 fields and 5 marker spores, or 9 fields";
  await expect(page.getByText(name).first()).toBeVisible();
  const [method] = await callFrom(page, "countMethods.list", {});
  expect(method?.definition.stopping).toMatchObject({
    name,
    standing: "own",
    rule: {
      kind: "any",
      rules: [
        {
          kind: "all",
          rules: [
            { kind: "units", atLeast: 12, classes: [key], of: "land pollen" },
            { kind: "fields", atLeast: 2 },
            { kind: "marker", atLeast: 5 },
          ],
        },
        { kind: "fields", atLeast: 9 },
      ],
    },
  });

  const { id: countId } = await callFrom(page, "counts.open", {
    requestId: newRequest(),
    position: null,
    count: {
      sample: "Invented core",
      note: "",
      countMethodId: method?.id ?? "",
      train: null,
      categories: method?.definition.categories ?? [],
      inputs: { markerTablets: "1", sporesPerTablet: "18583", sporesDeviation: "764", sampleSize: "1" },
      batch: "",
    },
  });
  const press = (category: string, weight: string) => ({
    kind: "press" as const,
    requestId: newRequest(),
    category,
    weight,
    rowId: null,
    waitedMs: 0,
  });
  const field = () => ({ kind: "field" as const, requestId: newRequest(), position: null, waitedMs: 0 });
  await callFrom(page, "counts.pressMany", {
    countId,
    acts: [press(key, "7"), field(), press(key, "6"), press("marker", "6"), field()],
  });
  await callFrom(page, "counts.close", { requestId: newRequest(), countId, lastFieldCounted: false });
  await page.reload();
  await page.getByRole("heading").first().waitFor();
  await person.go("count");
  await person.activate(page.getByRole("button", { name: "Counts", exact: true }));
  await person.activate(page.getByRole("button", { name: /^Open count/ }));
  await expect(
    page.getByText(/13 of 12 objects of land pollen and 2 of 2 fields and 6 of 5 marker spores/),
  ).toBeVisible();
  expect((await callFrom(page, "trail.verify", {})).differences).toEqual([]);
  await endWithoutFaults(window, program);
});
