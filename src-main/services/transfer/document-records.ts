import { isDeepStrictEqual } from "node:util";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { CheckRecord } from "#core/contract/records/check.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { OverdueUse } from "#core/contract/records/overdue-use.ts";
import type { Person } from "#core/contract/records/person.ts";
import type { DocumentCounts } from "#core/contract/records/read-in.ts";
import type {
  DocumentAssessment,
  DocumentSheet,
  SheetDocument,
} from "#core/contract/records/sheet-document.ts";
import type { StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import { UnfitDocument } from "../../exchange/read-document.ts";

/** Everything the sheets of a document share, each record once, in the order in which the sheets name them. */
export interface DocumentRecords {
  readonly people: ReadonlyMap<string, Person>;
  readonly microscopes: ReadonlyMap<string, Microscope>;
  readonly methods: ReadonlyMap<string, Method>;
  readonly stageMicrometers: ReadonlyMap<string, StageMicrometer>;
  readonly trains: ReadonlyMap<string, OpticalTrain>;
  readonly calibrations: ReadonlyMap<string, CalibrationRecord>;
  /** By calibration, newest first. */
  readonly assessments: ReadonlyMap<string, readonly DocumentAssessment[]>;
  readonly checks: ReadonlyMap<string, CheckRecord>;
  readonly overdueUses: ReadonlyMap<string, OverdueUse>;
  readonly sheets: readonly DocumentSheet[];
}

type Identified = { readonly id: string };

/** @throws UnfitDocument where two sheets say different things of one record */
function collect<T extends Identified>(
  document: SheetDocument,
  lists: (sheet: DocumentSheet) => Readonly<Record<string, readonly T[]>>,
): Map<string, T> {
  const found = new Map<string, T>();
  document.sheets.forEach((sheet, at) => {
    for (const [name, list] of Object.entries(lists(sheet))) {
      for (const record of list) {
        const before = found.get(record.id);
        if (before === undefined) found.set(record.id, record);
        else if (!isDeepStrictEqual(before, record)) {
          throw new UnfitDocument(
            `sheets[${at}].${name}`,
            `has another record ${record.id} than it is elsewhere in the file`,
          );
        }
      }
    }
  });
  return found;
}

/** @throws UnfitDocument where two sheets say different things of the verdicts on one calibration */
function collectAssessments(document: SheetDocument): Map<string, readonly DocumentAssessment[]> {
  const found = new Map<string, readonly DocumentAssessment[]>();
  document.sheets.forEach(({ assessments, calibrations, earlier }, at) => {
    const here = Map.groupBy(assessments, ({ calibrationId }) => calibrationId);
    for (const id of new Set([
      ...[...calibrations, ...earlier.calibrations].map((one) => one.id),
      ...here.keys(),
    ])) {
      const kept = here.get(id) ?? [];
      const before = found.get(id);
      if (before === undefined) found.set(id, kept);
      else if (!isDeepStrictEqual(before, kept)) {
        const reason = `says another thing of calibration ${id} than it does elsewhere in the file`;
        throw new UnfitDocument(`sheets[${at}].assessments`, reason);
      }
    }
  });
  return found;
}

/** @throws UnfitDocument where two sheets say different things of one record */
export function recordsOf(document: SheetDocument): DocumentRecords {
  return {
    people: collect(document, ({ people }) => ({ people })),
    microscopes: collect(document, ({ microscope }) => ({ microscope: [microscope] })),
    methods: collect(document, ({ method }) => ({ method: [method] })),
    stageMicrometers: collect(document, ({ stageMicrometers, earlier }) => ({
      stageMicrometers,
      "earlier.stageMicrometers": earlier.stageMicrometers,
    })),
    trains: collect(document, ({ trains, earlier }) => ({ trains, "earlier.trains": earlier.trains })),
    calibrations: collect(document, ({ calibrations, earlier }) => ({
      calibrations,
      "earlier.calibrations": earlier.calibrations,
    })),
    assessments: collectAssessments(document),
    checks: collect(document, ({ checks }) => ({ checks })),
    overdueUses: collect(document, ({ overdueUses }) => ({ overdueUses })),
    sheets: document.sheets,
  };
}

function total(sheets: readonly DocumentSheet[], count: (sheet: DocumentSheet) => number): number {
  return sheets.reduce((sum, sheet) => sum + count(sheet), 0);
}

export function countsOf(records: DocumentRecords): DocumentCounts {
  const { people, microscopes, stageMicrometers, methods, calibrations, sheets } = records;
  return {
    people: people.size,
    microscopes: microscopes.size,
    stageMicrometers: stageMicrometers.size,
    certificates: [...stageMicrometers.values()].reduce((sum, one) => sum + one.certificates.length, 0),
    methods: methods.size,
    calibrations: calibrations.size,
    rows: total(sheets, (one) => one.rows.length),
    amendments: total(sheets, (one) => one.amendments.length),
    supersededResults: total(sheets, (one) => one.earlier.results.length),
    signOffs: total(sheets, (one) => one.signOffs.length),
    assessments: [...records.assessments.values()].flat().length,
    checks: records.checks.size,
    pictures: total(sheets, (one) => one.pictures.length),
  };
}
