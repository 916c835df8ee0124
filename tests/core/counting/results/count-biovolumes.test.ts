import { describe, expect, it } from "vitest";
import type { CellVolume } from "#core/contract/records/cell-volume.ts";
import type { CountResults } from "#core/contract/records/count-results.ts";
import { UTERMOHL_FIELDS } from "#core/counting/methods/ready-plankton-methods.ts";
import { countBiovolumes, takesCellVolumes } from "#core/counting/results/count-biovolumes.ts";
import { countResults } from "#core/counting/results/count-results.ts";
import { DIATOM_CARBON, PROTIST_CARBON } from "#core/methods/carbon.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import { areaFactor, countData, fieldCounts } from "../../../support/count-data.ts";
import { normalFrom } from "../../../support/seeded-normal.ts";
import { drawnFields, uniformFrom } from "../../../support/simulated-fields.ts";

const SHA = "0".repeat(64);
const categories = UTERMOHL_FIELDS.categories.map((one) =>
  one.key === "greens" || one.key === "diatoms" ? { ...one, group: "algae" } : one,
);

function resultsOf(
  fields: readonly Readonly<Record<string, number>>[],
  u = "0",
  factor = "10",
): CountResults {
  return countResults(
    countData({ ...UTERMOHL_FIELDS, categories }, fieldCounts(fields), { side: "25" }, areaFactor(factor, u)),
  );
}

interface Cells {
  readonly volume: number;
  readonly scatter: number;
  readonly cells?: number;
  readonly cubed?: number;
  readonly calibrationId?: string;
  readonly label?: string;
}

function fromSheet(category: string, given: Cells, carbon: CellVolume["carbon"] = "none"): CellVolume {
  const { volume, scatter, cells = 30, cubed = 0, calibrationId = "cal" } = given;
  const text = (value: number) => textOfDecimal(decimal(value));
  return {
    category,
    carbon,
    of: {
      from: "sheet",
      sheetId: "sheet",
      label: given.label ?? category,
      quantity: "volume",
      name: "Biovolume",
      cells,
      volume: text(volume),
      components: [
        { key: "cells", name: "scatter between the cells", relative: text(scatter) },
        { key: `factor ${calibrationId}`, name: "calibration factor, cubed", relative: text(cubed) },
      ],
      dataSha256: SHA,
    },
  };
}

function typed(category: string, volume: string, expanded = ""): CellVolume {
  return { category, carbon: "none", of: { from: "typed", volume, expanded, source: "an invented list" } };
}

const biovolumes = (cellVolumes: CellVolume[], results: CountResults, calibrationId: string | null = "cal") =>
  countBiovolumes({ categories, calibrationId, cellVolumes }, results);

const EVEN = [7, 5, 9, 6, 8, 4, 7, 10, 6, 8, 5, 7].map((diatoms) => ({ diatoms, greens: 3 }));

