import type { z } from "zod";
import { linesFromTable } from "#core/calibration/certificate-table.ts";
import type {
  Certificate,
  CertificateLine,
  NewCertificate,
  StageMicrometer,
} from "#core/contract/records/stage-micrometer.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { type DecimalText, readDecimal, textOfDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  certificateTaken,
  findCertificate,
  insertCertificate,
} from "../../store/repositories/micrometer-repository.ts";
import { insertReplacement, replacementOf } from "../../store/repositories/service-state-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnce, type WriteContext } from "../write-context/in-transaction.ts";
import { withFieldPrefix } from "../write-context/typed-input.ts";
import { requireCertificate, requireMicrometer } from "./micrometers.ts";

type Typed = z.output<typeof NewCertificate>;

function readLines(micrometer: StageMicrometer, typed: Typed): CertificateLine[] {
  const rows = typed.lines.map((line, i) => ({
    nominal: readDecimal(`certificate.lines.${i}.nominal`, line.nominal).value,
    value: readDecimal(`certificate.lines.${i}.value`, line.value).value,
  }));
  const length = decimal(micrometer.scaleLengthUm);
  rows.forEach((row, i) => {
    if (row.nominal.lessThan(0) || row.nominal.greaterThan(length)) {
      throw new InputError(
        `certificate.lines.${i}.nominal`,
        `lies outside the scale of this micrometer, 0 to ${length.toFixed()} µm`,
      );
    }
  });
  const lines = withFieldPrefix("certificate", () => linesFromTable(typed.sign, rows));
  return lines.map((line, i) => ({
    nominal: textOfDecimal(line.nominal),
    error: textOfDecimal(line.error),
    typedNominal: typed.lines[i]?.nominal ?? "",
    typedValue: typed.lines[i]?.value ?? "",
    ...lineUncertainty(typed, i),
  }));
}

/** U of one line where the certificate states it for each; the first line may be the one the others count from. */
function lineUncertainty(typed: Typed, i: number): Pick<CertificateLine, "expandedUncertainty"> {
  const stated = typed.lines[i]?.expandedUncertainty;
  if (stated === undefined || (i === 0 && stated === null)) return {};
  return { expandedUncertainty: requireTyped(`certificate.lines.${i}.expandedUncertainty`, stated) };
}

type StatedUncertainty = Pick<
  Certificate,
  "expandedUncertainty" | "coverageFactor" | "uncertaintyPerMm" | "degreesOfFreedom"
>;

function requireTyped(field: string, number: DecimalText | null): DecimalText {
  if (number === null) throw new InputError(field, "is empty: type a number");
  return number;
}

/** U as the certificate states it: of every interval, growing with the length, or of each line. */
function readUncertainty(typed: Typed, lines: readonly CertificateLine[]): StatedUncertainty {
  const ofLines = lines.flatMap((line) => line.expandedUncertainty ?? []);
  const [largest] = ofLines.toSorted((a, b) => decimal(b).comparedTo(a));
  const { coverageFactor, uncertaintyPerMm, degreesOfFreedom } = typed;
  return {
    expandedUncertainty:
      largest ?? requireTyped("certificate.expandedUncertainty", typed.expandedUncertainty),
    coverageFactor,
    ...(largest === undefined && uncertaintyPerMm ? { uncertaintyPerMm } : {}),
    ...(degreesOfFreedom ? { degreesOfFreedom } : {}),
  };
}

function requireDates(typed: Typed, today: string): void {
  if (typed.calibratedOn > today) throw new InputError("certificate.calibratedOn", "lies in the future");
  if (typed.dueOn <= typed.calibratedOn) {
    throw new InputError("certificate.dueOn", "must be later than the date of the calibration");
  }
}

interface Registration {
  readonly typed: Typed;
  /** Told to the trail beside the certificate itself. */
  readonly reason?: string;
}

/** Reads, checks and inserts a certificate within the transaction of `ctx`. */
function register(deps: Deps, { db, at, audit }: WriteContext, { typed, reason }: Registration): Certificate {
  const micrometer = requireMicrometer(db, typed.stageMicrometerId, "certificate.stageMicrometerId");
  if (certificateTaken(db, micrometer.id, typed.laboratory, typed.number)) {
    throw new Refusal(
      "certificate.taken",
      `Certificate ${typed.number} of ${typed.laboratory} is registered for ${micrometer.name} already.`,
      {
        field: "certificate.number",
        hint: "A registered certificate is not changed: register a corrected one under its own number.",
      },
    );
  }
  requireDates(typed, deps.clock.today());
  const lines = readLines(micrometer, typed);
  const certificate: Certificate = {
    id: deps.ids.next(),
    stageMicrometerId: micrometer.id,
    number: typed.number,
    laboratory: typed.laboratory,
    accreditation: typed.accreditation,
    calibratedOn: typed.calibratedOn,
    dueOn: typed.dueOn,
    dueReason: typed.dueReason,
    temperature: typed.temperature,
    sign: typed.sign,
    lines,
    ...readUncertainty(typed, lines),
    registeredAt: at,
  };
  insertCertificate(db, certificate);
  audit({
    act: "certificates.register",
    subject: "certificate",
    subjectId: certificate.id,
    detail: certificate,
    ...(reason === undefined ? {} : { reason }),
  });
  return certificate;
}

/** @throws Refusal `certificate.replaced` for a certificate that a corrected one has taken the place of */
export function requireNotReplaced(db: ReadableDb, certificateId: string, field: string): void {
  const replaced = replacementOf(db, certificateId);
  if (!replaced) return;
  const by = findCertificate(db, replaced.replacedBy);
  throw new Refusal(
    "certificate.replaced",
    `That certificate was replaced by certificate ${by?.number ?? ""} on ${replaced.at.slice(0, 10)}: ${replaced.reason}`,
    { field, hint: "Use the corrected certificate." },
  );
}

export function certificateServices(deps: Deps) {
  return handlers({
    "certificates.register": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => register(deps, ctx, { typed: input.certificate }),
        findCertificate,
      ),

    "certificates.replace": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => {
          const { db, at, by, audit } = ctx;
          const { certificateId, certificate: typed, reason } = input;
          const micrometer = requireMicrometer(db, typed.stageMicrometerId, "certificate.stageMicrometerId");
          requireCertificate(micrometer, certificateId, "certificateId");
          requireNotReplaced(db, certificateId, "certificateId");
          const corrected = register(deps, ctx, { typed, reason });
          insertReplacement(db, { certificateId, replacedBy: corrected.id, reason, at, by: by.id });
          audit({
            act: "certificates.replace",
            subject: "certificate",
            subjectId: certificateId,
            reason,
            detail: { replacedBy: corrected.id, number: corrected.number },
          });
          return corrected;
        },
        findCertificate,
      ),
  });
}
