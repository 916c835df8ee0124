import type { CallInput, CallName, CallOutput } from "#core/contract/calls.ts";
import type { CallError, Reply } from "#core/contract/reply.ts";
import { WINDOW_SESSION } from "#core/contract/window-session.ts";
import { ask } from "./raw-http.ts";

export interface LoopbackSession {
  /** Calls as a window does. @throws when the host is gone or refuses */
  call<N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N>>;
}

/** Exchanges a one-time address for a session, as a browser window does. */
export async function enterLoopback(address: string): Promise<LoopbackSession> {
  const { origin, host, port, hash } = new URL(address);
  const own = { host, origin, "sec-fetch-site": "same-origin", "content-type": "application/json" };
  const post = (path: string, value: unknown, session: string) =>
    ask(Number(port), {
      method: "POST",
      path,
      headers: { ...own, [WINDOW_SESSION.header]: session },
      body: JSON.stringify(value),
    });
  const entered = await post("/enter", { token: hash.slice(1) }, "");
  const session = entered.status === 200 ? String(JSON.parse(entered.body).session) : "";
  return {
    async call(name, input) {
      const answer = await post(`/call/${name}`, input, session);
      const reply = JSON.parse(answer.body) as Reply<unknown>;
      if (!reply.ok) throw new CallRefused(reply.error);
      return reply.value as never;
    },
  };
}

export class CallRefused extends Error {
  readonly error: CallError;
  constructor(error: CallError) {
    super(`${error.code}: ${error.message}`);
    this.error = error;
  }
}
