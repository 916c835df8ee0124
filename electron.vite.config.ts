import { mkdirSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import react from "@vitejs/plugin-react";
import { defineConfig } from "electron-vite";
import type { Plugin } from "vite";

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

/** The writer of workbooks brings a parser for reading them, which is never called: it and its packages stay out. */
const noWorkbookIsParsed = {
  name: "no-workbook-is-parsed",
  enforce: "pre" as const,
  resolveId: (id: string) => (/[/\\]parse-sax(\.js)?$/.test(id) ? "\0no-workbook-is-parsed" : null),
  load: (id: string) =>
    id === "\0no-workbook-is-parsed"
      ? 'module.exports = function parseSax() { throw new Error("no workbook is parsed"); };'
      : null,
};

/** Writes down beside each bundle which files of packages are in it: what ships is told from this list. */
const listPackagesFiles: Plugin = {
  name: "list-packages-files",
  generateBundle({ dir = "" }, bundle) {
    const files = Object.values(bundle).flatMap((output) =>
      output.type === "asset"
        ? output.originalFileNames
        : Object.entries(output.modules).flatMap(([id, { renderedLength }]) =>
            renderedLength > 0 ? id : [],
          ),
    );
    const ofPackages = files.flatMap((file) => file.match(/node_modules[/\\](.*)$/)?.[1] ?? []);
    const list = join(dirname(dir), "bundled", `${basename(dir)}.json`);
    mkdirSync(dirname(list), { recursive: true });
    writeFileSync(list, JSON.stringify([...new Set(ofPackages)].sort(), null, 1));
  },
};

/** Three bundles: the Electron main process with its service process, the preload, and the window that both hosts serve. */
export default defineConfig({
  main: {
    plugins: [noWorkbookIsParsed, listPackagesFiles],
    build: {
      outDir: "out/main",
      // The one package of "dependencies" is native and stays a package; everything else is bundled.
      externalizeDeps: true,
      rolldownOptions: {
        input: {
          main: "src-main/electron/main.ts",
          "service-process": "src-main/electron/service-process.ts",
          "copy-work-process": "src-main/electron/copy-work-process.ts",
        },
        output: { format: "es" },
      },
    },
  },
  preload: {
    plugins: [listPackagesFiles],
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
    plugins: [generatorsAreThere, react({ jsxImportSource: "#text" }), listPackagesFiles],
    build: {
      outDir: "out/renderer",
      // No data: addresses beside images: fonts and scripts come from the program's own origin.
      assetsInlineLimit: 0,
      rolldownOptions: { input: { index: "src-renderer/index.html" } },
    },
  },
});
