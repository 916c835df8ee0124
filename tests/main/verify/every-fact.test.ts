import { copyFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { verifyBench } from "#main/services/verification/verify-bench.ts";
import { openReadOnly } from "#main/store/bench-file/read-only.ts";
import { fullBench } from "../../support/full-bench.ts";
import { withRawDatabase } from "../../support/raw-database.ts";
import {
  change,
  columnsOf,
  deleteRow,
  keysOf,
  type Tampering,
  tablesOf,
  tamperingsOf,
  unguard,
} from "../../support/tampering.ts";
import { type TempBench, tempBench } from "../../support/temp-bench.ts";

// Several hundred verifications of a small bench, on a machine that may be busy.
vi.setConfig({ testTimeout: 600_000, hookTimeout: 120_000 });

/**
 * Tables that hold no fact, and why: whatever is done to them from outside, no result, no reading and no line of the
 * history says anything else afterwards.
 */
const NO_FACTS: Readonly<Record<string, string>> = {
  request: "answers repeated requests for a month; what they did is told by the trail",
  person_settings: "how a person wants the program to look and sound; no record or result depends on it",
  cell_draft: "half-typed text, nobody's record before it is entered",
  second_reading_draft: "half-typed text, nobody's record before it is entered",
  staged_block: "a pasted block before it is accepted",
  sheet_act: "the words and order of undo; what an undo restores is told to the trail when it is made",
  sheet_act_change:
    "what undo would restore; told to the trail, and held against the readings, when it is made",
  read_in_amendment: "empty here: what comes from a file has tests of its own",
  read_in: "empty here: what comes from a file has tests of its own",
};

/** Columns of other tables that say nothing of the laboratory's work, and why. */
const NO_FACT_COLUMNS: Readonly<Record<string, string>> = {
  "certificate_line.ordinal": "only the order, which stays",
  "eyepiece.ordinal": "only the order, which stays",
  "intermediate_magnification.ordinal": "only the order, which stays",
  "second_reading_row.place": "only the order, which stays",
  "practice_class_member.ordinal": "only the order, which stays",
  "service_state.id": "only the order, which stays",
  "person_standing.id": "only the order, which stays",
  "optical_train.id":
    "of a train that nothing was measured with; of others the references break, which is named",
  "sheet_sign_off.id": "a key of the table; a sign-off is known by sheet, kind and instant",
  "person_pin.failures": "how often a PIN was mistyped, until it has to wait",
  "person_pin.blocked_until": "until when a mistyped PIN has to wait",
  "reevaluation.cursor_json": "where the work goes on; what is done is told slice by slice",
  "reevaluation.trouble": "words on what stopped it",
};

let bench: TempBench;
let tables: string[];

beforeAll(async () => {
  bench = await tempBench();
  await fullBench(bench);
  await bench.program.close();
  tables = withRawDatabase(bench.paths.databaseFile, tablesOf);
});
afterAll(() => bench.end());

/** Everything that `npm run verify` would name on a copy of the bench; null: the change was not possible. */
async function namedAfter(tamper: (file: string) => boolean): Promise<string[] | null> {
  // Beside the bench, so that its attachments are found.
  const file = join(bench.paths.dataFolder, "tampered.sqlite");
  copyFileSync(bench.paths.databaseFile, file);
  try {
    if (!tamper(file)) return null;
    const opened = openReadOnly(file);
    try {
      const { differences } = await verifyBench(opened.db, file);
      return [...opened.faults, ...differences.map((one) => one.where)];
    } finally {
      opened.close();
    }
  } finally {
    for (const ending of ["", "-wal", "-shm"]) rmSync(`${file}${ending}`, { force: true });
  }
}

const inWords = ({ table, column, key, from, to }: Tampering): string =>
  `${table}.${column} of ${JSON.stringify(key)}: ${String(from).slice(0, 200)} → ${String(to).slice(0, 200)}`;

/** By column, the ways in which its values can be changed; those that mean something. */
function waysOf(table: string): Map<string, Tampering[]> {
  const all = withRawDatabase(bench.paths.databaseFile, (database) => tamperingsOf(database, table));
  return Map.groupBy(
    all.filter((one) => !isEmptyClass(one)),
    (one) => `${table}.${one.column}`,
  );
}

/** What the first possible one of some ways leaves unnamed; null: none is possible, not every key can become another. */
async function unnamedOf(ways: readonly Tampering[]): Promise<string[] | null> {
  for (const tampering of ways) {
    const named = await namedAfter((file) => change(file, tampering));
    if (named !== null) return named.length === 0 ? [inWords(tampering)] : [];
  }
  return null;
}

it("finds nothing to say of a bench on which everything was done once and nothing tampered with", async () => {
  expect(await namedAfter(() => true)).toEqual([]);
});

it("knows every table: it holds facts and something to tamper with, or it is listed as holding none", () => {
  const counts = withRawDatabase(bench.paths.databaseFile, (database) =>
    tables.map(
      (table) => [table, database.prepare(`SELECT count(*) FROM "${table}"`).pluck().get()] as const,
    ),
  );
  const untested = counts.filter(([table, count]) => count === 0 && !(table in NO_FACTS));
  expect(
    untested,
    "a new table: fill it in tests/support/full-bench.ts, or say above why it holds no fact",
  ).toEqual([]);
  expect(Object.keys(NO_FACTS).filter((table) => !tables.includes(table))).toEqual([]);
  const columns = withRawDatabase(bench.paths.databaseFile, (database) =>
    tables.flatMap((table) => columnsOf(database, table).map((column) => `${table}.${column}`)),
  );
  expect(Object.keys(NO_FACT_COLUMNS).filter((column) => !columns.includes(column))).toEqual([]);
});

describe("names one value changed by an outside tool", () => {
  it("in every column of every table that holds a fact", async () => {
    const unnamed: string[] = [];
    const untouched: string[] = [];
    for (const table of tables.filter((one) => !(one in NO_FACTS))) {
      for (const [column, ways] of waysOf(table)) {
        if (column in NO_FACT_COLUMNS) continue;
        // What was done last is the easiest to change unnoticed.
        const found = await unnamedOf(ways.toReversed());
        if (found === null) untouched.push(column);
        else unnamed.push(...found);
      }
    }
    expect(unnamed).toEqual([]);
    expect(untouched, "could not be changed into anything else").toEqual([]);
  });

  it.each([
    ["bench_setting", "value", /^settings of the laboratory, as told by trail line \d+, /],
    ["service_state", "reason", /^service state of stage micrometer .* as told by trail line \d+, reason$/],
    ["service_state", "from_on", /^service state of stage micrometer .* as told by trail line \d+, from$/],
    ["equipment_event", "words", /^event of 2026-03-02, knocked, as told by trail line \d+, words$/],
    ["equipment_event", "happened_on", /, as told by trail line \d+, happenedOn$/],
    ["person_pin", "hash", /^PIN of Rey Viewer, as told by trail line \d+, seal$/],
    ["specimen_row", "label", /^sheet S-0001, row 1, as told by the trail, label$/],
    ["sheet_sign_off", "end_reason", /^sheet S-0001, closed, as told by trail line \d+, ended, reason$/],
    ["trend_tolerance", "percent", /^tolerance decided .*, percent$/],
  ])("%s.%s by its place and the line that tells of it", async (table, column, place) => {
    const [tampering] = waysOf(table).get(`${table}.${column}`) ?? [];
    if (!tampering) throw new Error(`nothing to change in ${table}.${column}`);
    const named = await namedAfter((file) => change(file, tampering));
    expect(named?.join("\n")).toMatch(new RegExp(place, "m"));
  });
});

/** Classes of a history whose every size has gone again count nothing. */
function isEmptyClass({ table, key }: Tampering): boolean {
  if (table !== "sheet_size_bin" && table !== "family_size_bin") return false;
  return withRawDatabase(bench.paths.databaseFile, (database) => {
    const named = Object.keys(key)
      .map((name) => `"${name}" = :${name}`)
      .join(" AND ");
    return database.prepare(`SELECT n FROM ${table} WHERE ${named}`).pluck().get(key) === 0;
  });
}

it("names a row taken out of any table that holds a fact", async () => {
  const unnamed: string[] = [];
  for (const table of tables.filter((one) => !(one in NO_FACTS) && one !== "audit_line")) {
    const keys = withRawDatabase(bench.paths.databaseFile, (database) => keysOf(database, table));
    for (const key of new Set([keys[0], keys.at(-1)])) {
      if (!key || isEmptyClass({ table, column: "", key, from: null, to: null })) continue;
      const named = await namedAfter((file) => {
        deleteRow(file, table, key);
        return true;
      });
      if (named?.length === 0) unnamed.push(`${table} ${JSON.stringify(key)}`);
    }
  }
  expect(unnamed).toEqual([]);
});

describe("names what was done to the trail", () => {
  interface Line {
    readonly sequence: number;
    readonly act: string;
  }
  const lines = () =>
    withRawDatabase(
      bench.paths.databaseFile,
      (database) =>
        database
          .prepare(
            "SELECT sequence, act FROM audit_line a JOIN audit_kind k ON k.id = a.kind ORDER BY sequence",
          )
          .all() as Line[],
    );

  function rewrite(file: string, sql: string): boolean {
    withRawDatabase(file, (database) => {
      unguard(database);
      database.exec(sql);
    });
    return true;
  }

  it("a line dropped, whatever act it tells of", async () => {
    for (const [act, sequence] of new Map(lines().map((line) => [line.act, line.sequence]))) {
      const named = await namedAfter((file) =>
        rewrite(file, `DELETE FROM audit_line WHERE sequence = ${sequence}`),
      );
      expect(named, `line ${sequence}, ${act}`).not.toEqual([]);
    }
  });

  it("everything from one line on dropped, whatever act that line tells of", async () => {
    const lastOfAct = new Map(lines().map(({ sequence, act }) => [act, sequence]));
    for (const [act, sequence] of lastOfAct) {
      const named = await namedAfter((file) =>
        rewrite(file, `DELETE FROM audit_line WHERE sequence >= ${sequence}`),
      );
      expect(named, `from line ${sequence}, ${act}`).not.toEqual([]);
    }
  });

  it("two lines that changed places", async () => {
    const named = await namedAfter((file) =>
      rewrite(
        file,
        `UPDATE audit_line SET sequence = 0 WHERE sequence = 40; UPDATE audit_line SET sequence = 40 WHERE sequence = 41;
         UPDATE audit_line SET sequence = 41 WHERE sequence = 0`,
      ),
    );
    expect(named?.join("\n")).toMatch(/^trail line 40, .*\n(.*\n)*trail line 41, /m);
  });

  it("a line dropped and the rest numbered on without a gap", async () => {
    const named = await namedAfter((file) =>
      rewrite(
        file,
        "DELETE FROM audit_line WHERE sequence = 30; UPDATE audit_line SET sequence = -sequence WHERE sequence > 30; " +
          "UPDATE audit_line SET sequence = -sequence - 1 WHERE sequence < 0",
      ),
    );
    expect(named?.join("\n")).toMatch(/^trail line 30, /m);
  });
});
