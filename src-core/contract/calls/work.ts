import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { RequestId } from "../records/primitives.ts";
import { WorkProgress } from "../records/work.ts";

const ofWork = z.strictObject({ requestId: RequestId });

/** Long calls are known by the request id they came with while they go on. */
export const workCalls = {
  /** How far the work is; null when nothing is under way by that id. */
  "work.progress": call({
    kind: "read",
    reads: [],
    input: ofWork,
    output: WorkProgress.nullable(),
    errors: [],
  }),
  /** Stops the work; its own call then answers `work.stopped`. */
  "work.stop": call({ kind: "read", reads: [], input: ofWork, output: Nothing, errors: [] }),
} as const;
