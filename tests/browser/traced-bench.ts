import { randomUUID } from "node:crypto";
import type { Page } from "@playwright/test";
import { calibrate, newRequest, registerMicrometer, type TypedSetting } from "./bench-acts.ts";
import { callFrom } from "./bench-window.ts";
import { readyBench } from "./ready-bench.ts";

export interface TracedBench {
  readonly micrometerId: string;
  readonly certificateId: string;
  /** Two sheets; the first rows of the second rest on another micrometer. */
  readonly sheetIds: readonly [string, string];
  /** Of the second sheet, the rows that do not rest on the certificate. */
  readonly others: number;
  readonly reviewer: string;
}

/** Divisions read at the reticle for 1000, 250 and 100 µm on the micrometer, 10×, 40× and 100×: 96.4, 96.4 and 96.9 div. */
const SETTINGS: readonly TypedSetting[] = [
  { reticleLeft: "0.0", reticleRight: "96.4", lineLeft: "0", lineRight: "100" },
  { reticleLeft: "0.0", reticleRight: "96.4", lineLeft: "0", lineRight: "25" },
  { reticleLeft: "0.0", reticleRight: "96.9", lineLeft: "0", lineRight: "10" },
];

/** The same setting three times. */
async function calibrateAlike(
  page: Page,
  trainId: string,
  { micrometerId, certificateId }: { readonly micrometerId: string; readonly certificateId: string },
  setting: TypedSetting | undefined,
): Promise<void> {
  if (!setting) throw new Error("no setting for this train");
  const at = { trainId, stageMicrometerId: micrometerId, certificateId };
  await calibrate(page, at, [setting, setting, setting], "regular calibration");
}

/** Takes rows of one dimension, left edge 23.0, by the calls the grid makes. @throws when one is refused */
async function enterRows(page: Page, sheetId: string, rights: readonly string[]): Promise<void> {
  for (const right of rights) {
    const row = { sheetId, rowId: randomUUID(), label: "grain" };
    for (const [edge, typed] of [
      ["left", "23.0"],
      ["right", right],
    ] as const) {
      const cell = { dimension: "length", edge };
      await callFrom(page, "rows.enter", { requestId: randomUUID(), ...row, cell, typed });
    }
  }
}

const edges = (count: number): readonly string[] =>
  Array.from({ length: count }, (_, index) => (51.5 + (index % 20)).toFixed(1));

/**
 * Three calibrations from one micrometer, 300 rows on two sheets converted with them, and ten rows converted with
 * another micrometer before. Invented inputs.
 */
export async function tracedBench(page: Page): Promise<TracedBench> {
  const { sheetId, trainIds, micrometerId, certificateId } = await readyBench(page, { calibrated: false });
  const other = await registerMicrometer(
    page,
    { name: "SM 2", serial: "4712" },
    { number: "C-2", calibratedOn: "2025-06-02" },
  );
  const opened = await callFrom(page, "sheets.get", { sheetId });
  const { sample: _sample, note: _note, methodId, microscopeId, eyepieceId, objectiveId } = opened.sheet;
  const second = await callFrom(page, "sheets.open", {
    requestId: newRequest(),
    sheet: {
      sample: "Sample 8",
      note: "",
      methodId,
      microscopeId,
      eyepieceId,
      intermediateMagnification: opened.sheet.intermediateMagnification,
      objectiveId,
    },
  });
  const others = 10;
  await calibrateAlike(page, trainIds[0] ?? "", other, SETTINGS[0]);
  await enterRows(page, second.id, edges(others));
  for (const [index, trainId] of trainIds.entries()) {
    await calibrateAlike(page, trainId, { micrometerId, certificateId }, SETTINGS[index]);
  }
  await enterRows(page, sheetId, edges(150));
  const objectives = (await callFrom(page, "microscopes.list", {}))[0]?.objectives ?? [];
  for (const objective of objectives.slice(1, 3)) {
    await callFrom(page, "sheets.chooseObjective", {
      requestId: newRequest(),
      sheetId: second.id,
      objectiveId: objective.id,
    });
    await enterRows(page, second.id, edges(75));
  }
  const reviewer = await callFrom(page, "people.register", {
    requestId: newRequest(),
    person: { name: "Bo Example", initials: "BE", interpupillaryMm: "" },
  });
  return { micrometerId, certificateId, sheetIds: [sheetId, second.id], others, reviewer: reviewer.id };
}
