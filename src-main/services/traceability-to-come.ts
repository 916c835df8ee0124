import { benchFileCalls } from "#core/contract/calls/bench-files.ts";
import { equipmentCalls } from "#core/contract/calls/equipment.ts";
import { signOffCalls } from "#core/contract/calls/sign-offs.ts";
import { traceCalls } from "#core/contract/calls/trace.ts";
import type { HandlersOf } from "../dispatch/handlers.ts";

type ToCome =
  | keyof typeof equipmentCalls
  | keyof typeof signOffCalls
  | keyof typeof traceCalls
  | keyof typeof benchFileCalls;

/** Calls of the contract whose services follow one by one; each answers with a numbered fault until then. */
export function servicesToCome(): HandlersOf<ToCome> {
  const names = Object.keys({ ...equipmentCalls, ...signOffCalls, ...traceCalls, ...benchFileCalls });
  const handler = (name: string) => (): never => {
    throw new Error(`${name} is not built yet`);
  };
  return Object.fromEntries(names.map((name) => [name, handler(name)])) as unknown as HandlersOf<ToCome>;
}
