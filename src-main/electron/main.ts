import { app } from "electron";
import { folderFromArguments, runElectronHost } from "./run.ts";

// A package has no script argument of its own: everything behind the program belongs to it.
await runElectronHost(folderFromArguments(process.argv.slice(app.isPackaged ? 1 : 2)));
