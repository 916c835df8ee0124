import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CountCategory } from "#core/contract/records/count-method.ts";
import { findTaxa } from "#core/counting/lists/find-taxon.ts";
import { listChanges } from "#core/counting/lists/list-changes.ts";
import { listText, readListText } from "#core/counting/lists/list-text.ts";
import { requireCategories } from "#core/counting/methods/count-method-check.ts";
import { TAXA_TEXT } from "../../../support/invented-taxa.ts";

const taken = (text: string, before: readonly CountCategory[] = []) =>
  readListText(text, before).lines.flatMap(({ category }) => category ?? []);
const refusals = (text: string) =>
  readListText(text).lines.flatMap(({ line, refused }) => (refused === null ? [] : [`${line}: ${refused}`]));

describe("a list from a spreadsheet", () => {
  const categories = taken(TAXA_TEXT);

  it("takes 25 taxa with codes, groups, sums and the keys of the keypad for the first ten", () => {
    expect(categories).toHaveLength(25);
    expect(refusals(TAXA_TEXT)).toEqual([]);
    expect(categories[0]).toEqual({
      key: "betula",
      name: "Betula",
      keyCode: "Numpad7",
      kind: "object",
      halves: false,
      code: "BETULA",
      group: "Trees",
      sums: [
        { name: "Land pollen", part: "in" },
        { name: "Trees and shrubs", part: "in" },
      ],
      enough: 3,
    });
    expect(categories.map(({ keyCode }) => keyCode).filter((code) => code !== "")).toHaveLength(10);
    expect(categories.find(({ name }) => name === "Nymphaea")).toMatchObject({
      kind: "aside",
      reported: true,
      sums: [{ name: "Land pollen", part: "of" }],
    });
    expect(categories.map(({ code }) => code)).toContain("CORAVE");
    expect(categories.find(({ code }) => code === "4711")?.key).toBe("t4711");
    requireCategories(categories);
  });

  it("reads names alone, one a line, and semicolons or commas of a CSV file", () => {
    expect(taken("Ostracod, juvenile\nOstracod\n").map(({ name }) => name)).toEqual([
      "Ostracod, juvenile",
      "Ostracod",
    ]);
    expect(taken('\uFEFFName;Group\r\n"Cyclotella; small";Diatoms\r\n')[0]).toMatchObject({
      name: "Cyclotella; small",
      group: "Diatoms",
    });
    expect(readListText("Name,Author,Group\nNavicula,Bory,Diatoms").unused).toEqual(["Author"]);
  });

  it.each<[string, RegExp]>([
    ["Name\tGroup\n\tDiatoms", /^2: has no name$/],
    ["Alnus\nBetula\nalnus", /^3: “alnus” is on line 1 already$/],
    ["Alnus\tA1\nBetula\ta1", /^2: the code a1 is on line 1 already$/],
    ["Alnus\tA 1\t", /^1: code must be up to 16 letters and digits$/],
    ["Alnus\t\t\t\tperhaps", /^1: “perhaps” under Counts as is not known/],
    ["Alnus\t\t\t\ttotal, reported", /is not known: use total; total, halves; total, decimals/],
    ["Alnus\t\t\t\t\tF3", /^1: “F3” is no key/],
    ["Name\tKey\nAlnus\t7\nBetula\t7", /^3: the key 7 is on line 2 already$/],
    ["Alnus\t\t\t\t\t\tmany", /^1: “many” under Stop at/],
    ["Alnus\t\t\tTrees; trees", /^1: “trees” is written “Trees”/],
    ["Alnus\t\t\tTrees; (Trees)", /^1: names a sum twice$/],
    ["Lycopodium\t\t\tTrees\tmarker", /^1: marker spores and doubtful objects belong to no sum/],
    [`${"x".repeat(121)}\t`, /^1: name is too long/],
    ['Alnus\t"', /^1: a quotation mark is opened and never closed/],
  ])("refuses %j", (text, words) => {
    const found = refusals(text);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatch(words);
  });

  it("comes back from its own text", () => {
    expect(taken(listText(categories), categories)).toEqual(categories);
  });

  it("comes back from its own text, whatever the names", () => {
    const name = fc.stringMatching(/^[^\p{Cc}\s](?:[^\p{Cc}]{0,20}[^\p{Cc}\s])?$/u);
    fc.assert(
      fc.property(fc.uniqueArray(name, { minLength: 1, maxLength: 8 }), (names) => {
        const first = names.map((one, i) =>
          CountCategory.parse({
            key: `c${i}`,
            name: one,
            keyCode: "",
            kind: "object",
            halves: i % 3 === 0,
            ...(i % 3 === 1 ? { decimals: true } : {}),
            code: `C${i}`,
          }),
        );
        const lines = readListText(listText(first), first).lines;
        // Names that differ by accents or case alone are one name: such a line is refused, none is changed.
        for (const [i, { category }] of lines.entries()) if (category) expect(category).toEqual(first[i]);
        return lines.length === first.length;
      }),
    );
  });

  it("keeps a category through a new name by its code, and says what changes", () => {
    const next = taken(
      listText(categories)
        .replace("Poaceae", "Gramineae")
        .replace(/^Rumex.*\n/m, "")
        .concat("Cerealia\n"),
      categories,
    );
    expect(listChanges(categories, next)).toEqual({
      added: ["Cerealia"],
      renamed: [{ from: "Poaceae", to: "Gramineae" }],
      removed: ["Rumex"],
    });
  });
});

describe("finding a taxon", () => {
  const categories = taken(
    "Asterionella formosa\nAulacoseira granulata\nAulacoseira islandica\nÉpithemia\t4711\t",
  );
  const names = (typed: string) => findTaxa(categories, typed).map(({ name }) => name);

  it("takes its first letters, letters of its words, its code and letters without accents", () => {
    expect(names("aul")).toEqual(["Aulacoseira granulata", "Aulacoseira islandica"]);
    expect(names("au is")).toEqual(["Aulacoseira islandica"]);
    expect(names("islan")).toEqual(["Aulacoseira islandica"]);
    expect(names("astfor")).toEqual(["Asterionella formosa"]);
    expect(names("epi")).toEqual(["Épithemia"]);
    expect(names("47")).toEqual(["Épithemia"]);
    expect(names("xyz")).toEqual([]);
    expect(names(" ")).toEqual([]);
  });

  it("puts a code that is exactly typed first", () => {
    const two = taken("Aardvark\tB\nBetula\tA");
    expect(findTaxa(two, "a").map(({ name }) => name)).toEqual(["Betula", "Aardvark"]);
  });
});
