import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { CallInput, CallName, CallOutput } from "#core/contract/calls.ts";
import type { CallError, Reply } from "#core/contract/reply.ts";
import { assemble } from "#main/assemble.ts";
import type { BenchPaths } from "#main/ports/paths.ts";
import type { Program, ProgramOptions } from "#main/program.ts";
import { countedIds, fixedClock, type SettableClock } from "./fixed-clock.ts";

export interface TempFolder {
  readonly paths: BenchPaths;
  remove(): void;
}

/** A bench folder of its own under the system's temporary folder. */
export function tempFolder(): TempFolder {
  const folder = mkdtempSync(join(tmpdir(), "linefall-test-"));
  return {
    paths: {
      dataFolder: folder,
      databaseFile: join(folder, "bench.sqlite"),
      backupFolder: join(folder, "backups"),
      exportFolder: join(folder, "exports"),
    },
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

export interface TempBench {
  readonly program: Program;
  readonly paths: BenchPaths;
  readonly clock: SettableClock;
  /** Calls and expects an answer; a refusal fails the test with its words. */
  call<N extends CallName>(name: N, input: CallInput<N>): Promise<CallOutput<N>>;
  /** Calls and expects a refusal; takes any input. */
  refusal(name: string, input: unknown): Promise<CallError>;
  /** A request identifier never used before. */
  request(): string;
  /** Closes and opens the same folder again; `program` is then the new one. */
  reopen(): Promise<void>;
  end(): Promise<void>;
}

/** An open, empty bench on a real file, with a fixed clock and counted ids. */
export async function tempBench(changes: Partial<ProgramOptions> = {}): Promise<TempBench> {
  const { paths, remove } = tempFolder();
  const clock = fixedClock();
  const options: ProgramOptions = {
    paths,
    clock,
    ids: countedIds(),
    host: "loopback",
    programVersion: "0.0.0-test",
    ...changes,
  };
  let program = await assemble(options);
  let requests = 0;
  return {
    get program() {
      return program;
    },
    paths,
    clock,
    async call<N extends CallName>(name: N, input: CallInput<N>) {
      const reply = (await program.dispatch(name, input)) as Reply<CallOutput<N>>;
      if (!reply.ok) throw new Error(`${name} was refused: ${JSON.stringify(reply.error)}`);
      return reply.value;
    },
    async refusal(name, input) {
      const reply = await program.dispatch(name, input);
      if (reply.ok) throw new Error(`${name} was not refused: ${JSON.stringify(reply.value)}`);
      return reply.error;
    },
    request() {
      requests += 1;
      return `request-${requests}`;
    },
    async reopen() {
      await program.close();
      program = await assemble(options);
    },
    async end() {
      await program.close();
      remove();
    },
  };
}
