import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { TrailLine } from "#core/contract/records/trail.ts";
import type { TrailEvent } from "#core/contract/trail-events/trail-event.ts";
import { openBench } from "#main/store/bench-file/open.ts";
import { openReadOnly } from "#main/store/bench-file/read-only.ts";
import { immediate } from "#main/store/connection.ts";
import { appendTrail, trailAfter } from "#main/store/repositories/audit-trail.ts";
import { readTrailAhead, searchTrail } from "#main/store/repositories/trail-search.ts";
import { fullBench } from "../../support/full-bench.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

/** Every word read out of the lines themselves, one after the other. */
function plainly(lines: readonly TrailLine[], words: string): number[] {
  const texts = ({ detail, act, subject, subjectId, reason }: TrailLine): string[] =>
    [detail, act, subject, subjectId, reason ?? ""].map((text) => text.toLowerCase());
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  return lines
    .filter((line) => wanted.every((word) => texts(line).some((text) => text.includes(word))))
    .map(({ sequence }) => sequence)
    .reverse();
}

describe("lines found by words", () => {
  let bench: TempBench;
  let opened: ReturnType<typeof openReadOnly>;
  let lines: TrailLine[];
  beforeAll(async () => {
    bench = await tempBench();
    await fullBench(bench);
    await bench.program.close();
    opened = openReadOnly(bench.paths.databaseFile);
    lines = trailAfter(opened.db, 0, Number.MAX_SAFE_INTEGER);
  }, 120_000);
  afterAll(async () => {
    opened.close();
    await bench.end();
  });

  const found = async (words: string, more = {}): Promise<number[]> => {
    const wanted = { words, personId: null, since: null, until: null, ...more };
    return (await searchTrail(opened.db, null, 10_000, wanted)).map(({ sequence }) => sequence);
  };

  it("are those in which every word occurs, wherever it stands and in either case", async () => {
    const words = new Set(
      lines.flatMap(({ detail, reason }) => `${detail} ${reason}`.match(/[\p{L}\d.]{3,12}/gu) ?? []),
    );
    const parts = lines.flatMap(({ detail, subjectId }, i) => [
      detail.slice(i % 50, (i % 50) + 9).replaceAll(/\s/g, ""),
      subjectId.slice(1, 9),
    ]);
    const tried = [...words, ...parts, "rows.enter", "ROWS", "ünfindable", "µ", "rows 51.5", '"left":"'];
    expect(tried.length).toBeGreaterThan(500);
    const every = Math.ceil(tried.length / 150);
    for (const one of tried.filter((_, i) => i % every === 0 || i > tried.length - 7)) {
      expect([one, await found(one)]).toEqual([one, plainly(lines, one)]);
      const other = one.toUpperCase();
      expect([other, await found(other)]).toEqual([other, plainly(lines, other)]);
    }
  }, 60_000);

  it("are those of a person and of a time, page after page", async () => {
    const { personId, at } = lines[40] as TrailLine;
    const of = (one: TrailLine): boolean => one.personId === personId && one.at >= at;
    const wanted = lines.filter(of).map(({ sequence }) => sequence);
    expect(wanted.length).toBeGreaterThan(5);
    expect(await found("", { personId, since: at })).toEqual(wanted.toReversed());
    expect(await found("", { until: at })).toEqual(
      lines
        .filter((one) => one.at < at)
        .map(({ sequence }) => sequence)
        .reverse(),
    );
    const search = { words: "", personId, since: at, until: null };
    const page = await searchTrail(opened.db, null, 3, search);
    expect(page.map(({ sequence }) => sequence)).toEqual(wanted.slice(-3).reverse());
    const next = await searchTrail(opened.db, page.at(-1)?.sequence ?? 0, 3, search);
    expect(next.map(({ sequence }) => sequence)).toEqual(wanted.slice(-6, -3).reverse());
    expect(await found("", { personId: "nobody" })).toEqual([]);
  });
});

describe("a trail of many windows", () => {
  it("is found in as it stands, also what was added since the last search, and from any line on", async () => {
    const bench = await tempBench();
    await bench.program.close();
    const open = await openBench({ paths: bench.paths, clock: bench.clock, host: "bench" });
    const at = bench.clock.now();
    const tell = (from: number, to: number): void =>
      immediate(open.db, (db) => {
        for (let jar = from; jar <= to; jar += 1) {
          const reason = jar % 1000 === 0 ? `Jar ${jar} broken` : null;
          const act = { act: "bench.note", subject: "bench", subjectId: "bench", reason, detail: { jar } };
          appendTrail(db, act as unknown as TrailEvent, { at, personId: null });
        }
      });
    const search = async (words: string, before: number | null = null): Promise<number[]> => {
      const wanted = { words, personId: null, since: null, until: null };
      return (await searchTrail(open.db, before, 10_000, wanted)).map(({ sequence }) => sequence);
    };
    try {
      tell(1, 9_500);
      // As the page of the trail does; a bench closed meanwhile ends it.
      await readTrailAhead(open.db);
      const lines = trailAfter(open.db, 0, Number.MAX_SAFE_INTEGER);
      for (const words of ["broken", "BROKEN jar", '"jar":4000', "unheard-of", "4000", "broken"]) {
        expect([words, await search(words)]).toEqual([words, plainly(lines, words)]);
      }
      tell(9_501, 12_500);
      const more = trailAfter(open.db, 0, Number.MAX_SAFE_INTEGER);
      const broken = plainly(more, "broken");
      expect(broken).toHaveLength(12);
      expect(await search("broken")).toEqual(broken);
      const [, , , fourth = 0] = broken;
      expect(await search("broken", fourth)).toEqual(broken.slice(4));
    } finally {
      open.close();
      await bench.end();
    }
  }, 60_000);
});
