import { app } from "electron";
import { startElectronHost } from "./start.ts";

// A package has no script argument of its own: everything behind the program belongs to it. Nothing here waits:
// Electron becomes ready only after this module has been evaluated, so a top-level await would wait for ever.
void startElectronHost(process.argv.slice(app.isPackaged ? 1 : 2));
