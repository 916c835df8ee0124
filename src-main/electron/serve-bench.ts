import type { WorkProgress } from "#core/contract/records/work.ts";
import { ensureDemoBench } from "../demo-folder.ts";
import { isDemoFolder } from "../demo-mark.ts";
import { dispatchText } from "../dispatch/text-door.ts";
import { openOrRecover } from "../open-or-recover.ts";
import { systemClock } from "../ports/clock.ts";
import type { CopyOrder } from "../ports/copy-work.ts";
import { benchPaths } from "../ports/data-folder.ts";
import type { HeadSigner } from "../ports/head-signer.ts";
import { randomIds } from "../ports/ids.ts";
import type { Program } from "../program.ts";
import { BenchUnopenable } from "../store/bench-file/bench-unopenable.ts";
import type {
  BenchToOpen,
  FromService,
  Question,
  Questions,
  ToService,
  Trouble,
} from "./service-messages.ts";

/** The line to the window's process, as `process.parentPort` is one. */
export interface ServicePort {
  postMessage(message: FromService): void;
  on(event: "message", listener: (event: { readonly data: ToService }) => void): unknown;
}

type Ask = <Q extends Question>(
  question: Q,
  asked: Questions[Q]["asked"],
  signal?: AbortSignal,
) => Promise<Questions[Q]["answer"]>;

/**
 * Opens the bench it is told to, answers its calls, and closes it when told to.
 * @param end ends this process with a code, after the bench has been closed
 */
export function serveBench(port: ServicePort, end: (code: number) => void): void {
  const asking = new Map<number, PromiseWithResolvers<Questions[Question]["answer"]>>();
  let asked = 0;
  const ask: Ask = (question, what, signal) => {
    asked += 1;
    const id = asked;
    const wait = Promise.withResolvers<Questions[Question]["answer"]>();
    asking.set(id, wait);
    port.postMessage({ kind: "ask", id, question, asked: what });
    signal?.addEventListener("abort", () => {
      if (asking.has(id)) port.postMessage({ kind: "never mind", id });
    });
    // Sound: the answer to a question comes back under its number.
    return wait.promise as Promise<never>;
  };
  const opening = Promise.withResolvers<Program>();
  // Whoever waits for it hears of it; nobody may be waiting.
  opening.promise.catch(() => {});

  async function open(bench: BenchToOpen): Promise<void> {
    try {
      const tell = (progress: WorkProgress): void => port.postMessage({ kind: "opening", progress });
      opening.resolve(await openProgram(bench, ask, tell));
      port.postMessage({ kind: "opened" });
    } catch (error) {
      opening.reject(error);
      port.postMessage({ kind: "unopenable", trouble: inWords(error) });
    }
  }

  async function call(id: number, name: string, input: string): Promise<void> {
    const program = await opening.promise;
    port.postMessage({ kind: "reply", id, reply: await dispatchText(program.dispatch, name, input) });
  }

  async function close(): Promise<void> {
    try {
      const program = await opening.promise.catch(() => null);
      await program?.close();
      end(0);
    } catch (error) {
      console.error(error);
      end(1);
    }
  }

  function settle(
    id: number,
    how: (wait: PromiseWithResolvers<Questions[Question]["answer"]>) => void,
  ): void {
    const wait = asking.get(id);
    asking.delete(id);
    if (wait !== undefined) how(wait);
  }

  port.on("message", ({ data }) => {
    if (data.kind === "open") void open(data.bench);
    else if (data.kind === "call") void call(data.id, data.name, data.input).catch(() => {});
    else if (data.kind === "answer") settle(data.id, ({ resolve }) => resolve(data.answer));
    else if (data.kind === "failed") settle(data.id, ({ reject }) => reject(new Error(data.why)));
    else void close();
  });
}

async function openProgram(
  { folder, exportFolder, programVersion, demo }: BenchToOpen,
  ask: Ask,
  opening: (progress: WorkProgress) => void,
): Promise<Program> {
  if (demo) await ensureDemoBench(folder, (line) => console.log(line));
  const options = {
    paths: { ...benchPaths(folder), exportFolder },
    clock: systemClock,
    ids: randomIds,
    host: "electron" as const,
    programVersion,
    demo: await isDemoFolder(folder),
    log: (line: string) => console.log(line),
    headSigner: signerOver(ask),
    opening,
    downloadAddress: () => null,
    chooseExportPath: (suggested: string) => ask("exportPath", suggested),
    printToPdf: () => ask("pdf", null),
    showInFolder: async (path: string) => void (await ask("folder", path)),
    openDemo: async () => void (await ask("demo", null)),
    copyWork: (order: CopyOrder, signal?: AbortSignal) => ask("copyWork", order, signal),
  };
  return openOrRecover(options, async ({ message, hint, offers }) => {
    const taken = await ask("recovery", { message, hint, offers: offers.map(({ words }) => words) });
    return taken === null ? null : (offers[taken] ?? null);
  });
}

/** The key in the window's process, which alone reaches the keychain. */
function signerOver(ask: Ask): HeadSigner {
  return {
    state: async () =>
      ((await ask("headKey", { kind: "state" })) ?? "none") as Awaited<ReturnType<HeadSigner["state"]>>,
    present: () => ask("headKey", { kind: "present" }),
    async make() {
      const made = await ask("headKey", { kind: "make" });
      if (made === null) throw new Error("no key was made");
      return made;
    },
    sign: (publicKey, text) => ask("headKey", { kind: "sign", publicKey, text }),
  };
}

function inWords(error: unknown): Trouble {
  if (error instanceof BenchUnopenable) return { message: error.message, hint: error.hint };
  return {
    message: "Linefall could not open its bench.",
    hint: error instanceof Error ? error.message : String(error),
  };
}
