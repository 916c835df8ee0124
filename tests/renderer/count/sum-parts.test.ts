import { describe, expect, it } from "vitest";
import { partOfRow, sumRows, withRowPart } from "#renderer/screens/count/methods/sum-parts.ts";
import { inventedTaxa } from "../../support/invented-taxa.ts";
import { CATEGORIES } from "./count-fixture.ts";

const rowNamed = (categories: Parameters<typeof sumRows>[0], name: string) => {
  const row = sumRows(categories).find((one) => one.name === name);
  if (!row) throw new Error(`no row ${name}`);
  return row;
};

describe("the sums of a count", () => {
  it("are set by group, and by category where there is none; marker spores belong to none", () => {
    expect(sumRows(inventedTaxa()).map(({ name }) => name)).toEqual([
      "Trees",
      "Shrubs",
      "Herbs",
      "Heaths",
      "Aquatics",
      "Spores",
    ]);
    expect(sumRows(CATEGORIES).map(({ name }) => name)).toEqual(["Pinus", "Betula", "Alnus"]);
  });

  it("put a group in, beside or out, and leave other sums alone", () => {
    const taxa = inventedTaxa();
    const herbs = rowNamed(taxa, "Herbs");
    expect([partOfRow(herbs, "Land pollen"), partOfRow(herbs, "Trees and shrubs")]).toEqual(["in", "none"]);
    const beside = withRowPart(taxa, herbs, "Trees and shrubs", "of");
    expect(partOfRow(rowNamed(beside, "Herbs"), "Trees and shrubs")).toBe("of");
    expect(partOfRow(rowNamed(beside, "Herbs"), "Land pollen")).toBe("in");
    expect(withRowPart(beside, rowNamed(beside, "Herbs"), "Trees and shrubs", "none")).toEqual(taxa);
  });

  it("tell a group of which some belong to a sum, and leave it so", () => {
    const [betula] = inventedTaxa();
    if (!betula) throw new Error("no taxa");
    const single = { key: betula.key, name: betula.name, categories: [betula] };
    const mixed = withRowPart(inventedTaxa(), single, "Land pollen", "none");
    const trees = rowNamed(mixed, "Trees");
    expect(partOfRow(trees, "Land pollen")).toBe("mixed");
    expect(withRowPart(mixed, trees, "Land pollen", "mixed")).toEqual(mixed);
  });
});
