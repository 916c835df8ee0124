import { readFileSync } from "node:fs";
import type { CallInput, CallName, CallOutput } from "#core/contract/calls.ts";
import type { Reply } from "#core/contract/reply.ts";
import type { Program } from "#main/program.ts";

type Call = <N extends CallName>(name: N, input: CallInput<N>) => Promise<CallOutput<N>>;

/** Calls a program and expects an answer. */
export function callOn(program: Program): Call {
  return async (name, input) => {
    const reply = (await program.dispatch(name, input)) as Reply<CallOutput<typeof name>>;
    if (!reply.ok) throw new Error(`${name} was refused: ${JSON.stringify(reply.error)}`);
    return reply.value;
  };
}

/** Exports sheets as JSON and gives the text of the file. */
export async function exportJson({ call }: { readonly call: Call }, sheetIds: string[]): Promise<string> {
  const begun = await call("exports.begin", { sheetIds, format: "json", paper: "A4" });
  let now = begun;
  while (now?.state === "writing") {
    await new Promise((resolve) => setTimeout(resolve, 5));
    now = await call("exports.status", { exportId: now.exportId });
  }
  if (!now?.file) {
    throw new Error(`the export was not written: ${JSON.stringify(now)}`);
  }
  return readFileSync(now.file.path, "utf8");
}
