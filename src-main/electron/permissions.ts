import type { Session } from "electron";
import { isWindowAddress } from "./app-protocol.ts";

/** What the program's own copy buttons need: text put on the clipboard after a press. Reading it is not among them. */
const COPY = "clipboard-sanitized-write";

/**
 * Denies whatever a page can ask of the machine (Electron's default is to grant), every download and all network;
 * but for copying, and that to the program's own page alone.
 */
export function denyPermissions(session: Session): void {
  session.setPermissionRequestHandler((_contents, permission, answer, details) =>
    answer(permission === COPY && details.isMainFrame && isWindowAddress(details.requestingUrl)),
  );
  session.setPermissionCheckHandler(
    (_contents, permission, origin, details) =>
      permission === COPY && details.isMainFrame && isWindowAddress(origin),
  );
  session.setDevicePermissionHandler(() => false);
  session.on("will-download", (event) => event.preventDefault());
  session.webRequest.onBeforeRequest((details, answer) => answer({ cancel: !mayLoad(details.url) }));
}

function mayLoad(address: string): boolean {
  const scheme = URL.canParse(address) ? new URL(address).protocol : "";
  // Developer tools load their own pages; they are switched off in packages.
  return isWindowAddress(address) || scheme === "data:" || scheme === "devtools:";
}
