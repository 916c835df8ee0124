import { setTimeout as wait } from "node:timers/promises";
import type { CallInput, CallName } from "#core/contract/calls.ts";
import type { TrailSearch } from "#core/contract/records/list-search.ts";
import type { TrailEvent } from "#core/contract/trail-events/trail-event.ts";
import { randomIds } from "#main/ports/ids.ts";
import { openBench } from "#main/store/bench-file/open.ts";
import { immediate } from "#main/store/connection.ts";
import { appendTrail } from "#main/store/repositories/audit-trail.ts";
import { buildScene } from "../support/bench-scenes.ts";
import { withRawDatabase } from "../support/raw-database.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { printTable, threeFigures } from "./print-table.ts";

const SHEETS = 5_000;
const LINES = 100_000;
const RUNS = 7;
/** What an answer may take, ms. */
const BUDGET = 100;

/** Invented lines, and invented sheets laid into the file: the search reads them as any other. */
async function fill({ paths, clock }: TempBench, personId: string): Promise<void> {
  const open = await openBench({ paths, clock, host: "bench" });
  const by = { at: clock.now(), personId };
  const act = { act: "bench.note", subject: "bench", subjectId: "bench" };
  immediate(open.db, (db) => {
    for (let jar = 1; jar <= LINES; jar += 1) {
      const detail = { jar, before: "as it was typed first of all", after: "as it was corrected later on" };
      appendTrail(db, { ...act, detail } as unknown as TrailEvent, by);
    }
  });
  open.close();
  withRawDatabase(paths.databaseFile, (database) => {
    const columns = (table: string, left: readonly string[]): string =>
      (database.pragma(`table_info(${table})`) as { name: string }[])
        .map(({ name }) => name)
        .filter((name) => !left.includes(name))
        .join(", ");
    const sheet = columns("sheet", ["id", "ordinal", "sample"]);
    database.exec(`
      WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < ${SHEETS - 1})
      INSERT INTO sheet (id, ordinal, sample, ${sheet})
        SELECT printf('%s-%05d', substr(s.id, 1, 20), n.i), s.ordinal + n.i, 'Pond ' || (n.i % 37) || ', jar ' || n.i, ${sheet}
        FROM n, (SELECT * FROM sheet LIMIT 1) s`);
  });
}

/** The middle of some runs, ms: parse, search, check of the answer, as the dispatcher does it. */
async function timed<N extends CallName>(bench: TempBench, name: N, input: CallInput<N>): Promise<number> {
  const times: number[] = [];
  for (let run = 0; run < RUNS; run += 1) {
    const start = performance.now();
    await bench.call(name, input);
    times.push(performance.now() - start);
  }
  return times.sort((a, b) => a - b)[Math.floor(RUNS / 2)] ?? Number.NaN;
}

/** Search and filters of the long lists, each against reading the whole list in the same run. */
export async function benchLists(): Promise<void> {
  const bench = await tempBench({ ids: randomIds });
  try {
    const scene = await buildScene(bench);
    await bench.program.close();
    await fill(bench, scene.personId);
    await bench.reopen();
    const all = {
      ...{ words: "", personId: null, familyId: null, objectiveId: null, since: null, until: null },
      ...{ sort: "number" as const, descending: true, skip: 0, count: 50, state: null },
    };
    const method = await bench.call("methods.get", { methodId: scene.methodId });
    const { objectiveId } = scene.sheet;
    const line: TrailSearch = { words: "", personId: null, since: null, until: null };
    const trail = (search: TrailSearch, before: number | null = null) =>
      ({ before, count: 50, search }) satisfies CallInput<"trail.page">;
    const whole = await timed(bench, "sheets.list", {});
    const firstSearch = async (): Promise<number> => {
      const start = performance.now();
      await bench.call("trail.page", trail({ ...line, words: "unfindable" }));
      return performance.now() - start;
    };
    const first = await firstSearch();
    await bench.reopen();
    // The page of the trail, and a person who begins to type.
    await bench.call("trail.page", { before: null, count: 50 });
    await wait(2000);
    const behindPage = await firstSearch();
    const measured: readonly (readonly [string, number])[] = [
      ["sheets: the whole list (baseline)", whole],
      ["sheets: a page", await timed(bench, "sheets.search", all)],
      ["sheets: the last page", await timed(bench, "sheets.search", { ...all, skip: SHEETS - 50 })],
      ["sheets: two words", await timed(bench, "sheets.search", { ...all, words: "pond 4999" })],
      ["sheets: a word nowhere", await timed(bench, "sheets.search", { ...all, words: "ünfindable" })],
      [
        "sheets: open, mine, method, objective",
        await timed(bench, "sheets.search", {
          ...all,
          ...{ state: "open", personId: scene.personId, familyId: method.familyId, objectiveId },
        }),
      ],
      ["sheets: by sample", await timed(bench, "sheets.search", { ...all, sort: "sample" })],
      ["trail: a page", await timed(bench, "trail.page", { before: null, count: 50 })],
      ["trail: far back", await timed(bench, "trail.page", trail(line, 1_000))],
      ["trail: a word of one line", await timed(bench, "trail.page", trail({ ...line, words: '"jar":7,' }))],
      ["trail: a word nowhere, the first search of all", first],
      ["the same, 2 s after the page was opened", behindPage],
      ["trail: a word nowhere", await timed(bench, "trail.page", trail({ ...line, words: "unfindable" }))],
      [
        "trail: two words nowhere",
        await timed(bench, "trail.page", trail({ ...line, words: "typed unfindable" })),
      ],
      ["trail: mine", await timed(bench, "trail.page", trail({ ...line, personId: scene.personId }))],
      [
        "trail: nobody's",
        await timed(bench, "trail.page", trail({ ...line, personId: "nobody-of-this-bench" })),
      ],
    ];
    printTable(
      [`${SHEETS} sheets, ${LINES} lines of the trail`, "ms", "of the baseline", `within ${BUDGET} ms`],
      measured.map(([words, ms]) => [
        words,
        threeFigures(ms),
        threeFigures(ms / whole),
        ms <= BUDGET ? "yes" : "NO",
      ]),
    );
  } finally {
    await bench.end();
  }
}
