import { constants } from "node:fs";
import { access } from "node:fs/promises";
import { delimiter, posix, win32 } from "node:path";
import type { Surroundings } from "../ports/data-folder.ts";

const LINUX_NAMES = [
  "chromium",
  "chromium-browser",
  "google-chrome",
  "google-chrome-stable",
  "microsoft-edge",
  "microsoft-edge-stable",
  "brave-browser",
];
const MAC_APPS = ["Google Chrome", "Chromium", "Microsoft Edge", "Brave Browser"];
const WINDOWS_PLACES = [
  ["Google", "Chrome", "Application", "chrome.exe"],
  ["Microsoft", "Edge", "Application", "msedge.exe"],
  ["Chromium", "Application", "chrome.exe"],
  ["BraveSoftware", "Brave-Browser", "Application", "brave.exe"],
];

/** Where a browser of the Chromium family may stand on this machine, in order of preference. */
export function browserPlaces({ platform, home, environment }: Surroundings): string[] {
  const chosen = environment.LINEFALL_BROWSER;
  if (chosen !== undefined && chosen !== "") return [chosen];
  if (platform === "win32") {
    const roots = ["PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA"].map((name) => environment[name]);
    const known = roots.filter((root) => root !== undefined);
    return WINDOWS_PLACES.flatMap((parts) => known.map((root) => win32.join(root, ...parts)));
  }
  if (platform === "darwin") {
    const inApp = (name: string) => posix.join("/Applications", `${name}.app`, "Contents", "MacOS", name);
    return MAC_APPS.flatMap((name) => [inApp(name), posix.join(home, inApp(name))]);
  }
  const folders = (environment.PATH ?? "").split(delimiter).filter((folder) => posix.isAbsolute(folder));
  return LINUX_NAMES.flatMap((name) => folders.map((folder) => posix.join(folder, name)));
}

/** Whether a window could be shown at all: on Linux and the BSDs that takes a display. */
export function hasDisplay({ platform, environment }: Surroundings): boolean {
  if (platform === "win32" || platform === "darwin") return true;
  return Boolean(environment.DISPLAY) || Boolean(environment.WAYLAND_DISPLAY);
}

/** The browser that can show a window here and now, or why there is none. */
export async function browserForWindow(
  surroundings: Surroundings,
): Promise<
  { readonly browser: string; readonly why: null } | { readonly browser: null; readonly why: string }
> {
  if (!hasDisplay(surroundings)) return { browser: null, why: "There is no display for a window." };
  const browser = await findBrowser(browserPlaces(surroundings));
  if (browser !== null) return { browser, why: null };
  return {
    browser: null,
    why: "No Chromium, Chrome, Edge or Brave was found for a window (LINEFALL_BROWSER names one).",
  };
}

/** The first that is there and may be started, or null. */
export async function findBrowser(places: readonly string[]): Promise<string | null> {
  for (const place of places) {
    const startable = await access(place, constants.X_OK).then(
      () => true,
      () => false,
    );
    if (startable) return place;
  }
  return null;
}
