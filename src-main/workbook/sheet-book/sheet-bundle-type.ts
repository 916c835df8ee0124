import type { Attachment } from "#core/contract/records/attachment.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { CheckRecord } from "#core/contract/records/check.ts";
import type { LaboratorySettings } from "#core/contract/records/laboratory.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { OverdueUse } from "#core/contract/records/overdue-use.ts";
import type { Person } from "#core/contract/records/person.ts";
import type { AgreementReport, SecondReading } from "#core/contract/records/second-reading.ts";
import type { Sheet, SpecimenRow } from "#core/contract/records/sheet.ts";
import type {
  DocumentAssessment,
  EarlierResults,
  ReplacedResult,
} from "#core/contract/records/sheet-document.ts";
import type { SheetState, SignOff } from "#core/contract/records/sign-off.ts";
import type { StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import type { TrailLine } from "#core/contract/records/trail.ts";
import type { PrintedHead } from "#core/contract/records/trail-signature.ts";

/** A second reading of a sheet and, once it is closed, what it came to. */
export type BundledSecondReading = Omit<SecondReading, "readCount"> & {
  readonly report: AgreementReport | null;
};

/** A return of an eyepiece that a factor rests on by somebody's word: its day and the sentence for the reader. */
export interface StatedReturn {
  readonly on: string;
  readonly words: string;
}

/** What the bench says beside the records that a file of them holds. */
export interface BenchSide extends PrintedHead {
  /** SHA-256 of rows and results, as closing, review and signature name it. */
  readonly rowsSha256: string;
  readonly state: SheetState;
  readonly laboratory: Pick<LaboratorySettings, "name" | "address">;
  /** Sentences on work without a proof of practice that the laboratory asked for. */
  readonly unproven: readonly string[];
  readonly statedReturns: readonly StatedReturn[];
  /** Oldest first. */
  readonly secondReadings: readonly BundledSecondReading[];
}

/** Everything a workbook of one sheet says, read from one snapshot of the bench. */
export interface SheetBundle {
  readonly sheet: Sheet;
  readonly method: Method;
  readonly people: readonly Person[];
  readonly microscope: Microscope;
  /** The trains that the rows were measured with and the one in use. */
  readonly trains: readonly OpticalTrain[];
  /** The calibrations that rows were converted with. */
  readonly calibrations: readonly CalibrationRecord[];
  /** Assessments of every calibration in the bundle, newest first of each; left out where a file carries none. */
  readonly assessments?: readonly DocumentAssessment[];
  /** Quick checks of every calibration in the bundle, newest first of each; left out where a file carries none. */
  readonly checks?: readonly CheckRecord[];
  /** What was used knowingly past its due date, for the sheet and for its calibrations; left out where a file carries none. */
  readonly overdueUses?: readonly OverdueUse[];
  /** The micrometers of those calibrations, with every certificate of theirs. */
  readonly stageMicrometers: readonly StageMicrometer[];
  /** Rows in ordinal order; may be walked more than once, and a walk holds one row at a time. */
  readonly rows: () => Iterable<SpecimenRow>;
  /** The trail's lines about this sheet and its rows that amend something already entered. */
  readonly amendments: readonly TrailLine[];
  /** A line for each result that a re-evaluation converted, with what it was and became; walked like the rows. */
  readonly reevaluated?: () => Iterable<{ readonly ordinal: number; readonly line: TrailLine }>;
  /** Replaced results of these rows, walked like the rows, and records that the rows themselves do not rest on. */
  readonly earlier: Readonly<Omit<EarlierResults, "results">> & {
    readonly results: () => Iterable<ReplacedResult>;
  };
  /** Pictures on these rows, newest first, also the withdrawn ones; left out where a file carries none. */
  readonly pictures?: readonly Attachment[];
  /** Newest first, also those that fell. */
  readonly signOffs: readonly SignOff[];
  /** null for a bundle that was read from a file. */
  readonly bench: BenchSide | null;
  readonly program: { readonly name: string; readonly version: string };
  /** When the bundle was read, an instant. */
  readonly asOf: string;
}
