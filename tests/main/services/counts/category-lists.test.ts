import { afterEach, beforeEach, describe, expect, it } from "vitest";
import type { CategoryList } from "#core/contract/records/category-list.ts";
import { categoriesOfList } from "#core/counting/lists/categories-of-list.ts";
import { POLLEN_MARKER } from "#core/counting/methods/ready-pollen-methods.ts";
import { buildScene } from "../../../support/bench-scenes.ts";
import { handOf } from "../../../support/count-scene.ts";
import { inventedTaxa } from "../../../support/invented-taxa.ts";
import { type TempBench, tempBench } from "../../../support/temp-bench.ts";

let bench: TempBench;

beforeEach(async () => {
  bench = await tempBench();
  await buildScene(bench);
});
afterEach(() => bench.end());

const definition = { name: "Invented taxa", categories: inventedTaxa(), note: "" };
const renamed = {
  ...definition,
  categories: definition.categories.map((one) =>
    one.name === "Poaceae" ? { ...one, name: "Gramineae" } : one,
  ),
};
const define = (
  familyId: string | null,
  what = definition,
  carryNames: { reason: string } | null = null,
): Promise<CategoryList> =>
  bench.call("categoryLists.define", { requestId: bench.request(), familyId, definition: what, carryNames });

async function openBy(list: CategoryList, categories = list.definition.categories) {
  const methods = await bench.call("countMethods.list", {});
  const method =
    methods[0] ??
    (await bench.call("countMethods.define", {
      requestId: bench.request(),
      familyId: null,
      definition: POLLEN_MARKER,
    }));
  return {
    requestId: bench.request(),
    position: null,
    count: {
      sample: "Peat, 40 cm",
      note: "",
      countMethodId: method.id,
      train: null,
      categories,
      categoryListId: list.id,
      inputs: {},
      batch: "",
    },
  };
}

const clean = async () => expect((await bench.call("trail.verify", {})).differences).toEqual([]);

describe("a list of categories", () => {
  it("has versions, and a name belongs to one list", async () => {
    const first = await define(null);
    const next = await define(first.familyId, renamed);
    expect(next).toMatchObject({ version: 2, familyId: first.familyId });
    expect(await bench.call("categoryLists.list", {})).toEqual([next]);
    const again = { requestId: bench.request(), familyId: null, definition, carryNames: null };
    expect((await bench.refusal("categoryLists.define", again)).code).toBe("categoryList.taken");
    const lost = { ...again, requestId: bench.request(), familyId: "nowhere" };
    expect((await bench.refusal("categoryLists.define", lost)).code).toBe("categoryList.unknown");
    await clean();
  });

  it("takes the place of a method's own objects in a count; a category of it cannot be left out", async () => {
    const list = await define(null);
    const categories = categoriesOfList(list.definition.categories, POLLEN_MARKER);
    const count = await bench.call("counts.open", await openBy(list, categories));
    expect(count.categoryListId).toBe(list.id);
    expect(count.categories.map(({ key }) => key)).toContain("t4711");
    const short = await openBy(list, categories.slice(1));
    expect((await bench.refusal("counts.open", short)).message).toContain(categories[0]?.name);
    const hand = handOf(bench, count.id);
    await hand.press("t4711");
    await bench.call("counts.close", {
      requestId: bench.request(),
      countId: count.id,
      lastFieldCounted: true,
    });
    const { results } = await bench.call("counts.results", { countId: count.id });
    expect(results.sums?.[0]).toMatchObject({ name: "Land pollen", count: "1" });
    await clean();
  });

  it("carries a new name into open counts, with the old one in their trail; closed counts stay", async () => {
    const list = await define(null);
    const categories = categoriesOfList(list.definition.categories, POLLEN_MARKER);
    const open = await bench.call("counts.open", await openBy(list, categories));
    const closed = await bench.call("counts.open", await openBy(list, categories));
    const about = { requestId: bench.request(), countId: closed.id };
    await bench.call("counts.close", { ...about, lastFieldCounted: true });
    await define(list.familyId, renamed, { reason: "The name has changed" });
    const named = async (countId: string) =>
      (await bench.call("counts.get", { countId })).categories.find(({ key }) => key === "poacea")?.name;
    expect(await named(open.id)).toBe("Gramineae");
    expect(await named(closed.id)).toBe("Poaceae");
    const lines = await bench.call("trail.page", { before: null, count: 20 });
    const line = lines.find(({ act }) => act === "tallies.changeCategories");
    expect(line).toMatchObject({ subjectId: open.id, reason: "The name has changed" });
    expect(line?.detail).toContain("Poaceae");
    await clean();
  });
});
