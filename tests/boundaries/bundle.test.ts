import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { carriedPackages, noticesText } from "../support/third-party-notices.ts";
import { BIN, ROOT } from "./planted-tree.ts";

/** The bundles as `npm run build` makes them, in a folder of their own. */
describe("what is built", () => {
  const folder = mkdtempSync(join(tmpdir(), "linefall-bundle-"));
  afterAll(() => rmSync(folder, { recursive: true }));
  const built = spawnSync(join(BIN, "electron-vite"), ["build", "--logLevel", "warn", "--outDir", folder], {
    cwd: ROOT,
    encoding: "utf8",
  });
  const textOf = (part: string) =>
    readdirSync(join(folder, part), { recursive: true, encoding: "utf8" })
      .filter((file) => /\.(c?js|html)$/.test(file))
      .map((file) => readFileSync(join(folder, part, file), "utf8"))
      .join("\n");

  it("builds without the Electron binary", () => {
    expect(built.status).toBe(0);
  });

  it("the Electron main process holds nothing of the loopback host", () => {
    const main = textOf("main");
    expect(main).toContain("requestSingleInstanceLock");
    expect(main).not.toMatch(/node:http|createServer|src-main\/(loopback|launch)|SameSite|sec-fetch-site/i);
  });

  it("the window's process loads no database, no workbook and no service", () => {
    const graph = new Map<string, string>();
    const walk = (file: string): void => {
      if (graph.has(file)) return;
      const text = readFileSync(join(folder, "main", file), "utf8");
      graph.set(file, text);
      for (const [, next] of text.matchAll(/(?:from |import\(|import )"(\.[^"]+)"/g))
        walk(join(dirname(file), next ?? ""));
    };
    walk("main.js");
    const main = [...graph.values()].join("\n");
    expect(main).toContain("requestSingleInstanceLock");
    expect(main).not.toMatch(/better-sqlite3|SharedStringsXform|createDispatcher/);
    const service = readFileSync(join(folder, "main", "service-process.js"), "utf8");
    expect(service).toContain("parentPort");
    expect(textOf("main")).toContain("better-sqlite3");
    expect(graph.has("service-process.js")).toBe(false);
  });

  it("the main process asks for the one native package that a package of the program carries", () => {
    const text = textOf("main");
    const imports = [
      ...text.matchAll(/^import (?:.* from )?"([^"]+)"/gm),
      ...text.matchAll(/\bimport\("([^"]+)"\)/g),
    ];
    const asked = new Set(imports.map((match) => match[1] ?? "").filter((name) => !/^(\.|node:)/.test(name)));
    const { dependencies } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8"));
    expect([...asked].sort()).toEqual(["better-sqlite3", "electron"]);
    expect(Object.keys(dependencies)).toEqual(["better-sqlite3"]);
  });

  it("the main process holds no part of exceljs that reads or packs, and nothing of what those parts bring", () => {
    const files: string[] = JSON.parse(readFileSync(join(folder, "bundled", "main.json"), "utf8"));
    const needless =
      /(?:^|node_modules\/)(unzipper|fstream|rimraf|inflight|glob|archiver|uuid|saxes|readable-stream|jszip|fast-csv|tmp)\/|reader|zip-/;
    expect(files).toContain("exceljs/lib/utils/shared-strings.js");
    expect(files.filter((file) => needless.test(file))).toEqual([]);
  });

  it("the notices of third parties are those of what ships", () => {
    const { dependencies } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8"));
    const names = carriedPackages(join(folder, "bundled"), Object.keys(dependencies));
    const made = noticesText(join(ROOT, "node_modules"), names);
    const kept = readFileSync(join(ROOT, "resources", "THIRD-PARTY-NOTICES.txt"), "utf8");
    expect(kept === made, "run `npm run notices`").toBe(true);
  });

  it("the preload is one CommonJS file that needs electron alone", () => {
    expect(readdirSync(join(folder, "preload"))).toEqual(["preload.cjs"]);
    const preload = textOf("preload");
    expect([...preload.matchAll(/require\("([^"]+)"\)/g)].map((match) => match[1])).toEqual(["electron"]);
    expect(preload).not.toMatch(/^import |import\(/m);
  });

  it("the window has no inline script or style and asks nothing of other origins", () => {
    const page = readFileSync(join(folder, "renderer", "index.html"), "utf8");
    expect(page).not.toMatch(/<script(?![^>]*\bsrc=)|<style|\sstyle=|\son\w+=|https?:\/\//);
  });
});