describe("biovolume and carbon of a count", () => {
  it("is told of counts per mL of water alone", () => {
    expect(takesCellVolumes(UTERMOHL_FIELDS)).toBe(true);
    expect(takesCellVolumes({ density: { kind: "per-area" } })).toBe(false);
  });

  // N·V: EN 16695:2015 and H. Hillebrand et al., Journal of Phycology 35 (1999) 403, from memory; invented figures.
  // 82 cells in 12 fields of (250 µm)², 10 mL settled in a chamber of 26 mm: 82·A/(a·12·10) cells/mL.
  it("is cells/mL times µm³, and carbon by the relation of the taxon", () => {
    const results = resultsOf(EVEN);
    const { lines } = biovolumes(
      [
        fromSheet("diatoms", { volume: 1507.9644737, scatter: 0.02 }, "diatoms"),
        typed("greens", "500", "50"),
      ],
      results,
    );
    const perMillilitre = Number(results.densities.find(({ of }) => of === "diatoms")?.value);
    expect(perMillilitre).toBeGreaterThan(0);
    const [diatoms, greens] = lines;
    expect(Number(diatoms?.volume.value)).toBeCloseTo((perMillilitre * 1507.9644737) / 1e6, 12);
    // 0.288·V^0.811 pg: S. Menden-Deuer and E. J. Lessard, Limnology and Oceanography 45 (2000) 569; from memory.
    expect(diatoms?.relation).toBe(DIATOM_CARBON);
    expect(Number(diatoms?.carbon?.value)).toBeCloseTo(
      (perMillilitre * 0.288 * 1507.9644737 ** 0.811) / 1e3,
      8,
    );
    expect(greens?.carbon).toBeNull();
    expect(greens?.cellShown).toBe("500 ± 50 µm³");
  });

  it("counts a factor that area and volume share once: −2 and +3 leave +1", () => {
    const results = resultsOf(EVEN, "0.1");
    const u = 0.01;
    const other = (id: string) =>
      biovolumes(
        [fromSheet("diatoms", { volume: 1000, scatter: 0, cubed: 3 * u, calibrationId: id })],
        results,
      ).lines[0]?.volume;
    const count = Number(
      results.densities.find(({ of }) => of === "diatoms")?.components.find(({ key }) => key === "count")
        ?.relative,
    );
    expect(Number(other("cal")?.relative)).toBeCloseTo(Math.hypot(count, u), 10);
    expect(Number(other("another")?.relative)).toBeCloseTo(Math.hypot(count, 2 * u, 3 * u), 10);
  });

  it("adds what taxa share with its sign, and what each has alone in squares", () => {
    const results = resultsOf(EVEN, "0.1");
    const taxa = [
      fromSheet("diatoms", { volume: 1000, scatter: 0.05, cubed: 0.03 }),
      fromSheet("greens", { volume: 2000, scatter: 0.04, cubed: 0.03 }),
    ];
    const { lines, sums } = biovolumes(taxa, results);
    expect(sums.map(({ group }) => group)).toEqual(["algae", null]);
    const alone = lines.map(({ volume, density }) => {
      const count = Number(density.components.find(({ key }) => key === "count")?.relative);
      return { value: Number(volume.value), count };
    });
    const total = alone.reduce((sum, { value }) => sum + value, 0);
    const independent = alone.map(({ value, count }, i) => value * Math.hypot(count, i === 0 ? 0.05 : 0.04));
    const expected = Math.hypot(...independent, total * 0.01) / total;
    for (const { volume } of sums) {
      expect(Number(volume.value)).toBeCloseTo(total, 10);
      expect(Number(volume.relative)).toBeCloseTo(expected, 10);
    }
  });

  it("takes the same cells for two taxa as one doubt", () => {
    const same = (category: string) =>
      fromSheet(category, { volume: 1000, scatter: 0.2, label: "green cells" });
    const [both] = biovolumes([same("diatoms"), same("greens")], resultsOf(EVEN)).sums;
    const [apart] = biovolumes(
      [
        fromSheet("diatoms", { volume: 1000, scatter: 0.2 }),
        fromSheet("greens", { volume: 1000, scatter: 0.2 }),
      ],
      resultsOf(EVEN),
    ).sums;
    expect(Number(both?.volume.relative)).toBeGreaterThan(0.2);
    expect(Number(apart?.volume.relative)).toBeLessThan(0.2);
  });

  it("says “less than” for what was not found, and leaves it out of no sum it does not belong to", () => {
    const results = resultsOf(EVEN);
    const { lines, sums, remarks } = biovolumes(
      [typed("diatoms", "1000"), typed("cryptophytes", "200")],
      results,
    );
    const none = lines.find(({ category }) => category === "cryptophytes");
    const limit = Number(results.densities.find(({ of }) => of === "cryptophytes")?.lessThan) * 200e-6;
    expect(none?.volume.shown).toMatch(/^< /);
    expect(Number(none?.volume.shown.split(" ")[1])).toBeGreaterThanOrEqual(limit);
    expect(sums).toHaveLength(1);
    expect(remarks.join(" ")).toContain("No cell volume, so in no sum here: green algae.");
    expect(remarks.join(" ")).toContain("Typed without U");
  });

  it("prints limits in place of ± where ± U reaches below nothing", () => {
    const results = resultsOf([{ diatoms: 1 }, { diatoms: 0 }, { diatoms: 1 }]);
    const [line] = biovolumes([typed("diatoms", "1000")], results).lines;
    expect(line?.volume.shown).toMatch(/\(95 %: .+ to .+ mm³\/L\)$/);
  });

  it("warns of one cell, and of a taxon without a relation beside one with", () => {
    const { remarks } = biovolumes(
      [
        fromSheet("diatoms", { volume: 1000, scatter: 0.01, cells: 1 }, "protists"),
        typed("greens", "10", "1"),
      ],
      resultsOf(EVEN),
    );
    expect(remarks).toEqual([
      "From one cell, so how cells differ is not in U: diatoms.",
      "No carbon relation, so in no sum of carbon: green algae.",
      `Carbon of the mean cell by ${PROTIST_CARBON.source}; the doubt of that relation is not in U.`,
    ]);
  });

  // Nothing wrong, known truth: U (95 %) must hold it in about 95 of 100 counts. 12 fields, 10 cells measured, one factor.
  it("covers the true biovolume", () => {
    const uniform = uniformFrom(5);
    const normal = normalFrom(6);
    const trials = 600;
    let held = 0;
    for (let trial = 0; trial < trials; trial += 1) {
      const factor = 10 * (1 + 0.01 * normal());
      const counts = drawnFields({ mean: 8, exponent: null }, 12, uniform);
      // Lengths differ by 8 %, so volumes by about 25 %; the factor enters each cubed.
      const cells = Array.from({ length: 10 }, () => 1000 * Math.exp(0.25 * normal()) * (factor / 10) ** 3);
      const average = cells.reduce((sum, one) => sum + one, 0) / 10;
      const s = Math.sqrt(cells.reduce((sum, one) => sum + (one - average) ** 2, 0) / 9);
      const results = resultsOf(
        counts.map((diatoms) => ({ diatoms, greens: 1 })),
        String(0.01 * factor),
        String(factor),
      );
      const scatter = s / Math.sqrt(10) / average;
      const [line] = biovolumes(
        [fromSheet("diatoms", { volume: average, scatter, cells: 10, cubed: 0.03 })],
        results,
      ).lines;
      // One object stands for as much as the true factor says: 8 per field of (250 µm)².
      const perObject = Number(line?.density.perObject) * (factor / 10) ** 2;
      const truth = 8 * 12 * perObject * 1000 * Math.exp(0.25 ** 2 / 2) * 1e-6;
      if (Math.abs(Number(line?.volume.value) - truth) <= Number(line?.volume.expanded)) held += 1;
    }
    expect(held / trials).toBeGreaterThan(0.92);
    expect(held / trials).toBeLessThan(0.985);
    console.log(`coverage ${held / trials}`);
  });
});
