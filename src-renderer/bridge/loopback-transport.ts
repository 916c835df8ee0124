import type { Transport } from "./transport.ts";

/** The transport of the loopback host: one POST of JSON to the window's own origin. */
export function loopbackTransport(send: typeof fetch): Transport {
  return async (name, input) => {
    const response = await send(`/call/${encodeURIComponent(name)}`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      credentials: "same-origin",
      cache: "no-store",
      body: JSON.stringify(input),
    });
    return (await response.json()) as unknown;
  };
}
