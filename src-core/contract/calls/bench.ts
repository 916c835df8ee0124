import { z } from "zod";
import { call, Nothing } from "../call.ts";
import { BenchOverview, BenchStatus } from "../records/bench.ts";
import { NewPerson, Person } from "../records/person.ts";
import { Id, RequestId } from "../records/primitives.ts";

export const benchCalls = {
  "bench.status": call({ kind: "read", input: Nothing, output: BenchStatus, errors: [] }),
  "bench.overview": call({ kind: "read", input: Nothing, output: BenchOverview, errors: [] }),
  "people.list": call({ kind: "read", input: Nothing, output: z.array(Person), errors: [] }),
  "people.register": call({
    kind: "write",
    input: z.strictObject({ requestId: RequestId, person: NewPerson }),
    output: Person,
    errors: ["person.taken"],
  }),
  /** Says who is at the bench from now on; every later act carries this name. */
  "people.choose": call({
    kind: "write",
    input: z.strictObject({ personId: Id }),
    output: Person,
    errors: ["person.unknown"],
  }),
} as const;
