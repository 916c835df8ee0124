import type { z } from "zod";
import type { Attachment, AttachmentSubject } from "#core/contract/records/attachment.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { Reevaluation } from "#core/contract/records/reevaluation.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import type { Certificate } from "#core/contract/records/stage-micrometer.ts";
import type { TouchedResult, TraceScope } from "#core/contract/records/trace.ts";
import { buildScene, calibrateTrain, newCertificate, type Scene } from "./bench-scenes.ts";
import type { TempBench } from "./temp-bench.ts";

/** Three calibrations from one micrometer and 300 rows on two sheets, all invented. */
export interface Story {
  readonly scene: Scene;
  /** Of the 10×, earlier and present, and of the 40×. */
  readonly calibrations: readonly [CalibrationRecord, CalibrationRecord, CalibrationRecord];
  readonly sheets: readonly [Sheet, Sheet];
  readonly reviewerId: string;
}

export const PIN = "4 grey geese";

/** Signs on as somebody else and back again when `perform` is done. */
export async function as<T>(bench: TempBench, personId: string, perform: () => Promise<T>): Promise<T> {
  const before = (await bench.call("bench.status", {})).personInUse;
  await bench.call("people.choose", { personId });
  try {
    return await perform();
  } finally {
    if (before) await bench.call("people.choose", { personId: before.id });
  }
}

async function enterRows(bench: TempBench, sheet: Sheet, from: number, to: number): Promise<void> {
  for (let number = from; number <= to; number += 1) {
    for (const [edge, typed] of [
      ["left", `${number % 7}.5`],
      ["right", `${20 + (number % 60)}.${number % 10}`],
    ] as const) {
      await bench.call("rows.enter", {
        requestId: bench.request(),
        sheetId: sheet.id,
        rowId: `${sheet.number}-${number}`,
        cell: { dimension: "length", edge },
        typed,
        label: "",
      });
    }
  }
}

/** Closes, lets the reviewer review, and signs with the reviewer's PIN. */
export async function signSheet(bench: TempBench, story: Story, sheetId: string): Promise<void> {
  const { reviewerId } = story;
  await bench.call("sheets.close", { requestId: bench.request(), sheetId, words: "" });
  await as(bench, reviewerId, () =>
    bench.call("sheets.review", { requestId: bench.request(), sheetId, words: "read through" }),
  );
  await bench.call("sheets.sign", {
    requestId: bench.request(),
    sheetId,
    personId: reviewerId,
    pin: PIN,
    words: "",
  });
}

/**
 * The 10× is calibrated, 100 rows are read on the first sheet, the 10× is calibrated again, 100 more rows follow; the
 * second sheet has 100 rows with the 40×. Both objectives were calibrated from the same certificate.
 */
export async function tellStory(bench: TempBench): Promise<Story> {
  const scene = await buildScene(bench);
  const earlier = await calibrateTrain(bench, scene);
  await enterRows(bench, scene.sheet, 1, 100);
  const present = await calibrateTrain(bench, scene, { right: "96.2" });
  await enterRows(bench, scene.sheet, 101, 200);
  const high = await calibrateTrain(bench, scene, { position: 2, right: "96.6", lineRight: "25" });
  const { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification } = scene.sheet;
  const second = await bench.call("sheets.open", {
    requestId: bench.request(),
    sheet: {
      sample: `${sample}, fine grains`,
      note,
      methodId,
      microscopeId,
      eyepieceId,
      intermediateMagnification,
      objectiveId: scene.microscope.objectives[1]?.id ?? "",
    },
  });
  await enterRows(bench, second, 1, 100);
  const reviewer = await bench.call("people.register", {
    requestId: bench.request(),
    person: { name: "Rey Viewer", initials: "RV", interpupillaryMm: "" },
  });
  await as(bench, reviewer.id, () =>
    bench.call("people.setPin", {
      requestId: bench.request(),
      personId: reviewer.id,
      pin: PIN,
      presentPin: null,
    }),
  );
  return {
    scene,
    calibrations: [earlier, present, high],
    sheets: [scene.sheet, second],
    reviewerId: reviewer.id,
  };
}

/** Registers a certificate with an error of +4 µm at full length in the place of the one of the scene. */
export function correctCertificate(bench: TempBench, scene: Scene): Promise<Certificate> {
  const before = newCertificate(scene.micrometer.id);
  return bench.call("certificates.replace", {
    requestId: bench.request(),
    certificateId: scene.certificate.id,
    certificate: {
      ...before,
      number: "C-1a",
      lines: before.lines.map((line) => (line.nominal === "1000" ? { ...line, value: "4" } : line)),
    },
    reason: "the laboratory corrected a slip in the last line",
  });
}

/** Every result of a scope, sheet by sheet, as the window would page through them. */
export async function allTouched(
  bench: TempBench,
  scope: z.input<typeof TraceScope>,
  sheetIds: readonly string[],
): Promise<TouchedResult[]> {
  const results: TouchedResult[] = [];
  for (const sheetId of sheetIds) {
    let after: number | null = 0;
    while (after !== null) {
      const page: { results: TouchedResult[]; next: number | null } = await bench.call("trace.forwardRows", {
        ...scope,
        sheetId,
        after,
        count: 37,
      });
      results.push(...page.results);
      after = page.next;
    }
  }
  return results;
}

/** Waits until a re-evaluation has ended one way or the other. */
export async function untilDone(bench: TempBench, reevaluationId: string): Promise<Reevaluation> {
  for (;;) {
    const status = await bench.call("reevaluations.status", { reevaluationId });
    if (status.state !== "running") return status;
    await new Promise((resolve) => setImmediate(resolve));
  }
}

/** Re-evaluates every result on the scene's certificate with the corrected one, and waits until that has ended. */
export async function reevaluateWith(
  bench: TempBench,
  scene: Scene,
  corrected: Certificate,
): Promise<Reevaluation> {
  const { id } = await bench.call("reevaluations.begin", {
    requestId: bench.request(),
    reevaluation: {
      subject: { kind: "certificate", id: scene.certificate.id },
      from: null,
      to: null,
      sheetIds: null,
      replacement: { kind: "certificate", certificateId: corrected.id },
      reason: "the certificate was corrected",
    },
  });
  return untilDone(bench, id);
}

/** The smallest PNG there is: one grey dot. */
export const PNG = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR42mNgAAAAAgABc3UBGAAAAABJRU5ErkJggg==",
  "base64",
);

/** Attaches a file in parts, as a window does. */
export async function attach(
  bench: TempBench,
  subject: AttachmentSubject,
  content: Buffer,
  fileName = "scan.png",
): Promise<Attachment> {
  const { uploadId, partBytes } = await bench.call("attachments.begin", {
    attachment: { subject, fileName, bytes: content.length, caption: "" },
  });
  for (let index = 0; index * partBytes < content.length; index += 1) {
    const part = content.subarray(index * partBytes, (index + 1) * partBytes);
    await bench.call("attachments.part", { uploadId, index, base64: part.toString("base64") });
  }
  return bench.call("attachments.finish", { requestId: bench.request(), uploadId });
}
