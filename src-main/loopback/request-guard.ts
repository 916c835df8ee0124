import type { CallError } from "#core/contract/reply.ts";

/** The head of a request as far as the guard looks at it. */
export interface RequestHead {
  readonly method: string;
  /** Every Host line, so that a second one cannot hide behind the first. */
  readonly hosts: readonly string[];
  readonly origin: string | undefined;
  /** Sec-Fetch-Site: set by the browser, out of reach of a page's script (W3C Fetch Metadata, 2.4). */
  readonly site: string | undefined;
  /** A whole page is asked for that shows nothing of a bench: `/enter`, in a window of its own. */
  readonly isEntry: boolean;
  readonly contentType: string | undefined;
}

export interface Refusal {
  readonly status: 400 | 403 | 404 | 405 | 413 | 415;
  readonly error: CallError;
}

/**
 * What every request must show before anything looks at its path, files included. An exact Host stops DNS
 * rebinding; an exact Origin and Sec-Fetch-Site stop other pages, also those on other ports of this machine;
 * `application/json` cannot be sent across origins without a preflight, and no preflight is ever answered.
 * @param host the only authority this server answers to, such as `127.0.0.1:49731`
 * @returns null when the request may go on
 */
export function refusalOf(head: RequestHead, host: string): Refusal | null {
  if (head.hosts.length !== 1 || head.hosts[0] !== host) {
    return refused(403, "The request names another host.");
  }
  if (head.method === "OPTIONS") return refused(403, "Pages of other origins may not ask this program.");
  if (head.method !== "GET" && head.method !== "POST") return refused(405, "Only GET and POST are answered.");
  if (head.origin !== undefined && head.origin !== `http://${host}`) {
    return refused(403, "The request comes from another origin.");
  }
  return head.method === "POST" ? refusalOfPost(head) : refusalOfGet(head);
}

function refusalOfPost(head: RequestHead): Refusal | null {
  if (head.origin === undefined) return refused(403, "The request does not name its origin.");
  if (head.site !== "same-origin")
    return refused(403, "The request does not come from the program's own window.");
  if (!/^application\/json(; ?charset=utf-8)?$/i.test(head.contentType ?? "")) {
    return refusedInput(415, "Only application/json is read.");
  }
  return null;
}

/**
 * A typed or opened address has `none`; the page's own files have `same-origin`. Older clients send nothing. The page on
 * disk that a launched browser opens is of another site: it may lead to the entry, which does nothing without a token.
 */
function refusalOfGet(head: RequestHead): Refusal | null {
  const own = head.site === undefined || head.site === "none" || head.site === "same-origin" || head.isEntry;
  return own ? null : refused(403, "The request was started by another site.");
}

/** For whoever has no session: says how to get one. */
export const WITHOUT_SESSION: Refusal = refused(403, "This window is not known to the program any more.");

export function refused(status: 403 | 404 | 405, message: string): Refusal {
  const hint = "Start Linefall again: it opens a window on the same bench.";
  return { status, error: { code: "access.refused", message, hint } };
}

export function refusedInput(status: 400 | 413 | 415, message: string): Refusal {
  return { status, error: { code: "input.invalid", message } };
}

export function unknownCall(name: string): Refusal {
  const shown = name.slice(0, 60);
  return { status: 404, error: { code: "call.unknown", message: `There is no call named “${shown}”.` } };
}
