import { app, type BrowserWindow } from "electron";
import { askToClose, offerReload } from "./dialogs.ts";
import { hearUnsaved } from "./ipc.ts";

export interface WindowLife {
  /** Lets the window close without a question: the system is ending, and nobody is there to answer. */
  letGo(): void;
}

/** How long the window's own words on what is unsaved may be behind its wish to stay, ms. */
const WORDS_WITHIN_MS = 500;

/**
 * Answers for a window that would rather not close, and for one that has stopped.
 * @param onClosed the window is gone
 */
export function watchWindow(
  window: BrowserWindow,
  onClosed: () => void,
  log: (line: string) => void,
): WindowLife {
  const { webContents: contents } = window;
  let mayLeave = false;
  let asking = false;
  let unsaved: readonly string[] = [];
  hearUnsaved(contents, (words) => {
    unsaved = words;
  });

  /** Without an answer here Electron would leave the window open and say nothing. */
  async function ask(): Promise<void> {
    if (asking) return;
    asking = true;
    try {
      await new Promise((resolve) => setTimeout(resolve, unsaved.length === 0 ? WORDS_WITHIN_MS : 0));
      mayLeave = await askToClose(window, unsaved);
      if (mayLeave && !window.isDestroyed()) window.close();
    } finally {
      asking = false;
      unsaved = [];
    }
  }

  contents.on("will-prevent-unload", (event) => {
    if (mayLeave) event.preventDefault();
    else void ask();
  });
  contents.on("render-process-gone", async (_event, { reason }) => {
    if (reason === "clean-exit" || mayLeave) return;
    log(`window gone: ${reason}`);
    if (await offerReload(window, reason)) contents.reload();
    else app.quit();
  });
  window.on("closed", onClosed);
  return {
    letGo() {
      mayLeave = true;
    },
  };
}
