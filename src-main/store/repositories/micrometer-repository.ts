import { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { all, insert, one, type ReadableDb, type Row, type WritableDb } from "../connection.ts";
import { nameKey } from "../name-key.ts";

const MICROMETER = `id, name, serial, maker, scale_length_um AS "scaleLengthUm", divisions, substrate, expansion,
  expansion_half_width AS "expansionHalfWidth", cover, kept_at AS "keptAt", registered_at AS "registeredAt"`;
const CERTIFICATE = `id, stage_micrometer_id AS "stageMicrometerId", number, laboratory, accreditation,
  calibrated_on AS "calibratedOn", due_on AS "dueOn", due_reason AS "dueReason", temperature, sign,
  expanded_uncertainty AS "expandedUncertainty", coverage_factor AS "coverageFactor",
  uncertainty_per_mm AS "uncertaintyPerMm", degrees_of_freedom AS "degreesOfFreedom",
  registered_at AS "registeredAt"`;

function certificateOf(db: ReadableDb, row: Row): Certificate {
  const lines = all(
    db,
    `SELECT nominal, error, typed_nominal AS "typedNominal", typed_value AS "typedValue",
       expanded_uncertainty AS "expandedUncertainty"
     FROM certificate_line WHERE certificate_id = ? ORDER BY ordinal`,
    String(row.id),
  );
  return Certificate.parse({ ...stated(row), lines: lines.map(stated) });
}

/** Without the columns that hold nothing: what was not stated is left out of the record. */
function stated(row: Row): Row {
  return Object.fromEntries(Object.entries(row).filter(([, value]) => value !== null));
}

function micrometerOf(db: ReadableDb, row: Row): StageMicrometer {
  const certificates = all(
    db,
    `SELECT ${CERTIFICATE} FROM certificate WHERE stage_micrometer_id = ? ORDER BY calibrated_on, rowid`,
    String(row.id),
  ).map((certificate) => certificateOf(db, certificate));
  const { cover, keptAt, ...named } = row;
  return StageMicrometer.parse({
    ...named,
    ...(cover === null ? {} : { cover }),
    ...(keptAt === null ? {} : { keptAt }),
    certificates,
  });
}

export function listMicrometers(db: ReadableDb): StageMicrometer[] {
  return all(db, `SELECT ${MICROMETER} FROM stage_micrometer ORDER BY registered_at, rowid`).map((row) =>
    micrometerOf(db, row),
  );
}

export function findMicrometer(db: ReadableDb, id: string): StageMicrometer | null {
  const row = one(db, `SELECT ${MICROMETER} FROM stage_micrometer WHERE id = ?`, id);
  return row ? micrometerOf(db, row) : null;
}

export function findCertificate(db: ReadableDb, id: string): Certificate | null {
  const row = one(db, `SELECT ${CERTIFICATE} FROM certificate WHERE id = ?`, id);
  return row ? certificateOf(db, row) : null;
}

/** When the certificate falls due, without reading its table. */
export function certificateDueOn(db: ReadableDb, id: string): string | null {
  const row = one(db, "SELECT due_on FROM certificate WHERE id = ?", id);
  return row ? String(row.due_on) : null;
}

/** A micrometer is known by its maker and serial number. */
export function micrometerTaken(db: ReadableDb, maker: string, serial: string): boolean {
  return (
    one(db, "SELECT 1 FROM stage_micrometer WHERE identity_key = ?", nameKey(maker, serial)) !== undefined
  );
}

/** A certificate is known by its laboratory and number. */
export function certificateTaken(
  db: ReadableDb,
  stageMicrometerId: string,
  laboratory: string,
  number: string,
): boolean {
  const sql = "SELECT 1 FROM certificate WHERE stage_micrometer_id = ? AND identity_key = ?";
  return one(db, sql, stageMicrometerId, nameKey(laboratory, number)) !== undefined;
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
