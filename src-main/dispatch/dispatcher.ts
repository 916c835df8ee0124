import type { z } from "zod";
import { type CallName, calls, isCallName } from "#core/contract/calls.ts";
import type { CallError, Reply } from "#core/contract/reply.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { brokenTextAt } from "../well-formed.ts";
import type { FaultLog } from "./fault-log.ts";
import type { Handlers } from "./handlers.ts";
import { Refusal } from "./refusals.ts";

/** Calls slower than this are noted in the log, with their name only. */
const SLOW_CALL_MS = 50;

export interface DispatcherOptions {
  readonly handlers: Handlers;
  readonly faults: FaultLog;
  /** Recognises failures of the machine (full disk …) that a person can act on. */
  readonly translate?: (error: unknown) => CallError | null;
  readonly log?: ((line: string) => void) | undefined;
  /** Counts what has been written to the bench so far: a fault then says whether its call may have been carried out. */
  readonly commits?: () => number;
}

export type Dispatch = (name: string, rawInput: unknown) => Promise<Reply<unknown>>;

/** What a call that ended in a fault had written: nothing, all of it, or perhaps some of it. */
type Written = "nothing" | "done" | "unsure";

const FAULT_WORDS: Readonly<Record<Written, { readonly outcome: string; readonly todo: string }>> = {
  nothing: { outcome: "Nothing was changed by this call.", todo: "Try again" },
  done: {
    outcome: "What you asked for was done and is stored; only the answer could not be given.",
    todo: "Look at it anew before doing it again",
  },
  unsure: {
    outcome: "It may have been done all the same, or in part.",
    todo: "Look at what is there before doing it again",
  },
};

/** Exact optional fields: absent rather than undefined, so that a reply is the same after JSON. */
function refused(error: CallError): Reply<never> {
  const { code, message, field, hint } = error;
  return {
    ok: false,
    error: { code, message, ...(field ? { field } : {}), ...(hint ? { hint } : {}) },
  };
}

function invalidInput(error: z.ZodError): CallError {
  const issue = error.issues[0];
  return {
    code: "input.invalid",
    message: issue?.message ?? "is not what this call takes",
    field: issue?.path.map(String).join("."),
  };
}

function knownRefusal(name: CallName, error: unknown): CallError | null {
  if (error instanceof InputError) {
    return { code: "input.invalid", message: error.reason, field: error.field };
  }
  if (!(error instanceof Refusal)) return null;
  const declared: readonly string[] = calls[name].errors;
  // A code that the contract does not promise for this call is a defect of ours.
  if (error.code !== "input.invalid" && !declared.includes(error.code)) return null;
  return { code: error.code, message: error.message, field: error.field, hint: error.hint };
}

/**
 * Builds the one door of the services: look up, parse the input, run, check the output, reply. Both hosts and the tests
 * call it with whatever arrived; it never throws and never rejects.
 */
export function createDispatcher({
  handlers,
  faults,
  translate,
  log,
  commits = () => 0,
}: DispatcherOptions): Dispatch {
  function fault(where: string, error: unknown, written: Written): Reply<never> {
    const number = faults.record(where, error);
    const { outcome, todo } = FAULT_WORDS[written];
    return refused({
      code: "fault",
      message: `Something went wrong in the program (fault ${number}). ${outcome}`,
      hint: `${todo}; if it happens again, report fault ${number} with the file faults.log of the bench folder.`,
    });
  }

  async function run(name: CallName, rawInput: unknown, before: number): Promise<Reply<unknown>> {
    const parsed = calls[name].input.safeParse(rawInput);
    if (!parsed.success) return refused(invalidInput(parsed.error));
    const broken = brokenTextAt(parsed.data);
    if (broken !== null) {
      const message = "holds half a character, which cannot be stored: type it again";
      return refused({ code: "input.invalid", message, field: broken.join(".") });
    }
    // Sound: the handler and the schema were looked up under the same name.
    const handler = handlers[name] as (input: unknown, call: CallName) => unknown;
    const answer = calls[name].output.safeParse(await handler(parsed.data, name));
    if (answer.success) return { ok: true, value: answer.data };
    const written = calls[name].kind === "write" && commits() !== before ? "done" : "nothing";
    return fault(`${name} output`, answer.error, written);
  }

  return async (name, rawInput) => {
    if (typeof name !== "string" || !isCallName(name)) {
      return refused({
        code: "call.unknown",
        message: "This program does not know that call.",
        hint: "Window and program may be of different versions: close all windows and start again.",
      });
    }
    const started = performance.now();
    const before = commits();
    try {
      return await run(name, rawInput, before);
    } catch (error) {
      const known = knownRefusal(name, error) ?? translate?.(error) ?? null;
      if (known) return refused(known);
      return fault(name, error, calls[name].kind === "write" && commits() !== before ? "unsure" : "nothing");
    } finally {
      const took = performance.now() - started;
      if (took > SLOW_CALL_MS) log?.(`slow call ${name}: ${took.toFixed(0)} ms`);
    }
  };
}
