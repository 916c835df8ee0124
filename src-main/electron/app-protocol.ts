import { protocol } from "electron";
import type { BuiltFiles } from "../ports/built-files.ts";
import { RESPONSE_HEADERS } from "../ports/content-policy.ts";

const SCHEME = "linefall";
/** The window's own origin. */
export const WINDOW_ORIGIN = `${SCHEME}://bench`;
export const WINDOW_ADDRESS = `${WINDOW_ORIGIN}/index.html`;

/** Declares the scheme; must run before the application is ready. Nothing beyond what an origin needs is granted. */
export function declareScheme(): void {
  protocol.registerSchemesAsPrivileged([{ scheme: SCHEME, privileges: { standard: true, secure: true } }]);
}

/** Serves the built window, and only that, under its own origin. */
export function serveWindow(files: BuiltFiles): void {
  protocol.handle(SCHEME, (request) => answerOf(request, files));
}

/** Looks the address up in the fixed map; no path is ever joined. */
export function answerOf(request: Pick<Request, "method" | "url">, files: BuiltFiles): Response {
  const { host, pathname, search } = new URL(request.url);
  const file = host === "bench" && search === "" ? files.get(pathname) : undefined;
  if (request.method !== "GET" || file === undefined) {
    return new Response("Not found", { status: 404, headers: RESPONSE_HEADERS });
  }
  return new Response(file.body, { headers: { ...RESPONSE_HEADERS, "content-type": file.type } });
}

/** Whether an address belongs to the window; compares parsed origins, never text. */
export function isWindowAddress(address: string): boolean {
  if (!URL.canParse(address)) return false;
  // The origin of a scheme that Node does not know reads "null": compare its parts.
  const { protocol: scheme, host, username, password } = new URL(address);
  return `${scheme}//${host}` === WINDOW_ORIGIN && username === "" && password === "";
}
