import { expect, type Page } from "@playwright/test";
import type { SpecimenRow } from "#core/contract/records/sheet.ts";
import { defaultTypedReadingConditions } from "#core/measurement/default-reading-conditions.ts";
import { calibrate, newRequest } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import { readyBench } from "./ready-bench.ts";

/**
 * Calibrations of three objectives: `length` µm of a perfect scale on `divisions` of the reticle, three settings alike,
 * so that the factor is length / divisions exactly. Invented inputs.
 */
export const FACTORS = [
  { position: 1, line: "100", length: 1000, divisions: 98.5 },
  { position: 2, line: "25", length: 250, divisions: 97.5 },
  { position: 3, line: "10", length: 100, divisions: 96.5 },
] as const;

/** A bench with three calibrated objectives, two people, and a sheet whose method reads each length twice. */
export async function measureScene(page: Page): Promise<{ readonly sheetId: string }> {
  const ready = await readyBench(page, { calibrated: false });
  for (const [at, { line, divisions }] of FACTORS.entries()) {
    const setting = { reticleLeft: "0", reticleRight: String(divisions), lineLeft: "0", lineRight: line };
    const train = {
      trainId: ready.trainIds[at] ?? "",
      stageMicrometerId: ready.micrometerId,
      certificateId: ready.certificateId,
    };
    await calibrate(page, train, [setting, setting, setting], "first calibration of this train");
  }
  await callFrom(page, "people.register", {
    requestId: newRequest(),
    person: { name: "Ben Example", initials: "BE", interpupillaryMm: "66" },
  });
  const method = await callFrom(page, "methods.define", {
    requestId: newRequest(),
    familyId: null,
    definition: {
      name: "Grain size, read twice",
      dimensions: [{ key: "length", name: "Length" }],
      edgeConvention: "outer edge of the wall",
      reading: defaultTypedReadingConditions(),
      coverage: "t95",
      rounding: "half-even",
      minimumDivisions: "10",
      repeats: 2,
      note: "",
    },
  });
  const { sheet } = await callFrom(page, "sheets.get", { sheetId: ready.sheetId });
  const { microscopeId, eyepieceId, intermediateMagnification, objectiveId } = sheet;
  const twice = await callFrom(page, "sheets.open", {
    requestId: newRequest(),
    sheet: {
      sample: "Sample 8",
      note: "",
      methodId: method.id,
      microscopeId,
      eyepieceId,
      intermediateMagnification,
      objectiveId,
    },
  });
  return { sheetId: twice.id };
}

/** One specimen: both readings of its length, in tenths of a division, and its objective by place in `FACTORS`. */
export interface Specimen {
  readonly objective: number;
  readonly first: readonly [number, number];
  readonly second: readonly [number, number];
}

/** Tenths of a division as they are typed: `12.5`, `40`. */
export function typed(tenths: number): string {
  return tenths % 10 === 0 ? String(tenths / 10) : (tenths / 10).toFixed(1);
}

/** Invented specimens by a rule, so that a failure comes again: 17, 17, 16 with the three objectives. */
export function specimens(count: number): readonly Specimen[] {
  let state = 20_261;
  const draw = (from: number, to: number): number => {
    // Park and Miller's minimal standard generator, from memory.
    state = (state * 16_807) % 2_147_483_647;
    return from + (state % (to - from + 1));
  };
  return Array.from({ length: count }, (_, at) => {
    const left = draw(50, 300);
    const width = draw(200, 600);
    const again = draw(50, 300);
    return {
      objective: Math.min(2, Math.floor((at * 3) / count)),
      first: [left, left + width],
      second: [again, again + width + draw(-3, 3)],
    };
  });
}

/** The size of a specimen, µm: mean divisions × length / divisions of its calibration, in plain arithmetic. */
export function sizeOf({ objective, first, second }: Specimen): number {
  const factor = FACTORS[objective] ?? FACTORS[0];
  const tenths = (first[1] - first[0] + (second[1] - second[0])) / 2;
  return (tenths / 10) * (factor.length / factor.divisions);
}

export async function storedRows(page: Page, sheetId: string): Promise<readonly SpecimenRow[]> {
  return (await callFrom(page, "rows.page", { sheetId, from: 1, count: 500 })).rows;
}

/** Every stored row that is not struck has the size that plain arithmetic gives. */
export function expectSizes(rows: readonly SpecimenRow[], expected: readonly Specimen[]): void {
  const kept = rows.filter((row) => row.struck === null);
  expect(kept).toHaveLength(expected.length);
  kept.forEach((row, at) => {
    const specimen = expected[at];
    if (!specimen) throw new Error(`row ${row.ordinal} was not expected`);
    const where = `row ${row.ordinal}`;
    const [measured] = row.measurements;
    expect([measured?.left, measured?.right], where).toEqual(specimen.first.map(typed));
    expect(
      measured?.repeats.map(({ left, right }) => [left, right]),
      where,
    ).toEqual([specimen.second.map(typed)]);
    expect(Number(measured?.size?.value), where).toBeCloseTo(sizeOf(specimen), 9);
  });
}
