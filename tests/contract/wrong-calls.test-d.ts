import type { CallInput, CallName, CallRefusal, Client } from "#core/contract/calls.ts";
import type { Handlers } from "#main/dispatch/handlers.ts";
import { Refusal } from "#main/dispatch/refusals.ts";

/** Compiled by `tsc -b`, never run: each expected error below is an error, or the build fails. */
export async function wrongCallsDoNotCompile(client: Client, handlers: Handlers): Promise<void> {
  // @ts-expect-error no such call
  await client("rows.delete", {});
  // @ts-expect-error a reading is text, never a number
  const typed: CallInput<"rows.enter">["typed"] = 40;
  // @ts-expect-error a member is missing
  await client("rows.strike", { requestId: "request-1", sheetId: "s", rowId: "r" });
  // @ts-expect-error an edge is left or right
  const cell: CallInput<"rows.keepDraft">["cell"] = { dimension: "d", edge: "top" };
  const reply = await client("people.choose", { personId: "p" });
  // @ts-expect-error the answer is there only when the call succeeded
  reply.value;
  // @ts-expect-error a code that this call cannot answer
  if (!reply.ok && reply.error.code === "row.struck") throw new Error();
  // @ts-expect-error a refusal of no call
  throw new Refusal("row.eaten", `${cell.edge}${typed}${handlers}`);
}

// @ts-expect-error a missing handler does not compile
export const noHandlers: Handlers = {};

type WithoutOne = Omit<Handlers, "rows.enter">;
// @ts-expect-error not even a single one
export const allButOne: Handlers = {} as WithoutOne;

// @ts-expect-error a handler answers what its call promises
export const wrongAnswer: Handlers["people.list"] = () => [{ name: "Ada" }];

/** Every call's codes are known by name; a renamed code breaks this line. */
export const enterRefusals: Record<CallRefusal<"rows.enter">, true> = {
  "person.missing": true,
  "sheet.unknown": true,
  "dimension.unknown": true,
  "reading.unreadable": true,
  "reading.mixed": true,
  "row.struck": true,
  "sheet.closed": true,
  "item.out-of-service": true,
};

export const someCall: CallName = "rows.enter";
