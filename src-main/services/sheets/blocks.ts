import { MOST_BLOCK_LINES } from "#core/contract/records/block.ts";
import type { Measurement, SpecimenRow } from "#core/contract/records/sheet.ts";
import type { BlockLine } from "#core/measurement/read-block.ts";
import { readingAt } from "#core/measurement/readings.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { immediate } from "../../store/connection.ts";
import { forgetDraft } from "../../store/repositories/draft-repository.ts";
import {
  findAct,
  type JournalChange,
  lastDone,
  rowsOfAct,
} from "../../store/repositories/journal-repository.ts";
import { appendRow, describeRow, putMeasurement } from "../../store/repositories/row-repository.ts";
import {
  appendPart,
  endOfBlock,
  forgetBlock,
  forgetOldBlocks,
} from "../../store/repositories/staged-block-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import { inTransactionOnceAbout, type WriteContext } from "../write-context/in-transaction.ts";
import { type BlockOnSheet, blockOnSheet, blockToEnter, previewOf } from "./block-rows.ts";
import { changeOfSheet } from "./closed-sheet.ts";
import { measurementWith, type TypedCell } from "./enter-reading.ts";
import { stateForTrail } from "./row-from-trail.ts";
import { changesOfRow, journalAct, rowsChanged } from "./row-journal.ts";
import { SheetConverter } from "./sheet-converter.ts";
import { requireSheet } from "./sheets.ts";

/** Most characters of a block: lines of a hundred characters. */
const MOST_CHARACTERS = MOST_BLOCK_LINES * 100;

function refuseFailures({ failed }: BlockOnSheet): void {
  const [first] = failed;
  if (!first) return;
  const cells = failed.length === 1 ? "One cell" : `${failed.length} cells`;
  throw new Refusal(
    "block.fails",
    `${cells} of the block cannot be taken in; the first is “${first.text}” in line ${first.line}, column ${first.column}: ${first.reason}.`,
    { field: "block", hint: "Correct or leave out the cells shown. Nothing was stored." },
  );
}

/** The readings of a line by dimension. */
function byDimension({ readings }: BlockLine): [TypedCell, ...TypedCell[]][] {
  const grouped = new Map<string, [TypedCell, ...TypedCell[]]>();
  for (const one of readings) {
    const group = grouped.get(one.cell.dimension);
    if (group) group.push(one);
    else grouped.set(one.cell.dimension, [one]);
  }
  return [...grouped.values()];
}

/** What a line makes of its row, before anything is written. */
function filledRow(
  ctx: WriteContext,
  converter: SheetConverter,
  line: BlockLine,
  row: SpecimenRow,
): { readonly after: SpecimenRow; readonly measured: readonly Measurement[] } {
  const described = {
    ...row,
    label: line.label ?? row.label,
    note: line.note ?? row.note,
    stage: line.stage === null ? row.stage : { ...(row.stage ?? { x: "", y: "" }), ...line.stage },
  };
  const measured = byDimension(line).flatMap((cells) => {
    const before = row.measurements.find((one) => one.dimension === cells[0].cell.dimension);
    if (before && cells.every(({ cell, typed }) => readingAt(before, cell) === typed)) return [];
    return [measurementWith(ctx, converter, { cells, label: described.label }, before)];
  });
  const kept = row.measurements.filter(
    (one) => !measured.some(({ dimension }) => dimension === one.dimension),
  );
  return { after: { ...described, measurements: [...kept, ...measured] }, measured };
}

