import type { CallInput, CallName, CallOutput } from "#core/contract/calls.ts";
import type { Reply } from "#core/contract/reply.ts";
import type { Program } from "../program.ts";
import type { DemoClock } from "./demo-clock.ts";
import type { Chance } from "./seeded-chance.ts";

/** The hand that works the demo bench: every act goes through the same door as a window's. */
export interface DemoOperator {
  readonly clock: DemoClock;
  readonly chance: Chance;
  /** Does one act and lets a few seconds pass. @throws Error when the bench refuses it: the scenario is then wrong */
  act<N extends CallName>(name: N, input: CallInput<N>, seconds?: number): Promise<CallOutput<N>>;
  /** A fresh request identifier. */
  request(): string;
  /** Says who is at the bench. */
  sit(personId: string): Promise<void>;
}

export function createDemoOperator(
  program: Pick<Program, "dispatch">,
  clock: DemoClock,
  chance: Chance,
): DemoOperator {
  let atTheBench = "";
  let requests = 0;

  async function act<N extends CallName>(name: N, input: CallInput<N>, seconds = 4): Promise<CallOutput<N>> {
    const reply = (await program.dispatch(name, input)) as Reply<CallOutput<N>>;
    if (!reply.ok) {
      throw new Error(`The demo bench refused ${name}: ${JSON.stringify(reply.error)}`);
    }
    clock.advance(seconds);
    return reply.value;
  }

  return {
    clock,
    chance,
    act,
    request() {
      requests += 1;
      return `demo-request-${requests}`;
    },
    async sit(personId) {
      if (atTheBench === personId) return;
      await act("people.choose", { personId }, 20);
      atTheBench = personId;
    },
  };
}
