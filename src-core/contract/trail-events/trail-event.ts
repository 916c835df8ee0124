import type { z } from "zod";
import { CALIBRATION_DETAILS } from "./calibrations.ts";
import { COUNT_DETAILS } from "./counts.ts";
import { EQUIPMENT_DETAILS } from "./equipment.ts";
import { METHOD_DETAILS } from "./methods.ts";
import { OVERDUE_DETAILS } from "./overdue.ts";
import { PEOPLE_DETAILS } from "./people.ts";
import { PRACTICE_DETAILS } from "./practice.ts";
import { RECORD_DETAILS } from "./records.ts";
import { SHEET_DETAILS } from "./sheets.ts";
import { TRACING_DETAILS } from "./tracing.ts";

/**
 * Every act that the trail tells of: about which subjects, and what its detail says of each. Keys of details are the
 * stored ones, which never change: benches are hashed over them.
 */
export const TRAIL_DETAILS = {
  ...PEOPLE_DETAILS,
  ...EQUIPMENT_DETAILS,
  ...METHOD_DETAILS,
  ...CALIBRATION_DETAILS,
  ...OVERDUE_DETAILS,
  ...SHEET_DETAILS,
  ...COUNT_DETAILS,
  ...PRACTICE_DETAILS,
  ...TRACING_DETAILS,
  ...RECORD_DETAILS,
} as const;

type Details = typeof TRAIL_DETAILS;
export type Act = keyof Details;
export type SubjectOf<A extends Act> = keyof Details[A] & string;

/** What an act tells of a subject. */
export type DetailOf<A extends Act, S extends SubjectOf<A> = SubjectOf<A>> = Details[A][S] extends z.ZodType
  ? z.output<Details[A][S]>
  : never;

type EventOf<A extends Act> = {
  readonly [S in SubjectOf<A>]: {
    readonly act: A;
    readonly subject: S;
    readonly subjectId: string;
    readonly reason?: string | null;
    readonly detail: DetailOf<A, S>;
  };
}[SubjectOf<A>];

/** One thing that was done, as a writer tells the trail of it. */
export type TrailEvent<A extends Act = Act> = { readonly [One in A]: EventOf<One> }[A];
