import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { BenchOverview, BenchStatus, ChangePoint, FaultLine } from "../records/bench.ts";
import { NewPerson, Person } from "../records/person.ts";
import { PersonStanding, STANDINGS } from "../records/person-standing.ts";
import { Id, Reason, RequestId } from "../records/primitives.ts";
import { WorkProgress } from "../records/work.ts";
import { TAGS } from "../tags.ts";

export const benchCalls = {
  "bench.status": call({
    kind: "read",
    reads: ["present person", "people", "notices"],
    input: Nothing,
    output: BenchStatus,
    errors: [],
  }),
  /**
   * How far opening the bench is, for a window that is there before it; null once it is open. Answered by whoever opens
   * it, before any other call is.
   */
  "bench.opening": call({
    kind: "read",
    reads: [],
    input: Nothing,
    output: WorkProgress.nullable(),
    errors: [],
  }),
  /** Opens the invented demo bench in a window of its own, beside this bench; made at the first time and kept. */
  "bench.openDemo": call({
    kind: "read",
    reads: [],
    input: Nothing,
    output: z.strictObject({}),
    errors: ["demo.unavailable"],
  }),
  /** The newest defects of the program that the bench's log holds, the newest first; names and readings never stand in it. */
  "bench.faults": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ count: z.int().min(1).max(100) }),
    output: z.array(FaultLine),
    errors: [],
  }),
  /**
   * Looks at every page of the bench's file while work goes on; of a large bench the program does it by itself once it is
   * open. Followed and stopped as work under `FILE_CHECK`. One runs at a time: a second call has the answer of the first.
   */
  "bench.checkFile": call({
    kind: "read",
    reads: [],
    changes: ["notices"],
    input: Nothing,
    /** What is wrong, in words; empty: the file is whole. */
    output: z.strictObject({ faults: z.array(z.string()) }),
    errors: ["work.stopped"],
  }),
  "bench.overview": call({
    kind: "read",
    reads: [
      "people",
      "laboratory",
      "microscopes",
      "micrometers",
      "service states",
      "events",
      "checks",
      "calibrations",
      "methods",
      "sheets",
      "rows",
    ],
    input: Nothing,
    output: BenchOverview,
    errors: [],
  }),
  /**
   * Which parts of the bench have changed since an earlier answer, whoever changed them: another window, or a job that
   * went on after its call. `since` null: only where the bench is now.
   */
  "bench.changes": call({
    kind: "read",
    reads: [],
    input: z.strictObject({ since: ChangePoint.nullable() }),
    output: z.strictObject({ now: ChangePoint, changed: z.array(z.enum(TAGS)) }),
    errors: [],
  }),
  "people.list": call({
    kind: "read",
    reads: ["people"],
    input: Nothing,
    output: z.array(Person),
    errors: [],
  }),
  "people.register": call({
    kind: "write",
    changes: ["people", "trail"],
    input: z.strictObject({ requestId: RequestId, person: NewPerson }),
    output: Person,
    errors: ["person.taken"],
  }),
  /** Says who is at the bench from now on; every later act carries this name. */
  "people.choose": call({
    kind: "write",
    changes: ["present person", "trail"],
    input: z.strictObject({ personId: Id }),
    output: Person,
    errors: ["person.unknown", "person.set-aside"],
  }),
  /** The last change of standing of everybody who was ever set aside; all others work here. */
  "people.standings": call({
    kind: "read",
    reads: ["people"],
    input: Nothing,
    output: z.array(PersonStanding),
    errors: [],
  }),
  /** Sets a person aside, or brings one back. */
  "people.setStanding": call({
    kind: "write",
    changes: ["people", "trail"],
    input: z.strictObject({
      requestId: RequestId,
      personId: Id,
      standing: z.enum(STANDINGS),
      reason: Reason,
    }),
    output: PersonStanding,
    errors: ["person.missing", "person.unknown", "person.unchanged", "person.at-bench", "person.last-pin"],
  }),
} as const;
