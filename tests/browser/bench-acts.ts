import type { Page } from "@playwright/test";
import type { CallInput, CallOutput } from "#core/contract/calls.ts";
import { callFrom } from "./bench-window.ts";

let requests = 0;

/** An id that no other write of this test process has. */
export function newRequest(): string {
  requests += 1;
  return `browser-test-${process.pid}-${requests}`;
}

/** A perfect 1 mm scale in 100 divisions with its certificate. Invented. */
export async function registerMicrometer(
  page: Page,
  { name, serial }: { readonly name: string; readonly serial: string },
  { number, calibratedOn }: { readonly number: string; readonly calibratedOn: string },
): Promise<{ micrometerId: string; certificateId: string }> {
  const micrometer = await callFrom(page, "micrometers.register", {
    requestId: newRequest(),
    micrometer: {
      name,
      serial,
      maker: "",
      scaleLengthMm: "1",
      divisions: "100",
      substrate: "soda-lime glass",
    },
  });
  const certificate = await callFrom(page, "certificates.register", {
    requestId: newRequest(),
    certificate: {
      stageMicrometerId: micrometer.id,
      number,
      laboratory: "Invented Length Laboratory",
      accreditation: "",
      calibratedOn,
      dueOn: "2099-06-01",
      dueReason: "glass scale, kept clean",
      temperature: "20",
      sign: "error",
      lines: [
        { nominal: "0", value: "0" },
        { nominal: "500", value: "0" },
        { nominal: "1000", value: "0" },
      ],
      expandedUncertainty: "0.3",
      coverageFactor: "2",
    },
  });
  return { micrometerId: micrometer.id, certificateId: certificate.id };
}

export type TypedSetting = CallInput<"calibrations.keepDraft">["settings"][number];

/** Begins, types and puts in force a calibration. */
export async function calibrate(
  page: Page,
  at: CallInput<"calibrations.begin">["calibration"],
  settings: readonly TypedSetting[],
  reason: string,
): Promise<CallOutput<"calibrations.putInForce">> {
  const draft = await callFrom(page, "calibrations.begin", { requestId: newRequest(), calibration: at });
  await callFrom(page, "calibrations.keepDraft", {
    calibrationId: draft.id,
    settings: [...settings],
    conditions: draft.conditions,
    estimator: draft.estimator,
    coverage: draft.coverage,
    remark: "",
  });
  return callFrom(page, "calibrations.putInForce", {
    requestId: newRequest(),
    calibrationId: draft.id,
    dueOn: "2099-01-31",
    reason,
  });
}
