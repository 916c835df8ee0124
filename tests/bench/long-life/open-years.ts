import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import type { CallInput, CallName, CallOutput } from "#core/contract/calls.ts";
import type { Reply } from "#core/contract/reply.ts";
import { assemble } from "#main/assemble.ts";
import { copyWorkBeside } from "#main/loopback/copy-work.ts";
import { randomIds } from "#main/ports/ids.ts";
import type { Program } from "#main/program.ts";
import { fixedClock, type SettableClock } from "../../support/fixed-clock.ts";
import type { TenYears } from "./ten-years.ts";

export interface OpenYears {
  readonly program: Program;
  readonly clock: SettableClock;
  call<N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N>>;
}

/** Opens a bench of ten years as the loopback host does, its copies worked on beside this process. */
export async function openYears({ paths, dayAfter }: TenYears): Promise<OpenYears> {
  const clock = fixedClock(dayAfter);
  const program = await assemble({
    paths,
    clock,
    ids: randomIds,
    host: "loopback",
    programVersion: "0.0.0-bench",
    copyWork: copyWorkBeside,
  });
  return {
    program,
    clock,
    async call<N extends CallName>(name: N, input: CallInput<N>) {
      const reply = (await program.dispatch(name, input)) as Reply<CallOutput<N>>;
      if (!reply.ok) throw new Error(`${name} was refused: ${JSON.stringify(reply.error)}`);
      return reply.value;
    },
  };
}

/** Bytes of all files in a folder and the folders in it; one that goes away meanwhile counts as nothing. */
export function bytesIn(folder: string): number {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .reduce(
      (sum, entry) =>
        sum + (statSync(join(entry.parentPath, entry.name), { throwIfNoEntry: false })?.size ?? 0),
      0,
    );
}
