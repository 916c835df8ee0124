import type { Session } from "electron";
import { isWindowAddress } from "./app-protocol.ts";

/** Denies whatever a page can ask of the machine (Electron's default is to grant), every download and all network. */
export function denyPermissions(session: Session): void {
  session.setPermissionRequestHandler((_contents, _permission, answer) => answer(false));
  session.setPermissionCheckHandler(() => false);
  session.setDevicePermissionHandler(() => false);
  session.on("will-download", (event) => event.preventDefault());
  session.webRequest.onBeforeRequest((details, answer) => answer({ cancel: !mayLoad(details.url) }));
}

function mayLoad(address: string): boolean {
  const scheme = URL.canParse(address) ? new URL(address).protocol : "";
  // Developer tools load their own pages; they are switched off in packages.
  return isWindowAddress(address) || scheme === "data:" || scheme === "devtools:";
}
