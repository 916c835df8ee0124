import react from "@vitejs/plugin-react";
import { defineConfig } from "electron-vite";

/**
 * A library of the window asks by eval whether there are generators, which the content policy forbids and reports.
 * Every engine the window runs in has them.
 */
const generatorsAreThere = {
  name: "generators-are-there",
  enforce: "pre" as const,
  resolveId: (id: string) =>
    id === "@stdlib/assert-has-generator-support" ? "\0generators-are-there" : null,
  load: (id: string) =>
    id === "\0generators-are-there"
      ? "module.exports = function hasGeneratorSupport() { return true; };"
      : null,
};

/** Three bundles: the Electron main process with its service process, the preload, and the window that both hosts serve. */
export default defineConfig({
  main: {
    build: {
      outDir: "out/main",
      // The packages of "dependencies" stay packages: one of them is native, others load parts of themselves.
      externalizeDeps: true,
      rolldownOptions: {
        input: {
          main: "src-main/electron/main.ts",
          "service-process": "src-main/electron/service-process.ts",
        },
        output: { format: "es" },
      },
    },
  },
  preload: {
    build: {
      outDir: "out/preload",
      externalizeDeps: false,
      rolldownOptions: {
        input: { preload: "src-main/electron/preload.ts" },
        output: { format: "cjs", entryFileNames: "[name].cjs" },
      },
    },
  },
  renderer: {
    root: "src-renderer",
    plugins: [generatorsAreThere, react()],
    build: {
      outDir: "out/renderer",
      // No data: addresses beside images: fonts and scripts come from the program's own origin.
      assetsInlineLimit: 0,
      rolldownOptions: { input: { index: "src-renderer/index.html" } },
    },
  },
});
