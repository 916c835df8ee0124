import { spawnSync } from "node:child_process";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { BIN, plantTree, ROOT } from "./planted-tree.ts";

const settings = pathToFileURL(join(ROOT, ".dependency-cruiser.mjs")).href;
const { default: cruiser } = (await import(settings)) as { default: { forbidden: { name: string }[] } };

interface Violation {
  readonly rule: { readonly name: string };
  readonly from: string;
}

/** Its violations name the folder; planted violations of other rules close circles of folders too. */
const FOLDER_RULE = "no-folder-cycles";

/** One violation per rule of .dependency-cruiser.mjs: the offending file and what it says. */
const PLANTED: Readonly<Record<string, readonly [file: string, text: string]>> = {
  "no-cycles": ["src-core/optics/one.ts", 'import "./two.ts";\nexport const one = 1;\n'],
  [FOLDER_RULE]: ["src-core/trends/reaches-drawing.ts", 'import "../drawing/reached.ts";\n'],
  "contract-knows-no-domain": ["src-core/contract/reaches-trends.ts", 'import "../trends/lawful.ts";\n'],
  "vocabulary-knows-nothing": ["src-core/vocabulary/reaches-trends.ts", 'import "../trends/lawful.ts";\n'],
  "file-formats-know-no-service": [
    "src-main/workbook/reaches-service.ts",
    'import "../services/thing.ts";\n',
  ],
  "parts-know-no-screen": ["src-renderer/parts/reaches-shell.ts", 'import "../app/shell.ts";\n'],
  "live-lies-below": ["src-renderer/live/reaches-parts.ts", 'import "../parts/reaches-shell.ts";\n'],
  "core-is-pure": [
    "src-core/optics/reaches-main.ts",
    'import type { Thing } from "#main/services/thing.ts";\nexport type Reached = Thing;\n',
  ],
  "core-has-no-node": ["src-core/optics/reads-files.ts", 'import "node:fs";\n'],
  "renderer-meets-main-through-the-contract": [
    "src-renderer/screens/reaches-main.ts",
    'import type { Thing } from "#main/services/thing.ts";\nexport type Reached = Thing;\n',
  ],
  "main-meets-renderer-through-the-contract": [
    "src-main/services/reaches-renderer.ts",
    'import "#renderer/app/shell.ts";\n',
  ],
  "services-know-no-host": ["src-main/services/reaches-host.ts", 'import "../electron/window.ts";\n'],
  "store-knows-no-service": ["src-main/store/reaches-service.ts", 'import "../services/thing.ts";\n'],
  "dispatch-knows-no-service": ["src-main/dispatch/reaches-service.ts", 'import "../services/thing.ts";\n'],
  "electron-without-loopback": ["src-main/electron/reaches-loopback.ts", 'import "../loopback/server.ts";\n'],
  "the-window-process-does-no-services": [
    "src-main/electron/works-itself.ts",
    'import "../services/thing.ts";\n',
  ],
  "the-service-process-runs-anywhere": ["src-main/electron/serve-bench.ts", 'import "electron";\n'],
  "only-the-shell-imports-electron": [
    "src-main/services/asks-electron.ts",
    'import type { thing } from "electron";\nexport type Asked = typeof thing;\n',
  ],
  "only-quantity-imports-decimal": ["src-core/statistics/own-decimal.ts", 'import "decimal.js";\n'],
  "only-the-store-imports-sqlite": ["src-main/services/own-sql.ts", 'import "better-sqlite3";\n'],
  "only-the-workbook-imports-exceljs": [
    "src-main/services/own-workbook.ts",
    'import type { Cell } from "exceljs";\nexport type Own = Cell;\n',
  ],
  "no-more-of-exceljs-than-its-writer": ["src-main/workbook/whole-library.ts", 'import "exceljs";\n'],
  "only-formula-text-imports-jsep": ["src-core/statistics/own-parser.ts", 'import "jsep";\n'],
  "only-distributions-imports-stdlib": [
    "src-core/statistics/own-quantile.ts",
    'import "@stdlib/stats-base-dists-t-quantile";\n',
  ],
};

