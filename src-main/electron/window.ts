import { fileURLToPath } from "node:url";
import { app, BrowserWindow, type WebContents } from "electron";
import { WINDOW_ADDRESS } from "./app-protocol.ts";

/** Beside out/main once built; one CommonJS file, as a sandboxed preload must be. */
const PRELOAD = fileURLToPath(new URL("../preload/preload.cjs", import.meta.url));

/** For the window list of Linux and Windows; macOS takes the application's own. */
const ICON = fileURLToPath(new URL("../../resources/icon.png", import.meta.url));

/**
 * Opens the program's window where it was last time. It is shown at once, in the colour of the page: a window that
 * waits for `ready-to-show` may never appear on Wayland (electron/electron #48859).
 */
export function openWindow(): BrowserWindow {
  const window = new BrowserWindow({
    name: "bench",
    // Electron keeps position and size in its profile and brings a window back that would lie off the screen.
    windowStatePersistence: true,
    width: 1360,
    height: 900,
    minWidth: 800,
    minHeight: 600,
    title: "Linefall",
    icon: ICON,
    backgroundColor: "#12100d",
    webPreferences: {
      preload: PRELOAD,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      webviewTag: false,
      // The checker would fetch its dictionaries from the network.
      spellcheck: false,
      devTools: !app.isPackaged,
    },
  });
  // Alt must reach the grid instead of a menu bar; the menu's keys work without it.
  if (process.platform !== "darwin") window.setMenuBarVisibility(false);
  void window.loadURL(WINDOW_ADDRESS);
  return window;
}

/** Keeps any page inside this program: it goes nowhere, opens nothing and embeds nothing. */
export function confine(contents: WebContents): void {
  contents.on("will-navigate", (event) => event.preventDefault());
  contents.on("will-frame-navigate", (event) => event.preventDefault());
  contents.on("will-redirect", (event) => event.preventDefault());
  contents.on("will-attach-webview", (event) => event.preventDefault());
  contents.setWindowOpenHandler(() => ({ action: "deny" }));
}
