import { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import type { ReadableDb, Row, WritableDb } from "../connection.ts";
import { nameKey } from "../name-key.ts";
import { firstText, insert, sql } from "../sql.ts";

const MICROMETER = sql`id, name, serial, maker, scale_length_um AS "scaleLengthUm", divisions, substrate,
  expansion,
  expansion_half_width AS "expansionHalfWidth", cover, kept_at AS "keptAt", registered_at AS "registeredAt"`;
const CERTIFICATE = sql`id, stage_micrometer_id AS "stageMicrometerId", number, laboratory, accreditation,
  calibrated_on AS "calibratedOn", due_on AS "dueOn", due_reason AS "dueReason", temperature, sign,
  expanded_uncertainty AS "expandedUncertainty", coverage_factor AS "coverageFactor",
  uncertainty_per_mm AS "uncertaintyPerMm", degrees_of_freedom AS "degreesOfFreedom",
  registered_at AS "registeredAt"`;

function certificateOf(db: ReadableDb, row: Row): Certificate {
  const lines = sql`SELECT nominal, error, typed_nominal AS "typedNominal", typed_value AS "typedValue",
      expanded_uncertainty AS "expandedUncertainty"
    FROM certificate_line WHERE certificate_id = ${String(row.id)} ORDER BY ordinal`.all(db);
  return Certificate.parse({ ...stated(row), lines: lines.map(stated) });
}

/** Without the columns that hold nothing: what was not stated is left out of the record. */
function stated(row: Row): Row {
  return Object.fromEntries(Object.entries(row).filter(([, value]) => value !== null));
}

function micrometerOf(db: ReadableDb, row: Row): StageMicrometer {
  const certificates = sql`SELECT ${CERTIFICATE} FROM certificate
    WHERE stage_micrometer_id = ${String(row.id)} ORDER BY calibrated_on, rowid`.all(db, (certificate) =>
    certificateOf(db, certificate),
  );
  const { cover, keptAt, ...named } = row;
  return StageMicrometer.parse({
    ...named,
    ...(cover === null ? {} : { cover }),
    ...(keptAt === null ? {} : { keptAt }),
    certificates,
  });
}

export function listMicrometers(db: ReadableDb): StageMicrometer[] {
  return sql`SELECT ${MICROMETER} FROM stage_micrometer ORDER BY registered_at, rowid`
    .all(db)
    .map((row) => micrometerOf(db, row));
}

export function findMicrometer(db: ReadableDb, id: string): StageMicrometer | null {
  return sql`SELECT ${MICROMETER} FROM stage_micrometer WHERE id = ${id}`.one(db, (row) =>
    micrometerOf(db, row),
  );
}

export function findCertificate(db: ReadableDb, id: string): Certificate | null {
  return sql`SELECT ${CERTIFICATE} FROM certificate WHERE id = ${id}`.one(db, (row) =>
    certificateOf(db, row),
  );
}

/** When the certificate falls due, without reading its table. */
export function certificateDueOn(db: ReadableDb, id: string): string | null {
  return sql`SELECT due_on FROM certificate WHERE id = ${id}`.one(db, firstText);
}

/** A micrometer is known by its maker and serial number. */
export function micrometerTaken(db: ReadableDb, maker: string, serial: string): boolean {
  return sql`SELECT 1 FROM stage_micrometer WHERE identity_key = ${nameKey(maker, serial)}`.exists(db);
}

/** A certificate is known by its laboratory and number. */
export function certificateTaken(
  db: ReadableDb,
  stageMicrometerId: string,
  laboratory: string,
  number: string,
): boolean {
  const key = nameKey(laboratory, number);
  return sql`SELECT 1 FROM certificate
    WHERE stage_micrometer_id = ${stageMicrometerId} AND identity_key = ${key}`.exists(db);
}

export function insertMicrometer(db: WritableDb, micrometer: StageMicrometer): void {
  insert(db, "stage_micrometer", {
    id: micrometer.id,
    name: micrometer.name,
    serial: micrometer.serial,
    identity_key: nameKey(micrometer.maker, micrometer.serial),
    maker: micrometer.maker,
    scale_length_um: micrometer.scaleLengthUm,
    divisions: micrometer.divisions,
    substrate: micrometer.substrate,
    expansion: micrometer.expansion,
    expansion_half_width: micrometer.expansionHalfWidth,
    cover: micrometer.cover ?? null,
    kept_at: micrometer.keptAt ?? null,
    registered_at: micrometer.registeredAt,
  });
}

export function insertCertificate(db: WritableDb, certificate: Certificate): void {
  insert(db, "certificate", {
    id: certificate.id,
    stage_micrometer_id: certificate.stageMicrometerId,
    number: certificate.number,
    identity_key: nameKey(certificate.laboratory, certificate.number),
    laboratory: certificate.laboratory,
    accreditation: certificate.accreditation,
    calibrated_on: certificate.calibratedOn,
    due_on: certificate.dueOn,
    due_reason: certificate.dueReason,
    temperature: certificate.temperature,
    sign: certificate.sign,
    expanded_uncertainty: certificate.expandedUncertainty,
    coverage_factor: certificate.coverageFactor,
    uncertainty_per_mm: certificate.uncertaintyPerMm ?? null,
    degrees_of_freedom: certificate.degreesOfFreedom ?? null,
    registered_at: certificate.registeredAt,
  });
  certificate.lines.forEach((line, index) => {
    insert(db, "certificate_line", {
      certificate_id: certificate.id,
      ordinal: index + 1,
      nominal: line.nominal,
      error: line.error,
      typed_nominal: line.typedNominal,
      typed_value: line.typedValue,
      expanded_uncertainty: line.expandedUncertainty ?? null,
    });
  });
}
