import { type Transport, transportOver } from "./transport.ts";

/** The transport of the loopback host: one POST of JSON to the window's own origin. */
export function loopbackTransport(send: typeof fetch): Transport {
  return transportOver(async (name, body) => {
    const response = await send(`/call/${encodeURIComponent(name)}`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      credentials: "same-origin",
      cache: "no-store",
      body,
    });
    return response.text();
  });
}
