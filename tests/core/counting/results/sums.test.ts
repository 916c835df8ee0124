import { describe, expect, it } from "vitest";
import { CountResults } from "#core/contract/records/count-results.ts";
import { countResults } from "#core/counting/results/count-results.ts";
import { countData, fieldCounts } from "../../../support/count-data.ts";
import { inventedTaxa, POLLEN_BY_LIST } from "../../../support/invented-taxa.ts";

const MARKED = inventedTaxa();
const counted = (counts: Readonly<Record<string, number>>, categories = MARKED) =>
  countResults({
    ...countData(POLLEN_BY_LIST, fieldCounts([counts]), {
      markerTablets: "1",
      sporesPerTablet: "18583",
      sampleSize: "1",
    }),
    categories,
  });
const results = counted({
  betula: 60,
  pinus: 40,
  coravellana: 0,
  poacea: 22,
  nympha: 11,
  marker: 50,
  sphagn: 5,
});

describe("groups and sums", () => {
  const [land, trees] = results.sums ?? [];
  const line = (name: string) => land?.lines.find((one) => one.name === name);

  it("makes each sum of its own categories and gives groups and categories as percentages of it", () => {
    expect(results.sums?.map(({ name, count }) => `${name} ${count}`)).toEqual([
      "Land pollen 122",
      "Trees and shrubs 100",
    ]);
    expect(line("Trees")).toMatchObject({ of: "group", part: "in", count: "100" });
    expect(line("Trees")?.proportion).toBeCloseTo(100 / 122, 11);
    // Clopper–Pearson limits of 100 of 122 by SciPy 1.17: beta.ppf(0.025, 100, 23), beta.ppf(0.975, 101, 22).
    expect(line("Trees")?.lower).toBeCloseTo(0.739809016665, 11);
    expect(line("Trees")?.upper).toBeCloseTo(0.883402368336, 11);
    expect(trees?.lines.find(({ name }) => name === "Betula")?.proportion).toBeCloseTo(0.6, 11);
  });

  it("gives what lies outside as per cent of the sum, with the limits of a ratio, without adding it", () => {
    expect(line("Nymphaea")).toMatchObject({ of: "category", part: "of", count: "11" });
    expect(line("Nymphaea")?.proportion).toBeCloseTo(11 / 122, 11);
    expect(line("Aquatics")?.proportion).toBeCloseTo(11 / 122, 11);
    expect(results.total).toBe("122");
  });

  it("gives density and share of the total to what is counted beside it only by choice", () => {
    const of = (name: string) => results.categories.find((one) => one.name === name);
    expect(of("Nymphaea")?.share?.proportion).toBeCloseTo(11 / 122, 11);
    expect(of("Sphagnum")?.share).toBeNull();
    const densities = results.densities.map((one) => one.of);
    expect(densities).toContain("nympha");
    expect(densities).not.toContain("sphagn");
  });

  it("reports taxa under a key and those counted, not the whole list", () => {
    expect(results.categories.map(({ name }) => name)).not.toContain("Rumex");
    expect(results.categories.map(({ name }) => name)).toContain("Salix");
    expect(CountResults.parse(structuredClone(results))).toEqual(results);
  });

  it("has no lines for an empty sum and no sums where no category names one", () => {
    expect(counted({}).sums?.[0]).toEqual({ name: "Land pollen", count: "0", lines: [] });
    const plain = MARKED.map(({ sums: _, ...one }) => one);
    expect("sums" in counted({ betula: 3 }, plain)).toBe(false);
  });

  it("says which taxa have enough", () => {
    expect(counted({ betula: 2 }).stopping).toMatchObject({ met: false });
    expect(counted({ betula: 2 }).stopping.missing).toContain("1 more Betula");
    expect(counted({ betula: 3 }).stopping.words).toMatch(/ and 3 of 3 Betula$/);
  });
});
