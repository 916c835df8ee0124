import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { BIN, plantTree } from "./planted-tree.ts";

/** What each folder must not even be able to name, with the compiler's message numbers. */
const CASES: readonly (readonly [what: string, project: string, text: string, numbers: RegExp])[] = [
  [
    "core reads files",
    "src-core",
    'import { readFileSync } from "node:fs";\nexport const read = readFileSync;\n',
    /TS2591|TS2307/,
  ],
  ["core asks for the process", "src-core", "export const home = process.env;\n", /TS2591|TS2580/],
  ["core draws", "src-core", "export const page = document.title;\n", /TS2584|TS2304/],
  ["core waits", "src-core", "export const later = setTimeout(() => {}, 1);\n", /TS2304|TS2591/],
  [
    "core imports main",
    "src-core",
    'import type { Other } from "#main/other.ts";\nexport type Mine = Other;\n',
    /TS6059|TS6307/,
  ],
  [
    "core imports the window",
    "src-core",
    'import type { Other } from "#renderer/other.ts";\nexport type Mine = Other;\n',
    /TS6059|TS6307/,
  ],
  ["main draws", "src-main", "export const page = document.title;\n", /TS2584|TS2304/],
  [
    "main imports the window",
    "src-main",
    'import type { Other } from "#renderer/other.ts";\nexport type Mine = Other;\n',
    /TS6059|TS6307/,
  ],
  [
    "the window reads files",
    "src-renderer",
    'import { readFileSync } from "node:fs";\nexport const read = readFileSync;\n',
    /TS2591|TS2307/,
  ],
  ["the window asks for the process", "src-renderer", "export const home = process.env;\n", /TS2591|TS2580/],
  [
    "the window imports main",
    "src-renderer",
    'import type { Other } from "#main/other.ts";\nexport type Mine = Other;\n',
    /TS6059|TS6307/,
  ],
  ["an enum anywhere", "src-core", "export enum Colour { Red }\n", /TS1294/],
  [
    "a list read without a check",
    "src-core",
    "export const first: number = ([] as number[])[0];\n",
    /TS2322/,
  ],
];

function messagesOf(project: string, text: string): string {
  const other = "export type Other = number;\n";
  const tree = plantTree({
    "src-core/other.ts": other,
    "src-main/other.ts": other,
    "src-renderer/other.ts": other,
    [`${project}/planted.ts`]: text,
  });
  try {
    const paths = ["-p", project, "--noEmit", "--pretty", "false"];
    const core = spawnSync(join(BIN, "tsc"), ["-b", "src-core"], { cwd: tree.folder, encoding: "utf8" });
    const run = spawnSync(join(BIN, "tsc"), paths, { cwd: tree.folder, encoding: "utf8" });
    return project === "src-core" ? run.stdout : core.stdout + run.stdout;
  } finally {
    tree.remove();
  }
}

describe("what a folder cannot even name", () => {
  it.each(CASES)("%s: the compiler refuses", (_what, project, text, numbers) => {
    const planted = messagesOf(project, text)
      .split("\n")
      .filter((line) => line.includes("planted.ts"));
    expect(planted.join("\n")).toMatch(numbers);
  });

  it.each(["src-core", "src-main", "src-renderer"])("a lawful file of %s compiles", (project) => {
    expect(messagesOf(project, "export const fine: readonly number[] = [1];\n")).toBe("");
  });
});