/** What the offenders reach for, and a lawful neighbour of each rule, which must stay quiet. */
const LAWFUL: Readonly<Record<string, string>> = {
  "src-core/optics/two.ts": 'import "./one.ts";\nexport const two = 2;\n',
  "src-core/drawing/reached.ts": 'import "../trends/lawful.ts";\n',
  "src-core/trends/lawful.ts": "export const lawful = 1;\n",
  "src-core/quantity/decimal.ts": 'import "decimal.js";\n',
  "src-core/measurement/formulas/formula-text.ts": 'import "jsep";\n',
  "src-core/statistics/distributions.ts": 'import "@stdlib/stats-base-dists-t-quantile";\n',
  "src-main/services/thing.ts": "export type Thing = number;\n",
  "src-main/store/open.ts": 'import "better-sqlite3";\n',
  "src-main/workbook/workbook.ts":
    'import type { Cell } from "exceljs";\nimport "exceljs/lib/doc/range.js";\nexport type Lawful = Cell;\n',
  "src-main/electron/window.ts": 'import "electron";\n',
  "src-main/electron/service-process.ts": 'import "../services/thing.ts";\n',
  "src-main/loopback/server.ts": 'import "node:http";\nimport "../services/thing.ts";\n',
  "src-main/assemble.ts": 'import "./store/open.ts";\nimport "#core/quantity/decimal.ts";\n',
  "src-renderer/app/shell.ts": 'import "#core/quantity/decimal.ts";\nexport const shell = 1;\n',
};

const PACKAGES = [
  "electron",
  "decimal.js",
  "jsep",
  "better-sqlite3",
  "exceljs",
  "@stdlib/stats-base-dists-t-quantile",
];

function violations(): Violation[] {
  const planted = Object.fromEntries(Object.values(PLANTED));
  const tree = plantTree({ ...LAWFUL, ...planted }, PACKAGES);
  try {
    const args = ["--config", ".dependency-cruiser.mjs", "--output-type", "json"];
    const run = spawnSync(join(BIN, "depcruise"), [...args, "src-core", "src-main", "src-renderer"], {
      cwd: tree.folder,
      encoding: "utf8",
      maxBuffer: 64 * 1024 * 1024,
    });
    return (JSON.parse(run.stdout) as { summary: { violations: Violation[] } }).summary.violations;
  } finally {
    tree.remove();
  }
}

describe("the import rules between folders", () => {
  const found = violations();
  const rules = cruiser.forbidden.map((rule) => rule.name);

  it("every rule has a planted violation", () => {
    expect(Object.keys(PLANTED).sort()).toEqual([...rules].sort());
  });

  it.each(rules)("%s fires", (rule) => {
    const file = PLANTED[rule]?.[0] ?? "";
    const offender = rule === FOLDER_RULE ? dirname(file) : file;
    expect(found.filter(({ rule: { name }, from }) => name === rule && from === offender)).not.toEqual([]);
  });

  it("no rule fires at a lawful neighbour", () => {
    const offenders = new Set([...Object.values(PLANTED).map(([file]) => file), "src-core/optics/two.ts"]);
    const ofFiles = found.filter(({ rule }) => rule.name !== FOLDER_RULE);
    expect(ofFiles.filter(({ from }) => !offenders.has(from))).toEqual([]);
  });

  it("every offender breaks its own rule only", () => {
    const own = (file: string) => Object.entries(PLANTED).find(([, [offender]]) => offender === file)?.[0];
    const beyond = found.filter(
      ({ rule, from }) =>
        rule.name !== FOLDER_RULE && from !== "src-core/optics/two.ts" && own(from) !== rule.name,
    );
    expect(beyond).toEqual([]);
  });
});
