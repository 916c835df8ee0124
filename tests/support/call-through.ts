import { WINDOW_SESSION } from "#core/contract/window-session.ts";
import { ask } from "./raw-http.ts";

/** What a browser does with a one-time address: exchanges it, then calls. */
export async function callThrough(address: string, name: string, input: unknown = {}) {
  const { origin, host, port, hash } = new URL(address);
  const own = { host, origin, "sec-fetch-site": "same-origin", "content-type": "application/json" };
  const post = (path: string, value: unknown, session = "") =>
    ask(Number(port), {
      method: "POST",
      path,
      headers: { ...own, [WINDOW_SESSION.header]: session },
      body: JSON.stringify(value),
    });
  const entered = await post("/enter", { token: hash.slice(1) });
  if (entered.status !== 200) return { status: entered.status, reply: null };
  const { session } = JSON.parse(entered.body);
  const answer = await post(`/call/${name}`, input, session);
  return { status: answer.status, reply: JSON.parse(answer.body) };
}
