import { type PreloadBridge, type Transport, transportOver } from "./transport.ts";

function isBridge(value: unknown): value is PreloadBridge {
  return typeof value === "object" && value !== null && "call" in value && typeof value.call === "function";
}

/** The transport of the Electron host, or null when this window was not opened by it. */
export function electronTransport(host: object): Transport | null {
  // A browser also puts elements on its window by their id, so the name alone proves nothing.
  const bridge: unknown = "linefall" in host ? host.linefall : undefined;
  return isBridge(bridge) ? transportOver((name, input) => bridge.call(name, input)) : null;
}
