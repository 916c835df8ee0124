import { readdirSync } from "node:fs";
import { expect, it } from "vitest";
import { ALL_CASES } from "#core/selftest/all-cases.ts";
import type { ReferenceCase } from "#core/selftest/reference-case.ts";

const folder = new URL("../../../src-core/selftest/cases/", import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith(".ts"));

function isCase(value: unknown): value is ReferenceCase {
  return typeof value === "object" && value !== null && "got" in value && "expected" in value;
}

async function casesIn(file: string): Promise<readonly ReferenceCase[]> {
  const module: Readonly<Record<string, unknown>> = await import(new URL(file, folder).href);
  return Object.values(module).flatMap((value) => (Array.isArray(value) ? value.filter(isCase) : []));
}

it.each(files)("the self-test runs every case of %s", async (file) => {
  const cases = await casesIn(file);
  expect(cases.length, `${file} exports no cases`).toBeGreaterThan(0);
  const missing = cases.filter((reference) => !ALL_CASES.includes(reference)).map(({ id }) => id);
  expect(missing, `add ${file} to src-core/selftest/all-cases.ts`).toEqual([]);
});

it("gathers each case once, under an id of its own", async () => {
  const inFolder = (await Promise.all(files.map(casesIn))).flat();
  expect(ALL_CASES).toHaveLength(inFolder.length);
  const ids = ALL_CASES.map(({ id }) => id);
  expect(ids.filter((id, index) => ids.indexOf(id) !== index)).toEqual([]);
});

it("names a source for every case", () => {
  expect(ALL_CASES.filter(({ source }) => source.trim().length < 8)).toEqual([]);
});
