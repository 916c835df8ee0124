import type { Attachment } from "#core/contract/records/attachment.ts";
import type { CalibrationRecord } from "#core/contract/records/calibration.ts";
import type { Count, CountEvent, CountField } from "#core/contract/records/count.ts";
import type { CountMethod } from "#core/contract/records/count-method.ts";
import type { CountResults } from "#core/contract/records/count-results.ts";
import type { Microscope, OpticalTrain } from "#core/contract/records/microscope.ts";
import type { Person } from "#core/contract/records/person.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import type { TrailLine } from "#core/contract/records/trail.ts";
import type { PrintedHead } from "#core/contract/records/trail-signature.ts";

/** Everything a workbook of one count says, read from one snapshot of the bench. */
export interface CountBundle extends PrintedHead {
  readonly count: Count;
  readonly method: CountMethod;
  /** Frozen when the count is closed, else of the moment of the snapshot. */
  readonly results: CountResults;
  readonly fields: readonly CountField[];
  /** Pictures on these fields, newest first, also the withdrawn ones. */
  readonly pictures: readonly Attachment[];
  /** Events in order; may be walked more than once, and a walk holds one page at a time. */
  readonly events: () => Iterable<CountEvent>;
  readonly people: readonly Person[];
  /** Parts the factor belongs to and what it rests on; null where none enters. */
  readonly microscope: Microscope | null;
  readonly train: OpticalTrain | null;
  readonly calibration: CalibrationRecord | null;
  readonly stageMicrometer: StageMicrometer | null;
  readonly certificate: Certificate | null;
  /** Sentences on work without a proof of practice that the laboratory asked for. */
  readonly unproven: readonly string[];
  /** Sentences on what was used knowingly past its due date: who and why. */
  readonly overdue: readonly string[];
  /** Sentences on a factor that rests on somebody's word that a lent eyepiece came back unchanged. */
  readonly statedReturns: readonly string[];
  /** The trail's lines about this count. */
  readonly trail: readonly TrailLine[];
  readonly program: { readonly name: string; readonly version: string };
  /** When the bundle was read, an instant. */
  readonly asOf: string;
}
