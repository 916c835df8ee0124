import type { PreloadBridge, Transport } from "./transport.ts";

/** The transport of the Electron host, or null when this window was not opened by it. */
export function electronTransport(host: object): Transport | null {
  if (!("linefall" in host)) return null;
  const bridge = host.linefall as PreloadBridge;
  return (name, input) => bridge.call(name, input);
}
