import { globSync, readFileSync } from "node:fs";
import { dirname, join, normalize } from "node:path";
import { describe, expect, it } from "vitest";
import { ROOT } from "./planted-tree.ts";

/** Where the program begins: its processes, its command lines, its window and the maker of the window's elements. */
const ENTRIES =
  /^src-main\/(electron\/(main|service-process|preload|copy-work-process)|launch\/.*|loopback\/(main|copy-work-process))\.ts$|^src-renderer\/(main\.tsx|window\/text-runtime\.ts)$/;
/** The reference cases are no use of what they check. */
const CASES = /^src-core\/selftest\//;

type Sources = Readonly<Record<string, string>>;

const FROM = /(?:^|[;}\n])\s*(import|export)\s+(?!type\b)((?:[^"';](?!\bfrom\b))*?)\s*from\s*"([^"]+)"/g;
const PLAIN = /\bimport\s*\(?\s*"([^"]+)"|new URL\(\s*"(\.[^"]+)"/g;

/** `{ type A, type B }` alone brings in no function. */
function bringsInNothing(names: string): boolean {
  const list = /^\{([^}]*)\}$/.exec(names.trim())?.[1];
  return list?.split(",").every((name) => name.trim() === "" || name.trim().startsWith("type ")) ?? false;
}

function specifiersIn(text: string): string[] {
  const named = [...text.matchAll(FROM)].flatMap(([, , names = "", path = ""]) =>
    bringsInNothing(names) ? [] : [path],
  );
  const plain = [...text.matchAll(PLAIN)].map(([, path, url]) => path ?? url ?? "");
  return [...named, ...plain];
}

function fileOf(from: string, specifier: string, sources: Sources): string[] {
  const bare = specifier.replace(/\?.*$/, "");
  const path = bare.startsWith("#") ? bare.replace("#", "src-") : normalize(join(dirname(from), bare));
  return path in sources ? [path] : [];
}

/** Modules of the core that no entry of the program leads to, types and reference cases aside. */
function unreached(sources: Sources): string[] {
  const reached = new Set<string>();
  const open = Object.keys(sources).filter((file) => ENTRIES.test(file));
  for (let file = open.pop(); file !== undefined; file = open.pop()) {
    if (reached.has(file)) continue;
    reached.add(file);
    for (const specifier of specifiersIn(sources[file] ?? "")) {
      open.push(...fileOf(file, specifier, sources).filter((next) => !CASES.test(next)));
    }
  }
  // A file of types alone has nothing to reach.
  const does = (text: string): boolean => /^export (?!type\b|interface\b)/m.test(text);
  return Object.keys(sources)
    .filter((file) => file.startsWith("src-core/") && !CASES.test(file) && !reached.has(file))
    .filter((file) => does(sources[file] ?? ""))
    .sort();
}

describe("modules of the core", () => {
  it("are reached by the program, not by its reference cases alone", () => {
    const files = globSync("src-{core,main,renderer}/**/*.{ts,tsx}", { cwd: ROOT });
    expect(files.length).toBeGreaterThan(1000);
    const sources = Object.fromEntries(
      files.map((file) => [file, readFileSync(join(ROOT, file), "utf8")] as const),
    );
    expect(unreached(sources)).toEqual([]);
  });

  it("are found where a case, a type or another unreached module is all that leads to them", () => {
    const planted: Sources = {
      "src-renderer/main.tsx":
        'import { used } from "#core/statistics/used.ts";\nimport type { Kind } from "#core/statistics/typed.ts";\nimport {\n  type Other,\n} from "#core/statistics/typed.ts";\nconst cases = () => import("#core/selftest/cases/checked.ts");\n',
      "src-core/selftest/cases/checked.ts": 'import { lost } from "../../statistics/lost.ts";\n',
      "src-core/statistics/used.ts":
        'export { again } from "./again.ts";\nimport { type Thing, way } from "./way.ts";\nexport const used = 1;\n',
      "src-core/statistics/again.ts": "export const again = 1;\n",
      "src-core/statistics/way.ts": "export const way = 1;\n",
      "src-core/statistics/typed.ts": "export type Kind = 1;\nexport const lonely = 1;\n",
      "src-core/statistics/lost.ts":
        'import { deeper } from "./deeper.ts";\nexport const lost = () => deeper;\n',
      "src-core/statistics/deeper.ts": "export const deeper = 1;\n",
      "src-core/statistics/words.ts": "export interface Words {}\n",
    };
    expect(unreached(planted)).toEqual([
      "src-core/statistics/deeper.ts",
      "src-core/statistics/lost.ts",
      "src-core/statistics/typed.ts",
    ]);
  });
});
