import type { Page } from "@playwright/test";
import { callFrom } from "./bench-window.ts";
import { readyBench } from "./ready-bench.ts";

let requests = 0;
const request = (): string => {
  requests += 1;
  return `traced-bench-${process.pid}-${requests}`;
};

export interface TracedBench {
  readonly micrometerId: string;
  readonly certificateId: string;
  /** Two sheets; the first rows of the second rest on another micrometer. */
  readonly sheetIds: readonly [string, string];
  /** Of the second sheet, the rows that do not rest on the certificate. */
  readonly others: number;
  readonly reviewer: string;
}

/** Divisions read at the reticle for 1000, 250 and 100 µm on the micrometer, 10×, 40× and 100×: 99, 99 and 99.5 div. */
const SETTINGS = [
  { right: "99.0", line: "100" },
  { right: "99.0", line: "25" },
  { right: "99.5", line: "10" },
] as const;

async function calibrate(
  page: Page,
  at: { trainId: string; stageMicrometerId: string; certificateId: string },
  { right, line }: { right: string; line: string },
): Promise<void> {
  const draft = await callFrom(page, "calibrations.begin", { requestId: request(), calibration: at });
  const setting = { reticleLeft: "0.0", reticleRight: right, lineLeft: "0", lineRight: line };
  await callFrom(page, "calibrations.keepDraft", {
    calibrationId: draft.id,
    settings: [setting, setting, setting],
    conditions: draft.conditions,
    estimator: draft.estimator,
    coverage: draft.coverage,
    remark: "",
  });
  await callFrom(page, "calibrations.putInForce", {
    requestId: request(),
    calibrationId: draft.id,
    dueOn: "2099-01-31",
    reason: "regular calibration",
  });
}

/** Takes rows of one dimension, left edge 40, by the calls the grid makes. @throws when one is refused */
async function enterRows(page: Page, sheetId: string, rights: readonly string[]): Promise<void> {
  const refused = await page.evaluate(
    async ([sheet, edges]) => {
      const enter = async (rowId: string, edge: string, typed: string): Promise<string | null> => {
        const response = await fetch("/call/rows.enter", {
          method: "POST",
          headers: { "content-type": "application/json" },
          body: JSON.stringify({
            requestId: crypto.randomUUID(),
            sheetId: sheet,
            rowId,
            cell: { dimension: "length", edge },
            typed,
            label: "grain",
          }),
        });
        const reply = (await response.json()) as { ok: boolean; error?: { message: string } };
        return reply.ok ? null : (reply.error?.message ?? "refused");
      };
      for (const right of edges) {
        const rowId = crypto.randomUUID();
        const trouble = (await enter(rowId, "left", "40")) ?? (await enter(rowId, "right", right));
        if (trouble) return trouble;
      }
      return null;
    },
    [sheetId, rights] as const,
  );
  if (refused) throw new Error(refused);
}

const edges = (count: number): readonly string[] =>
  Array.from({ length: count }, (_, index) => String(60 + (index % 20)));

/**
 * Three calibrations from one micrometer, 300 rows on two sheets converted with them, and ten rows converted with
 * another micrometer before. Invented inputs.
 */
export async function tracedBench(page: Page): Promise<TracedBench> {
  const { sheetId, trainIds, micrometerId } = await readyBench(page, { calibrated: false });
  const [first = "", ...more] = trainIds;
  const [known] = await callFrom(page, "micrometers.list", {});
  const certificateId = known?.certificates[0]?.id ?? "";
  const other = await callFrom(page, "micrometers.register", {
    requestId: request(),
    micrometer: {
      name: "SM 2",
      serial: "4712",
      maker: "",
      scaleLengthMm: "1",
      divisions: "100",
      substrate: "soda-lime glass",
    },
  });
  const certificate = await callFrom(page, "certificates.register", {
    requestId: request(),
    certificate: {
      stageMicrometerId: other.id,
      number: "C-2",
      laboratory: "Invented Length Laboratory",
      accreditation: "",
      calibratedOn: "2025-06-02",
      dueOn: "2099-06-01",
      dueReason: "glass scale, kept clean",
      temperature: "20",
      sign: "error",
      lines: [
        { nominal: "0", value: "0" },
        { nominal: "1000", value: "0" },
      ],
      expandedUncertainty: "0.3",
      coverageFactor: "2",
    },
  });
  const opened = await callFrom(page, "sheets.get", { sheetId });
  const { sample: _sample, note: _note, methodId, microscopeId, eyepieceId, objectiveId } = opened.sheet;
  const second = await callFrom(page, "sheets.open", {
    requestId: request(),
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
  await calibrate(
    page,
    { trainId: first, stageMicrometerId: other.id, certificateId: certificate.id },
    SETTINGS[0],
  );
  await enterRows(page, second.id, edges(others));
  for (const [index, trainId] of [first, ...more].entries()) {
    const setting = SETTINGS[index] ?? SETTINGS[0];
    await calibrate(page, { trainId, stageMicrometerId: micrometerId, certificateId }, setting);
  }
  await enterRows(page, sheetId, edges(150));
  const objectives = (await callFrom(page, "microscopes.list", {}))[0]?.objectives ?? [];
  for (const objective of objectives.slice(1, 3)) {
    await callFrom(page, "sheets.chooseObjective", {
      requestId: request(),
      sheetId: second.id,
      objectiveId: objective.id,
    });
    await enterRows(page, second.id, edges(75));
  }
  const reviewer = await callFrom(page, "people.register", {
    requestId: request(),
    person: { name: "Bo Example", initials: "BE", interpupillaryMm: "" },
  });
  return { micrometerId, certificateId, sheetIds: [sheetId, second.id], others, reviewer: reviewer.id };
}
