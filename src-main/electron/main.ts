import { app } from "electron";
import { endWith, startElectronHost } from "./start.ts";

// A defect of this process: told to the person, instead of a box of Electron's with a stack in it.
process.on("uncaughtException", (error) => void endWith(error));

// A package has no script argument of its own: everything behind the program belongs to it. Nothing here waits:
// Electron becomes ready only after this module has been evaluated, so a top-level await would wait for ever.
void startElectronHost(process.argv.slice(app.isPackaged ? 1 : 2));
