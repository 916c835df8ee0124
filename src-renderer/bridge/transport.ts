/** Carries one call to the host and its reply back; rejects when the host could not be reached. */
export type Transport = (name: string, input: unknown) => Promise<unknown>;

/** What the preload script of the Electron host puts on the window. */
export interface PreloadBridge {
  readonly call: Transport;
}
