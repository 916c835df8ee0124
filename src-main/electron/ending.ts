import { app, type BrowserWindow, powerMonitor } from "electron";
import type { ServiceClient } from "./service-client.ts";
import type { WindowLife } from "./window-life.ts";

/** The program ends with its window on every system; the bench is closed before the process goes. */
export function endWithWindow(service: ServiceClient): void {
  app.on("window-all-closed", () => app.quit());
  let closed = false;
  app.on("will-quit", (event) => {
    if (closed) return;
    event.preventDefault();
    void service.close().finally(() => {
      closed = true;
      app.quit();
    });
  });
}

/**
 * Ends when the system does. Linux and macOS wait for a program that asks them to. Windows may still keep the session
 * after `query-session-end`; after `session-end` it ends it soon, and sends no `will-quit`.
 */
export function endWithSystem(window: BrowserWindow, life: WindowLife, service: ServiceClient): void {
  // Its types leave out the event that its documentation tells of.
  (powerMonitor as NodeJS.EventEmitter).on("shutdown", (event: Electron.Event) => {
    event.preventDefault();
    life.letGo();
    app.quit();
  });
  window.on("query-session-end", () => life.letGo());
  window.on("session-end", () => {
    life.letGo();
    void service.close().finally(() => app.exit(0));
  });
}
