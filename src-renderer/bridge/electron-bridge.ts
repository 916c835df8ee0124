import type { PreloadBridge } from "./transport.ts";

function isBridge(value: unknown): value is PreloadBridge {
  return typeof value === "object" && value !== null && "call" in value && typeof value.call === "function";
}

/** What the Electron host put on this window, or null when the window was not opened by it. */
export function electronBridge(host: object): PreloadBridge | null {
  // A browser also puts elements on its window by their id, so the name alone proves nothing.
  const bridge: unknown = "linefall" in host ? host.linefall : undefined;
  return isBridge(bridge) ? bridge : null;
}
