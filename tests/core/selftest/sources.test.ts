import { readdirSync } from "node:fs";
import { expect, it } from "vitest";
import { PROPOSED_LIMITS } from "#core/calibration/limits.ts";
import { ALL_CASES } from "#core/selftest/all-cases.ts";
import type { Provenance } from "#core/vocabulary/provenance.ts";

/** `Author: title (year), place`: enough for a reader to find it. */
const FINDABLE = /^[^:]*\p{L}{2}[^:]*: .{8,} \((18|19|20)\d\d[^)]*\)/u;
/** Things sold for this work, their makers, and pages nobody could find. */
const NO_PLACE =
  /operating manual|instruction|maker's|forum|discussion page|community page|help page|abstract/i;

const core = new URL("../../../src-core/", import.meta.url);
const ROOMS = ["counting", "measurement", "methods", "optics", "vocabulary"];

function provenancesIn(value: unknown, seen: Set<unknown>): readonly Provenance[] {
  if (typeof value !== "object" || value === null || seen.has(value)) return [];
  seen.add(value);
  const inside = Object.values(value).flatMap((part) => provenancesIn(part, seen));
  const isOne = "source" in value && "standing" in value && typeof value.source === "string";
  return isOne ? [value as Provenance, ...inside] : inside;
}

/** Every rule, limit, class table, chamber and ready method of the core that says where it comes from. */
async function provenances(): Promise<readonly Provenance[]> {
  const seen = new Set<unknown>();
  const found: Provenance[] = [];
  for (const room of ROOMS) {
    const files = readdirSync(new URL(`${room}/`, core), { recursive: true, encoding: "utf8" });
    for (const file of files.filter((name) => name.endsWith(".ts"))) {
      const module: object = await import(new URL(`${room}/${file}`, core).href);
      found.push(...Object.values(module).flatMap((value) => provenancesIn(value, seen)));
    }
  }
  return found;
}

it("a case called published names author, title and year", () => {
  const wrong = ALL_CASES.filter((one) => one.standing === "published" && !FINDABLE.test(one.source));
  expect(wrong.map(({ id, source }) => `${id}: ${source}`)).toEqual([]);
});

it("a rule, limit or class table called published does so as well", async () => {
  const all = await provenances();
  expect(all.length).toBeGreaterThan(50);
  const wrong = all.filter((one) => one.standing === "published" && !FINDABLE.test(one.source));
  expect(wrong.map(({ source }) => source)).toEqual([]);
});

it("no source is a page that nobody could find", async () => {
  const origins = Object.values(PROPOSED_LIMITS).map(({ origin }) => origin);
  const sources = [...ALL_CASES, ...(await provenances())].map(({ source }) => source);
  expect([...origins, ...sources].filter((one) => NO_PLACE.test(one))).toEqual([]);
});
