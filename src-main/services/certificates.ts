import type { z } from "zod";
import { linesFromTable } from "#core/calibration/certificate-table.ts";
import type {
  Certificate,
  CertificateLine,
  NewCertificate,
  StageMicrometer,
} from "#core/contract/records/stage-micrometer.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { readDecimal, textOfDecimal } from "#core/quantity/decimal-text.ts";
import { InputError } from "#core/quantity/input-error.ts";
import type { HandlersOf } from "../dispatch/handlers.ts";
import { Refusal } from "../dispatch/refusals.ts";
import { certificateTaken, findCertificate, insertCertificate } from "../store/micrometer-repository.ts";
import { actOnce } from "./act.ts";
import type { Deps } from "./deps.ts";
import { requireMicrometer } from "./micrometers.ts";
import { readBetween, readPositive, under } from "./typed-input.ts";

type Typed = z.output<typeof NewCertificate>;

const LARGEST_U_UM = 1000;
const LARGEST_K = 20;

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
  const lines = under("certificate", () => linesFromTable(typed.sign, rows));
  return lines.map((line, i) => ({
    nominal: textOfDecimal(line.nominal),
    error: textOfDecimal(line.error),
    typedNominal: typed.lines[i]?.nominal ?? "",
    typedValue: typed.lines[i]?.value ?? "",
  }));
}

function requireDates(typed: Typed, today: string): void {
  if (typed.calibratedOn > today) throw new InputError("certificate.calibratedOn", "lies in the future");
  if (typed.dueOn <= typed.calibratedOn) {
    throw new InputError("certificate.dueOn", "must be later than the date of the calibration");
  }
}

export function certificateServices(deps: Deps): HandlersOf<"certificates.register"> {
  return {
    "certificates.register": (input) =>
      actOnce(
        deps,
        "certificates.register",
        input,
        ({ db, at, note }) => {
          const typed = input.certificate;
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
          const certificate: Certificate = {
            id: deps.ids.next(),
            stageMicrometerId: micrometer.id,
            number: typed.number,
            laboratory: typed.laboratory,
            accreditation: typed.accreditation,
            calibratedOn: typed.calibratedOn,
            dueOn: typed.dueOn,
            dueReason: typed.dueReason,
            temperature: readBetween("certificate.temperature", typed.temperature, -50, 100),
            sign: typed.sign,
            lines: readLines(micrometer, typed),
            expandedUncertainty: readPositive(
              "certificate.expandedUncertainty",
              typed.expandedUncertainty,
              LARGEST_U_UM,
            ),
            coverageFactor: readPositive("certificate.coverageFactor", typed.coverageFactor, LARGEST_K),
            registeredAt: at,
          };
          insertCertificate(db, certificate);
          note({ subject: "certificate", subjectId: certificate.id, detail: certificate });
          return certificate;
        },
        findCertificate,
      ),
  };
}
