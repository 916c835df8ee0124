import { join } from "node:path";
import Database from "better-sqlite3";
import type { Reevaluation } from "#core/contract/records/reevaluation.ts";
import type { SizeRecord } from "#core/contract/records/sheet.ts";
import { previewSize } from "#core/measurement/typed-reading.ts";
import { buildScene, calibrateTrain, grainMethod } from "../support/bench-scenes.ts";
import { type TempBench, tempBench } from "../support/temp-bench.ts";
import { correctCertificate } from "../support/traceability-scenes.ts";
import { printTable, threeFigures } from "./print-table.ts";

const ROWS_BY_DEFAULT = 50_000;
const ROWS_IN_FULL = 1_000_000;
const ROWS_OF_A_SHEET = 25_000;
/** Rows of one transaction of the bare inserts: as a careful program would write them. */
const ROWS_OF_A_TRANSACTION = 2000;

const leftOf = (i: number): string => `${i % 30}.${i % 10}`;
const rightOf = (i: number): string => `${40 + ((i * 7) % 55)}.${(i * 3) % 10}`;

/** Fills sheets with rows as the program itself would have stored them: one is entered, the others are its copies. */
async function fill(bench: TempBench, rows: number): Promise<{ certificateId: string; correctedId: string }> {
  const scene = await buildScene(bench);
  const calibration = await calibrateTrain(bench, scene);
  const factor = calibration.result;
  if (!factor) throw new Error("the calibration has no result");
  const sheets = Math.ceil(rows / ROWS_OF_A_SHEET);
  const { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId } =
    scene.sheet;
  const ids: string[] = [scene.sheet.id];
  for (let sheet = 1; sheet < sheets; sheet += 1) {
    const made = await bench.call("sheets.open", {
      requestId: bench.request(),
      sheet: { sample, note, methodId, microscopeId, eyepieceId, intermediateMagnification, objectiveId },
    });
    ids.push(made.id);
  }
  const database = new Database(bench.paths.databaseFile);
  database.pragma("synchronous = OFF");
  const row = database.prepare(
    "INSERT INTO specimen_row (id, sheet_id, ordinal, label, label_stem, note) VALUES (?, ?, ?, '', '', '')",
  );
  const measurement = database.prepare(
    `INSERT INTO measurement (row_key, dimension, is_direct, left_typed, right_typed, repeats_json, source, calibration,
       divisions_text, size_um, size_standard_um, size_degrees_of_freedom, size_coverage_factor, size_expanded_um,
       size_shown, size_shown_uncertainty, size_bin, flags_json, entered_at)
     VALUES (?, 'length', 0, ?, ?, '[]', 1, 1, ?, ?, ?, ?, ?, ?, ?, ?, NULL, '[]', ?)`,
  );
  database
    .prepare("INSERT INTO measurement_source (id, train_id, entered_by) VALUES (1, ?, ?)")
    .run(calibration.trainId, scene.personId);
  database
    .prepare("INSERT INTO measurement_calibration (id, calibration_id) VALUES (1, ?)")
    .run(calibration.id);
  const known = new Map<string, ReturnType<typeof previewSize>>();
  const definition = grainMethod();
  database.transaction(() => {
    for (let i = 0; i < rows; i += 1) {
      const [left, right] = [leftOf(i), rightOf(i)];
      const key = `${left}|${right}`;
      const { divisions, size } = known.get(key) ?? previewSize({ left, right, factor, definition });
      known.set(key, { divisions, size });
      // Random identifiers, as a window makes them: rows do not lie in the order of entry.
      const id = crypto.randomUUID();
      const sheetId = ids[Math.floor(i / ROWS_OF_A_SHEET)];
      const { lastInsertRowid } = row.run(id, sheetId, (i % ROWS_OF_A_SHEET) + 1);
      measurement.run(
        lastInsertRowid,
        left,
        right,
        divisions.toFixed(),
        size.value,
        size.standardUncertainty,
        size.degreesOfFreedom,
        size.coverageFactor,
        size.expandedUncertainty,
        size.shownValue,
        size.shownUncertainty,
        "2026-03-02T10:00:00.000Z",
      );
    }
    ids.forEach((id, i) => {
      const count = Math.min(ROWS_OF_A_SHEET, rows - i * ROWS_OF_A_SHEET);
      database.prepare("UPDATE sheet SET row_count = ? WHERE id = ?").run(count, id);
    });
  })();
  database.close();
  const corrected = await correctCertificate(bench, scene);
  return { certificateId: scene.certificate.id, correctedId: corrected.id };
}

