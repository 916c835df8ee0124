import type { z } from "zod";
import { type CallName, calls, isCallName } from "#core/contract/calls.ts";
import type { CallError, Reply } from "#core/contract/reply.ts";
import { InputError } from "#core/quantity/input-error.ts";
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
}

export type Dispatch = (name: string, rawInput: unknown) => Promise<Reply<unknown>>;

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
export function createDispatcher({ handlers, faults, translate, log }: DispatcherOptions): Dispatch {
  function fault(where: string, error: unknown): Reply<never> {
    const number = faults.record(where, error);
    return refused({
      code: "fault",
      message: `Something went wrong in the program (fault ${number}). Nothing was changed by this call.`,
      hint: `Try again; if it happens again, report fault ${number} with the file faults.log of the bench folder.`,
    });
  }

  async function run(name: CallName, rawInput: unknown): Promise<Reply<unknown>> {
    const parsed = calls[name].input.safeParse(rawInput);
    if (!parsed.success) return refused(invalidInput(parsed.error));
    // Sound: the handler and the schema were looked up under the same name.
    const handler = handlers[name] as (input: unknown) => unknown;
    const answer = calls[name].output.safeParse(await handler(parsed.data));
    if (!answer.success) return fault(`${name} output`, answer.error);
    return { ok: true, value: answer.data };
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
    try {
      return await run(name, rawInput);
    } catch (error) {
      const known = knownRefusal(name, error) ?? translate?.(error) ?? null;
      return known ? refused(known) : fault(name, error);
    } finally {
      const took = performance.now() - started;
      if (took > SLOW_CALL_MS) log?.(`slow call ${name}: ${took.toFixed(0)} ms`);
    }
  };
}
