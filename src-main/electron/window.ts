import { fileURLToPath } from "node:url";
import { app, BrowserWindow, type WebContents } from "electron";
import { WINDOW_ADDRESS } from "./app-protocol.ts";

/** Beside out/main once built; one CommonJS file, as a sandboxed preload must be. */
const PRELOAD = fileURLToPath(new URL("../preload/preload.cjs", import.meta.url));

/** For the window list of Linux and Windows; macOS takes the application's own. */
const ICON = fileURLToPath(new URL("../../resources/icon.png", import.meta.url));

/** Opens the program's window; it appears when its first picture is ready, without a white flash in a dim room. */
export function openWindow(): BrowserWindow {
  const window = new BrowserWindow({
    width: 1360,
    height: 900,
    minWidth: 800,
    minHeight: 600,
    show: false,
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
  window.once("ready-to-show", () => window.show());
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
