import { spawnSync } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { BIN, plantTree, ROOT } from "./planted-tree.ts";

const NESTED = `${"if (n > 1) {\n".repeat(7)}return 1;\n${"}\n".repeat(7)}return 2;\n`;

/** Rule, file and text that must make it fire. */
const CASES: readonly (readonly [rule: string, file: string, text: string])[] = [
  ["noRestrictedGlobals", "src-core/clock.ts", "export const now = () => Date.now();\n"],
  ["noRestrictedGlobals", "src-core/loose.ts", 'export const read = parseFloat("1,5");\n'],
  ["noRestrictedGlobals", "src-core/timing.ts", "export const at = performance.now();\n"],
  ["noExplicitAny", "src-core/loose-type.ts", "export const read = (value: any): string => String(value);\n"],
  ["noNonNullAssertion", "src-main/hope.ts", "export const first = (list: number[]) => list.at(0)!;\n"],
  ["noDefaultExport", "src-main/nameless.ts", "export default 1;\n"],
  ["noBarrelFile", "src-core/all.ts", 'export * from "./clock.ts";\n'],
  ["noImportCycles", "src-core/one.ts", 'import { two } from "./two.ts";\nexport const one = () => two;\n'],
  ["useFilenamingConvention", "src-core/snake_case.ts", "export const snake = 1;\n"],
  ["useImportExtensions", "src-core/bare.ts", 'import { one } from "./one";\nexport const bare = one;\n'],
  ["noUnusedImports", "src-core/idle.ts", 'import { one } from "./one.ts";\nexport const idle = 1;\n'],
  [
    "noExcessiveCognitiveComplexity",
    "src-core/maze.ts",
    `export function maze(n: number): number {\n${NESTED}}\n`,
  ],
];

describe("what the linter refuses", () => {
  const tree = plantTree({
    "src-core/two.ts": 'import { one } from "./one.ts";\nexport const two = () => one;\n',
    ...Object.fromEntries(CASES.map(([, file, text]) => [file, text])),
  });
  const run = spawnSync(join(BIN, "biome"), ["lint", "--reporter=json", "--max-diagnostics=none", "."], {
    cwd: tree.folder,
    encoding: "utf8",
  });
  tree.remove();
  const { diagnostics } = JSON.parse(run.stdout) as {
    diagnostics: { category: string; severity: string; location: { path: unknown } }[];
  };

  it.each(CASES)("%s fires in %s", (rule, file) => {
    const fired = diagnostics.filter(
      ({ category, severity, location }) =>
        severity === "error" && category.endsWith(`/${rule}`) && JSON.stringify(location.path).includes(file),
    );
    expect(fired).not.toEqual([]);
  });
});

describe("what no tool sees", () => {
  const files = readdirSync(join(ROOT, "src-core"), { recursive: true, encoding: "utf8" });
  const sources = files.filter((file) => file.endsWith(".ts"));

  it("core has no chance in it, and reads numbers in one place only", () => {
    expect(sources.length).toBeGreaterThan(20);
    const telling = sources.filter((file) =>
      /\bMath\.random\b|\bNumber\.parseFloat\b|\bcrypto\./.test(
        readFileSync(join(ROOT, "src-core", file), "utf8"),
      ),
    );
    expect(telling).toEqual([]);
  });
});
