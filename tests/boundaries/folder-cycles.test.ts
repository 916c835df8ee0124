import { globSync, readFileSync } from "node:fs";
import { dirname, join, normalize } from "node:path";
import { describe, expect, it } from "vitest";
import { ROOT } from "./planted-tree.ts";

type Import = readonly [from: string, to: string];

const SPECIFIER = /(?:from|import)\s*\(?\s*"((?:\.{1,2}|#core|#main|#renderer)\/[^"]+)"/g;

function importsOf(file: string): Import[] {
  const text = readFileSync(join(ROOT, file), "utf8");
  return [...text.matchAll(SPECIFIER)].map(([, path = ""]): Import => {
    const to = path.startsWith("#") ? path.replace("#", "src-") : normalize(join(dirname(file), path));
    return [file, to];
  });
}

/** Arrows between two folders that stand beside each other, below the last folder both share. */
function importsBetweenNeighbours(imports: readonly Import[]): Map<string, Map<string, Set<string>>> {
  const levels = new Map<string, Map<string, Set<string>>>();
  for (const [from, to] of imports) {
    const [a, b] = [dirname(from).split("/"), dirname(to).split("/")];
    const shared = a.findIndex((part, at) => part !== b[at]);
    const [here, there] = [a[shared], b[shared]];
    if (shared < 0 || here === undefined || there === undefined) continue;
    const parent = a.slice(0, shared).join("/");
    const neighbours = levels.get(parent) ?? new Map<string, Set<string>>();
    levels.set(parent, neighbours.set(here, (neighbours.get(here) ?? new Set()).add(there)));
  }
  return levels;
}

/** Folders from which a way of imports leads back to themselves, at any level. */
function foldersInCircles(imports: readonly Import[]): string[] {
  const found: string[] = [];
  for (const [parent, neighbours] of importsBetweenNeighbours(imports)) {
    for (const start of neighbours.keys()) {
      const reached = new Set<string>();
      const open = [...(neighbours.get(start) ?? [])];
      for (let next = open.pop(); next !== undefined; next = open.pop()) {
        if (reached.has(next)) continue;
        reached.add(next);
        open.push(...(neighbours.get(next) ?? []));
      }
      if (reached.has(start)) found.push(`${parent}/${start}`);
    }
  }
  return found.sort();
}

describe("folders", () => {
  it("do not import each other in circles, at any level", () => {
    const files = globSync("src-{core,main,renderer}/**/*.{ts,tsx}", { cwd: ROOT });
    expect(files.length).toBeGreaterThan(1000);
    expect(foldersInCircles(files.flatMap(importsOf))).toEqual([]);
  });

  it("are found in a circle that closes above them only", () => {
    const planted: Import[] = [
      ["src-core/counting/areas/a.ts", "src-core/optics/b.ts"],
      ["src-core/optics/c.ts", "src-core/counting/inputs/d.ts"],
      ["src-core/trends/e.ts", "src-core/optics/b.ts"],
    ];
    expect(foldersInCircles(planted)).toEqual(["src-core/counting", "src-core/optics"]);
  });
});
