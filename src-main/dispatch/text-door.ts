import type { Dispatch } from "./dispatcher.ts";

/**
 * A call as it crosses between processes: input and reply as JSON text, which whoever only passes it on need not read.
 * @returns the Reply as JSON text; never rejects
 */
export async function dispatchText(dispatch: Dispatch, name: string, input: string): Promise<string> {
  let parsed: unknown;
  try {
    parsed = JSON.parse(input);
  } catch {
    const error = { code: "input.invalid", message: "The call is not JSON text." };
    return JSON.stringify({ ok: false, error });
  }
  return JSON.stringify(await dispatch(name, parsed));
}
