import type { GeneralError } from "#core/contract/call.ts";
import type { CallInput, CallName, CallReply, Client } from "#core/contract/calls.ts";
import type { CallError } from "#core/contract/reply.ts";
import { noteTypedTexts } from "../window/typed-texts.ts";
import type { Transport } from "./transport.ts";

/** Waits before the second, third and fourth attempt, ms. A repeated act carries the same request id. */
export const RETRY_WAITS = [250, 1000, 3000] as const;

export interface ClientOptions {
  readonly waits?: readonly number[];
  readonly wait?: (milliseconds: number) => Promise<void>;
  /** Told after every acknowledged call. */
  readonly onDone?: (name: CallName) => void;
}

const HOST_LOST: CallError<GeneralError> = {
  code: "host.lost",
  message: "The program behind this window does not answer.",
  hint: "Nothing you typed is lost. Try again; if it stays so, start Linefall again.",
};

interface AnyReply {
  readonly ok: boolean;
  readonly error?: { readonly code?: unknown };
}

/** A reply of the host itself; `host.lost` from a transport is none. */
function isReply(answer: unknown): answer is AnyReply {
  if (typeof answer !== "object" || answer === null || !("ok" in answer)) return false;
  const reply = answer as AnyReply;
  return typeof reply.ok === "boolean" && reply.error?.code !== HOST_LOST.code;
}

const pause = (milliseconds: number): Promise<void> =>
  new Promise((resolve) => setTimeout(resolve, milliseconds));

/**
 * The typed client over a transport. A call that does not reach the host is tried again with the same input, so with
 * the same request id, and answers `host.lost` in the end; it never rejects.
 */
export function createClient(transport: Transport, options: ClientOptions = {}): Client {
  const waits = options.waits ?? RETRY_WAITS;
  const wait = options.wait ?? pause;

  async function attempt(name: string, input: unknown): Promise<unknown> {
    for (let tries = 0; ; tries += 1) {
      try {
        const answer = await transport(name, input);
        if (isReply(answer)) return answer;
      } catch {
        // Not reached: the loop decides whether to try again.
      }
      const next = waits[tries];
      if (next === undefined) return { ok: false, error: HOST_LOST };
      await wait(next);
    }
  }

  return async <N extends CallName>(name: N, input: CallInput<N>): Promise<CallReply<N>> => {
    const reply = (await attempt(name, input)) as CallReply<N>;
    if (reply.ok) {
      noteTypedTexts(reply.value, name);
      options.onDone?.(name);
    }
    return reply;
  };
}
