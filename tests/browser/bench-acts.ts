import type { Page } from "@playwright/test";
import type { CallInput, CallOutput } from "#core/contract/calls.ts";
import { callFrom } from "./bench-window.ts";

let requests = 0;

/** An id that no other write of this test process has. */
export function newRequest(): string {
  requests += 1;
  return `browser-test-${process.pid}-${requests}`;
}

type TypedCertificate = CallInput<"certificates.register">["certificate"];

type CertificateHeading = Pick<TypedCertificate, "number" | "calibratedOn"> & { readonly dueOn?: string };

/** A certificate of a 1 mm scale, with its errors in µm at nominal positions in µm. Invented. */
function certificateOf(
  stageMicrometerId: string,
  { number, calibratedOn, dueOn = "2099-06-01" }: CertificateHeading,
  lines: TypedCertificate["lines"],
): TypedCertificate {
  return {
    stageMicrometerId,
    number,
    laboratory: "Invented Length Laboratory",
    accreditation: "",
    calibratedOn,
    dueOn,
    dueReason: "glass scale, kept clean",
    temperature: "20",
    sign: "error",
    lines,
    expandedUncertainty: "0.3",
    coverageFactor: "2",
  };
}

/** A perfect 1 mm scale in 100 divisions with its certificate. Invented. */
export async function registerMicrometer(
  page: Page,
  { name, serial }: { readonly name: string; readonly serial: string },
  heading: CertificateHeading,
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
    certificate: certificateOf(micrometer.id, heading, [
      { nominal: "0", value: "0" },
      { nominal: "500", value: "0" },
      { nominal: "1000", value: "0" },
    ]),
  });
  return { micrometerId: micrometer.id, certificateId: certificate.id };
}

/** A corrected certificate, with these errors, takes the place of another. */
export function replaceCertificate(
  page: Page,
  { micrometerId, certificateId }: { readonly micrometerId: string; readonly certificateId: string },
  lines: TypedCertificate["lines"],
): Promise<CallOutput<"certificates.replace">> {
  const heading = { number: "C-1 corrected", calibratedOn: "2025-06-20" };
  return callFrom(page, "certificates.replace", {
    requestId: newRequest(),
    certificateId,
    reason: "the laboratory corrected a slip",
    certificate: certificateOf(micrometerId, heading, lines),
  });
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
