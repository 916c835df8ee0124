/** Carries one call to the host and its reply back; rejects when the host could not be reached. */
export type Transport = (name: string, input: unknown) => Promise<unknown>;

/** The same as both hosts take it: JSON text in, JSON text back. */
export type SendText = (name: string, input: string) => Promise<string>;

/** What the preload script of the Electron host puts on the window. */
export interface PreloadBridge {
  readonly call: SendText;
  readonly tellUnsaved: (words: readonly string[]) => void;
}

/** The one transport of both hosts; they differ in how text is sent. */
export function transportOver(send: SendText): Transport {
  return async (name, input) => JSON.parse(await send(name, JSON.stringify(input))) as unknown;
}
