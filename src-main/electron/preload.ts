import { contextBridge, ipcRenderer } from "electron";
import { channelOf } from "./channel.ts";

/**
 * All that the window sees of Electron: `window.linefall`. A call goes to the main process by its contract name; input
 * and Reply are JSON text. It rejects when the main process is gone or knows no such call.
 */
const bridge = {
  host: "electron",
  call: (name: string, input: string): Promise<string> =>
    ipcRenderer.invoke(channelOf(String(name)), String(input)),
} as const;

contextBridge.exposeInMainWorld("linefall", bridge);