/** Writes one line into its row and tells the trail. @returns what changed, for the journal */
function enterLine(
  ctx: WriteContext,
  converter: SheetConverter,
  line: BlockLine,
  before: SpecimenRow | null,
  fresh: { readonly id: string; readonly sheetId: string; readonly ordinal: number },
): JournalChange[] {
  const { db } = ctx;
  const empty = { ...fresh, label: "", note: "", stage: null, struck: null, measurements: [] };
  const { after, measured } = filledRow(ctx, converter, line, before ?? empty);
  const changes = changesOfRow(before, after);
  if (changes.length === 0) return [];
  if (before) {
    for (const { cell } of line.readings) forgetDraft(db, after.sheetId, after.id, cell);
  } else appendRow(db, fresh.sheetId, fresh.id, after.label);
  if (changes.some((one) => one.dimension === "") && (before || after.note !== "" || after.stage)) {
    describeRow(db, after.id, after);
  }
  for (const measurement of measured) putMeasurement(db, after.id, measurement);
  ctx.audit({
    act: before ? "rows.amend" : "rows.enterBlock",
    subject: "specimen_row",
    subjectId: after.id,
    detail: {
      pasted: line.line,
      label: after.label,
      note: after.note,
      stage: after.stage,
      ...stateForTrail(
        after,
        measured.map((one) => one.dimension),
      ),
    },
  });
  return changes;
}

function enterBlock(deps: Deps, ctx: WriteContext, block: BlockOnSheet): string[] {
  const { sheet, read, rows } = block;
  const converter = new SheetConverter(ctx.db, sheet, { personId: ctx.by.id, today: deps.clock.today() });
  const changes: JournalChange[] = [];
  const touched: string[] = [];
  let total = sheet.rowCount;
  read.lines.forEach((line, i) => {
    const row = rows[i] ?? null;
    if (!row) total += 1;
    const fresh = { id: row?.id ?? deps.ids.next(), sheetId: sheet.id, ordinal: total };
    const changed = enterLine(ctx, converter, line, row, fresh);
    if (changed.length > 0) touched.push(fresh.id);
    changes.push(...changed);
  });
  if (touched.length > 0)
    journalAct(ctx, sheet.id, `a pasted block of ${countedNoun(touched.length, "row")}`, changes);
  return touched;
}

/** Pasted blocks: put aside in parts, looked at as often as wanted, taken in whole. */
export function blockServices(deps: Deps) {
  return handlers({
    // What was pasted is nobody's record yet: no person, no trail.
    "rows.stageBlock": ({ sheetId, blockId, part, text }) =>
      immediate(deps.db, (db) => {
        requireSheet(db, sheetId);
        const now = deps.clock.now();
        forgetOldBlocks(db, now);
        const end = endOfBlock(db, blockId);
        const last = end?.part ?? 0;
        if ((end && end.sheetId !== sheetId) || part > last + 1 || part < last) {
          throw new Refusal("block.out-of-order", `Part ${part} of the paste does not follow part ${last}.`, {
            field: "part",
            hint: "Paste the block again.",
          });
        }
        if ((end?.characters ?? 0) + text.length > MOST_CHARACTERS) {
          throw new Refusal("block.too-long", `The block is longer than ${MOST_BLOCK_LINES} lines.`, {
            field: "text",
            hint: "Paste it in two halves.",
          });
        }
        appendPart(db, { sheetId, blockId, part, text, at: now });
        return { lines: text.split("\n").length };
      }),

    "rows.previewBlock": (choices) => previewOf(blockOnSheet(deps.db, choices), choices),

    "rows.enterBlock": (input, call) => {
      const { sheetId, blockId } = input.block;
      return inTransactionOnceAbout(deps, call, input, {
        perform: (ctx) => {
          const block = blockToEnter(ctx.db, input.block);
          refuseFailures(block);
          const touched = changeOfSheet(ctx, sheetId, input.reason, (watched) =>
            enterBlock(deps, watched, block),
          );
          forgetBlock(ctx.db, blockId);
          return rowsChanged(ctx.db, sheetId, touched);
        },
        subjectOf: ({ count }) => (count === 0 ? "0" : String(lastDone(deps.db, sheetId)?.id ?? 0)),
        find: (db, actId) => {
          const act = findAct(db, Number(actId));
          return rowsChanged(db, sheetId, act ? rowsOfAct(db, act.id) : []);
        },
      });
    },
  });
}
