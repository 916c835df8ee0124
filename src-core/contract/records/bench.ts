import { z } from "zod";
import { CalibrationRecord } from "./calibration.ts";
import { Microscope, OpticalTrain } from "./microscope.ts";
import { Person } from "./person.ts";
import { Id, Instant } from "./primitives.ts";

/** What the program is and which bench it has open. */
export const BenchStatus = z.strictObject({
  program: z.strictObject({ name: z.string(), version: z.string(), host: z.enum(["electron", "loopback"]) }),
  databasePath: z.string(),
  /** True for the invented demo bench. */
  demo: z.boolean(),
  /** Whether the demo bench can be opened from here (`bench.openDemo`). */
  offersDemo: z.boolean(),
  /** Whether the host can open the folder of a file (`exports.showInFolder`). */
  showsFolders: z.boolean(),
  personInUse: Person.nullable(),
  /** Things that happened while opening and that a person should know, e.g. “backed up before …”. */
  notices: z.array(z.string()),
});
export type BenchStatus = z.infer<typeof BenchStatus>;

/** A defect of the program as its log keeps it. */
export const FaultLine = z.strictObject({
  /** As a person quotes it: `F-0012`. */
  number: z.string(),
  at: Instant,
  /** The call it happened in. */
  where: z.string(),
  message: z.string(),
  stack: z.string(),
});
export type FaultLine = z.infer<typeof FaultLine>;

/** A point in what has happened to a bench since the program opened it. */
export const ChangePoint = z.strictObject({
  /** Another one after every start of the program. */
  run: Id,
  count: z.int().min(0),
});
export type ChangePoint = z.infer<typeof ChangePoint>;

export const TrainStatus = z.strictObject({
  train: OpticalTrain,
  inForce: CalibrationRecord.nullable(),
  /** `ready`, or what stands in the way, in order of weight. */
  state: z.enum([
    "ready",
    "due soon",
    "not confirmed",
    "calibration overdue",
    "certificate overdue",
    "check before use",
    "out of service",
    "not calibrated",
  ]),
  /** One line for a person: why this state, and until when. */
  why: z.string(),
  /** Set when `check before use` is asked for because a corrected certificate took the place of the one its factor rests on. */
  replacedCertificateId: Id.nullable(),
});
export type TrainStatus = z.infer<typeof TrainStatus>;

export const BenchOverview = z.strictObject({
  microscopes: z.array(z.strictObject({ microscope: Microscope, trains: z.array(TrainStatus) })),
  counts: z.strictObject({
    people: z.int(),
    stageMicrometers: z.int(),
    certificates: z.int(),
    methods: z.int(),
    sheets: z.int(),
    rows: z.int(),
  }),
  asOf: Instant,
});
export type BenchOverview = z.infer<typeof BenchOverview>;
