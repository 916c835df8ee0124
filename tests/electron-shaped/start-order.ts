import { pathToFileURL } from "node:url";
import { listen } from "./control-line.ts";
import { theApp } from "./stand-in-app.ts";
import { DEFAULT_MENU, menuAccelerators } from "./stand-in-menu.ts";
import { note, state } from "./stand-in-state.ts";

/**
 * What Electron's own start does with an ES module (lib/browser/init.ts; shell/common/node_bindings.cc): the entry is
 * imported and evaluated, and only then does the application become ready. Whatever the entry waits for meanwhile at its
 * top level, it waits for ever. argv: MAIN [what stands on the program's line]
 */
const [, , main = "", ...line] = process.argv;
process.argv.splice(1, process.argv.length - 1, ...(theApp.isPackaged ? [] : [process.cwd()]), ...line);
state.accelerators = menuAccelerators(DEFAULT_MENU);
listen();
await import(pathToFileURL(main).href);
note("entry evaluated");
theApp.makeReady();
