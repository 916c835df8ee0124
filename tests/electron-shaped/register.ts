import { registerHooks } from "node:module";

const STAND_IN = new URL("./stand-in.ts", import.meta.url).href;

/** `node --import register.ts`: the module `electron` is the stand-in, wherever the importer lies. */
registerHooks({
  resolve: (specifier, context, next) =>
    specifier === "electron" ? { url: STAND_IN, shortCircuit: true } : next(specifier, context),
});
