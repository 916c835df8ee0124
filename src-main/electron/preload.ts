import { contextBridge, ipcRenderer } from "electron";
import { channelOf, UNSAVED_CHANNEL } from "./channel.ts";

/**
 * All that the window sees of Electron: `window.linefall`. A call goes to the main process by its contract name; input
 * and Reply are JSON text. It rejects when the main process is gone or knows no such call.
 */
const bridge = {
  host: "electron",
  call: (name: string, input: string): Promise<string> =>
    ipcRenderer.invoke(channelOf(String(name)), String(input)),
  /** What would not be stored if the window closed now, in words; told before the window is asked to stay. */
  tellUnsaved: (words: readonly string[]): void =>
    ipcRenderer.send(
      UNSAVED_CHANNEL,
      Array.from(words, (word) => String(word)),
    ),
} as const;

contextBridge.exposeInMainWorld("linefall", bridge);
