import { expect, it } from "vitest";
import { theActsLeft } from "../../support/every-act.ts";
import { fullBench } from "../../support/full-bench.ts";
import { headSignerInMemory } from "../../support/head-signer-in-memory.ts";
import { dumpOf } from "../../support/raw-database.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

const HALF = String.fromCharCode(0xdc00);

/** Where the texts of an input stand. */
function textsIn(value: unknown, path: readonly string[] = []): (readonly string[])[] {
  if (typeof value === "string") return [path];
  return Object.entries(value ?? {}).flatMap(([key, member]) => textsIn(member, [...path, key]));
}

function withHalf(value: unknown, [key, ...rest]: readonly string[]): unknown {
  if (key === undefined) return `${value}${HALF}`;
  const copy = structuredClone(value) as Record<string, unknown>;
  copy[key] = withHalf(copy[key], rest);
  return copy;
}

it("half a character in any text of any call is refused, and nothing is changed", {
  timeout: 300_000,
}, async () => {
  const inner = await tempBench({ headSigner: headSignerInMemory() });
  const made: [name: string, input: unknown][] = [];
  const bench: TempBench = {
    ...inner,
    async call(name, input) {
      made.push([name, input]);
      return inner.call(name, input);
    },
  };
  await theActsLeft(bench, await fullBench(bench));
  const once = new Map(made.map((one) => [one[0], one]));
  const before = dumpOf(inner.paths.databaseFile);
  let tried = 0;
  for (const [name, input] of once.values()) {
    for (const path of textsIn(input)) {
      const error = await inner.refusal(name, withHalf(input, path));
      expect(error.code, `${name} ${path.join(".")}`).toBe("input.invalid");
      tried += 1;
    }
  }
  expect(once.size).toBeGreaterThan(60);
  expect(tried).toBeGreaterThan(300);
  expect(dumpOf(inner.paths.databaseFile)).toBe(before);
  await inner.end();
});
