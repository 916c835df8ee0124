import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import {
  findMicrometer,
  insertMicrometer,
  listMicrometers,
  micrometerTaken,
} from "../../store/repositories/micrometer-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnce } from "../write-context/in-transaction.ts";
import { scaled } from "../write-context/typed-input.ts";
import { SUBSTRATE_EXPANSION } from "./substrate-expansion.ts";

const UM_PER_MM = 1000;

/** @throws Refusal `micrometer.unknown` */
export function requireMicrometer(db: ReadableDb, id: string, field: string): StageMicrometer {
  const micrometer = findMicrometer(db, id);
  if (micrometer) return micrometer;
  throw new Refusal("micrometer.unknown", "That stage micrometer is not registered on this bench.", {
    field,
    hint: "Register the stage micrometer first.",
  });
}

/** @throws Refusal `certificate.unknown` also for a certificate of another micrometer */
export function requireCertificate(micrometer: StageMicrometer, id: string, field: string): Certificate {
  const certificate = micrometer.certificates.find((one) => one.id === id);
  if (certificate) return certificate;
  throw new Refusal(
    "certificate.unknown",
    `That certificate is not one of the stage micrometer ${micrometer.name}.`,
    { field, hint: "Register the certificate, or choose one of this micrometer." },
  );
}

export function micrometerServices(deps: Deps) {
  return handlers({
    "micrometers.list": () => listMicrometers(deps.db),

    "micrometers.register": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        ({ db, at, audit }) => {
          const { name, serial, maker, scaleLengthMm, divisions, substrate, cover, keptAt } =
            input.micrometer;
          if (micrometerTaken(db, maker, serial)) {
            throw new Refusal(
              "micrometer.taken",
              `A stage micrometer with the serial number ${serial}${maker ? ` of ${maker}` : ""} is registered already.`,
              { field: "micrometer.serial", hint: "Add the new certificate to the one that is registered." },
            );
          }
          const { expansion, halfWidth } = SUBSTRATE_EXPANSION[substrate];
          const micrometer: StageMicrometer = {
            id: deps.ids.next(),
            name,
            serial,
            maker,
            scaleLengthUm: scaled(scaleLengthMm, UM_PER_MM),
            divisions,
            substrate,
            expansion,
            expansionHalfWidth: halfWidth,
            ...(cover ? { cover } : {}),
            ...(keptAt ? { keptAt } : {}),
            certificates: [],
            registeredAt: at,
          };
          insertMicrometer(db, micrometer);
          audit({
            act: "micrometers.register",
            subject: "stage_micrometer",
            subjectId: micrometer.id,
            detail: micrometer,
          });
          return micrometer;
        },
        findMicrometer,
      ),
  });
}