/** The least that would have to be done: each size worked out, each result inserted into a plain table, nothing else. */
async function bare(bench: TempBench, rows: number): Promise<{ arithmetic: number; inserts: number }> {
  const [calibration] = await bench.call("calibrations.list", { trainId: null });
  const factor = calibration?.result;
  if (!factor) throw new Error("the calibration has no result");
  const definition = grainMethod();
  const database = new Database(join(bench.paths.dataFolder, "bare.sqlite"));
  database.pragma("journal_mode = WAL");
  database.pragma("synchronous = FULL");
  database.exec(
    "CREATE TABLE result (id TEXT PRIMARY KEY, size TEXT, standard TEXT, nu TEXT, k TEXT, u TEXT, shown TEXT, shown_u TEXT) STRICT",
  );
  const insert = database.prepare("INSERT INTO result VALUES (?, ?, ?, ?, ?, ?, ?, ?)");
  const insertAll = database.transaction((sizes: readonly SizeRecord[]) => {
    for (const size of sizes) {
      insert.run(
        crypto.randomUUID(),
        size.value,
        size.standardUncertainty,
        size.degreesOfFreedom,
        size.coverageFactor,
        size.expandedUncertainty,
        size.shownValue,
        size.shownUncertainty,
      );
    }
  });
  let arithmetic = 0;
  let inserts = 0;
  for (let from = 0; from < rows; from += ROWS_OF_A_TRANSACTION) {
    const began = performance.now();
    const sizes: SizeRecord[] = [];
    for (let i = from; i < Math.min(rows, from + ROWS_OF_A_TRANSACTION); i += 1) {
      sizes.push(previewSize({ left: leftOf(i), right: rightOf(i), factor, definition }).size);
    }
    const worked = performance.now();
    insertAll(sizes);
    arithmetic += worked - began;
    inserts += performance.now() - worked;
  }
  database.close();
  return { arithmetic, inserts };
}

function percentile(values: readonly number[], share: number): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length * share)] ?? 0;
}

const ASKED_EVERY_MS = 20;

/** Asks for the status all the while, as the window does. @returns how late each answer came after it was due, ms */
async function ask(bench: TempBench, id: string, until: () => boolean): Promise<number[]> {
  const waits: number[] = [];
  while (!until()) {
    const due = performance.now() + ASKED_EVERY_MS;
    await new Promise((resolve) => setTimeout(resolve, ASKED_EVERY_MS));
    await bench.call("reevaluations.status", { reevaluationId: id });
    waits.push(performance.now() - due);
  }
  return waits;
}

/** Looks now and then, so that looking costs nothing. */
async function finished(bench: TempBench, reevaluationId: string): Promise<Reevaluation> {
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, 20));
    const status = await bench.call("reevaluations.status", { reevaluationId });
    if (status.state !== "running") return status;
  }
}

/** Re-evaluation against bare arithmetic and bare inserts of the same run; stopped and resumed half-way. */
export async function benchReevaluation(): Promise<void> {
  const rows = process.argv.includes("--full") ? ROWS_IN_FULL : ROWS_BY_DEFAULT;
  const bench = await tempBench();
  try {
    const { certificateId, correctedId } = await fill(bench, rows);
    const { arithmetic, inserts } = await bare(bench, rows);
    const began = performance.now();
    const begun = await bench.call("reevaluations.begin", {
      requestId: bench.request(),
      reevaluation: {
        subject: { kind: "certificate", id: certificateId },
        from: null,
        to: null,
        sheetIds: null,
        replacement: { kind: "certificate", certificateId: correctedId },
        reason: "bench",
      },
    });
    let ended = false;
    const asking = ask(bench, begun.id, () => ended);
    for (let status = begun; status.done < rows / 2; ) {
      await new Promise((resolve) => setTimeout(resolve, 5));
      status = await bench.call("reevaluations.status", { reevaluationId: begun.id });
      if (status.state !== "running") break;
    }
    const half = await bench.call("reevaluations.stop", { reevaluationId: begun.id });
    await bench.call("reevaluations.resume", { reevaluationId: begun.id });
    const done = await finished(bench, begun.id);
    const took = performance.now() - began;
    ended = true;
    const waits = await asking;
    if (done.state !== "finished" || done.done !== rows) throw new Error(`ended as ${JSON.stringify(done)}`);
    const least = arithmetic + inserts;
    const line = (what: string, ms: number): string[] => [
      what,
      threeFigures(ms / 1000),
      threeFigures((ms / rows) * 1000),
      threeFigures(ms / least),
    ];
    printTable(
      [`${rows.toLocaleString("en-GB")} rows`, "s", "µs a row", "× bare"],
      [
        line("bare arithmetic", arithmetic),
        line("bare inserts", inserts),
        line("both", least),
        line("re-evaluation, stopped once and resumed", took),
      ],
    );
    console.log(
      `Equal readings are converted once, which the bare arithmetic does not do. Stopped at ${half.done} of ${rows} rows. A call waited ${percentile(waits, 0.5).toFixed(1)} ms (median), ${percentile(waits, 0.99).toFixed(1)} ms (99 %) meanwhile.`,
    );
  } finally {
    await bench.end();
  }
}
