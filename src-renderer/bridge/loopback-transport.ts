import { WINDOW_SESSION } from "#core/contract/window-session.ts";
import { type Transport, transportOver } from "./transport.ts";

/** The transport of the loopback host: one POST of JSON to the window's own origin, with the secret this window keeps. */
export function loopbackTransport(
  send: typeof fetch,
  kept: Pick<Storage, "getItem"> = sessionStorage,
): Transport {
  return transportOver(async (name, body) => {
    const response = await send(`/call/${encodeURIComponent(name)}`, {
      method: "POST",
      headers: {
        "content-type": "application/json",
        [WINDOW_SESSION.header]: kept.getItem(WINDOW_SESSION.storageKey) ?? "",
      },
      credentials: "omit",
      cache: "no-store",
      body,
    });
    return response.text();
  });
}
