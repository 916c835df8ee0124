import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { gunzipSync } from "node:zlib";
import { beforeAll, describe, expect, it } from "vitest";
import type { TrailLine } from "#core/contract/records/trail.ts";
import { LACKING } from "#core/contract/trail-events/legacy-trail.ts";
import { eventOf } from "#core/contract/trail-events/read-event.ts";
import { TRAIL_DETAILS } from "#core/contract/trail-events/trail-event.ts";
import { assemble } from "#main/assemble.ts";
import { countedIds, fixedClock } from "../../support/fixed-clock.ts";
import { tempFolder } from "../../support/temp-bench.ts";
import { callOn } from "../exchange/exported.ts";

const BENCH = fileURLToPath(new URL("../older-benches/0.1.0/bench.sqlite.gz", import.meta.url));

type Schema = {
  safeParse(detail: unknown): {
    error?: { issues: readonly { path: PropertyKey[]; code: string }[] } | undefined;
  };
};
const SCHEMAS: Readonly<Record<string, Readonly<Record<string, Schema>>>> = TRAIL_DETAILS;
const LEFT_OUT: Readonly<Record<string, readonly string[]>> = LACKING;

describe("lines of version 0.1.0", () => {
  let lines: TrailLine[] = [];

  beforeAll(async () => {
    const folder = tempFolder();
    mkdirSync(folder.paths.dataFolder, { recursive: true });
    writeFileSync(folder.paths.databaseFile, gunzipSync(readFileSync(BENCH)));
    const program = await assemble({
      paths: folder.paths,
      clock: fixedClock("2027-06-01T08:00:00.000Z"),
      ids: countedIds("later"),
      host: "loopback",
      programVersion: "0.0.0-test",
    });
    lines = await callOn(program)("trail.page", { before: null, count: 200 });
    await program.close();
    folder.remove();
  });

  it("are read in the form of today, but for what nothing can say for them", () => {
    expect(lines.length).toBeGreaterThanOrEqual(112);
    for (const line of lines) {
      const { act, subject, detail } = eventOf(line);
      const schema = SCHEMAS[act]?.[subject];
      expect(schema, `${act} ${subject}`).toBeDefined();
      const wrong = (schema?.safeParse(detail).error?.issues ?? []).filter(
        ({ path: [key, ...deeper] }) =>
          deeper.length > 0 || key === undefined || key in detail || !LEFT_OUT[act]?.includes(String(key)),
      );
      expect(wrong, `${act}, line ${line.sequence}`).toEqual([]);
    }
  });

  it("say nobody is named as customer where customers were not asked for yet", () => {
    const opened = lines.filter(({ act }) => act === "sheets.open");
    expect(opened.every(({ detail }) => !("customer" in JSON.parse(detail)))).toBe(true);
    expect(opened.map((line) => eventOf(line).detail)).toEqual([
      expect.objectContaining({ customer: null }),
      expect.objectContaining({ customer: null }),
    ]);
  });
});

describe("a line", () => {
  const line: TrailLine = {
    sequence: 7,
    at: "2026-03-02T09:00:00.000Z",
    personId: "id-1",
    act: "tallies.pause",
    subject: "tally",
    subjectId: "id-2",
    reason: null,
    detail: '{"field":1,"hash":"","seconds":12,"sequence":3}',
    hash: "0".repeat(64),
  };

  it("is read in the words of the program, its number kept apart from numbers of its detail", () => {
    expect(eventOf(line)).toEqual({
      sequence: 7,
      at: line.at,
      by: "id-1",
      act: "counts.pause",
      subject: "count",
      subjectId: "id-2",
      reason: null,
      detail: { field: 1, hash: "", seconds: 12, sequence: 3 },
    });
  });

  it("of an act that nobody knows stays as it is, and one that is no JSON is an error", () => {
    expect(eventOf({ ...line, act: "sheets.fold", detail: '{"to":1}' })).toMatchObject({
      act: "sheets.fold",
      detail: { to: 1 },
    });
    expect(() => eventOf({ ...line, detail: "{" })).toThrow(SyntaxError);
  });
});
