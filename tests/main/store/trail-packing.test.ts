import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { gunzipSync } from "node:zlib";
import fc from "fast-check";
import { expect, it } from "vitest";
import { openBench } from "#main/store/bench-file/open.ts";
import { trailAfter } from "#main/store/repositories/audit-trail.ts";
import {
  packDetail,
  packId,
  packInstant,
  unpackDetail,
  unpackId,
  unpackInstant,
} from "#main/store/trail-packing.ts";
import { fixedClock } from "../../support/fixed-clock.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import { tempFolder } from "../../support/temp-bench.ts";

const wellFormed = fc.string({ unit: "binary", maxLength: 300 }).map((text) => text.toWellFormed());
const known = fc.record({
  model: fc.option(wellFormed),
  at: fc.constant("2026-03-02T09:00:00.000Z"),
  personId: fc.option(fc.uuid()),
  subjectId: fc.oneof(fc.uuid(), wellFormed),
});

it("gives every text back as it was, whatever the model", () => {
  fc.assert(
    fc.property(wellFormed, known, fc.integer({ min: 1, max: 40 }), (text, about, times) => {
      const long = text.repeat(times);
      expect(unpackDetail(packDetail(long, about), about)).toBe(long);
    }),
  );
});

it("gives identifiers and instants back as they were, also those that are none", () => {
  const texts = fc.oneof(
    fc.uuid(),
    fc.uuid().map((id) => id.toUpperCase()),
    wellFormed,
    fc.constantFrom("2026-03-02T09:00:00.000Z", "2026-02-30T09:00:00.000Z", "2026-03-02T09:00:60.000Z", "0"),
  );
  fc.assert(
    fc.property(texts, (text) => {
      expect(unpackId(packId(text))).toBe(text);
      const kept = packInstant(text);
      expect(unpackInstant(typeof kept === "bigint" ? Number(kept) : kept)).toBe(text);
    }),
  );
});

it("keeps no more of the models of a long day than of those in use", () => {
  setFlagsFromString("--expose-gc");
  const collect = runInNewContext("gc") as () => void;
  const held = (): number => {
    collect();
    return process.memoryUsage().arrayBuffers;
  };
  const goThrough = (from: number, to: number): void => {
    for (let day = from; day < to; day += 1) {
      const model = `{"sheet":"sheet ${day}","typed":"41.5"}`.padEnd(2000, `${day} `);
      const about = { model, at: "2026-03-02T09:00:00.000Z", personId: null, subjectId: "row" };
      const text = `${model.slice(0, 1500)} and more`;
      expect(unpackDetail(packDetail(text, about), about)).toBe(text);
    }
  };
  goThrough(0, 16);
  const before = held();
  goThrough(16, 64);
  expect((held() - before) / 1024).toBeLessThan(200);
});

it("refuses bytes that nobody packed", () => {
  const about = { model: null, at: "", personId: null, subjectId: "" };
  expect(() => unpackDetail(Buffer.of(7, 1, 2), about)).toThrow("no text is packed as 7");
  expect(() => unpackDetail(Buffer.of(1, 255, 255), about)).toThrow();
});

it("a bench of version 0.1.0 has every line of its trail after the step as before, byte for byte", async () => {
  const folder = tempFolder();
  mkdirSync(folder.paths.dataFolder, { recursive: true });
  const packed = new URL("../older-benches/0.1.0/bench.sqlite.gz", import.meta.url);
  writeFileSync(folder.paths.databaseFile, gunzipSync(readFileSync(fileURLToPath(packed))));
  const before = withRawDatabase(folder.paths.databaseFile, (database) =>
    database
      .prepare(
        `SELECT sequence, at, person_id AS "personId", act, subject, subject_id AS "subjectId", reason, detail, hash
         FROM audit_line ORDER BY sequence`,
      )
      .all(),
  );
  expect(before.length).toBeGreaterThan(100);
  const bench = await openBench({ paths: folder.paths, clock: fixedClock(), host: "test" });
  expect(trailAfter(bench.db, 0, Number.MAX_SAFE_INTEGER)).toEqual(before);
  bench.close();
  folder.remove();
});
