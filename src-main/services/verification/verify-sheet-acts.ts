import type { Sheet } from "#core/contract/records/sheet.ts";
import type { SignOff } from "#core/contract/records/sign-off.ts";
import type { TestedAmount } from "#core/contract/records/tested-amount.ts";
import type { ToldEvent } from "#core/contract/trail-events/read-event.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { listReevaluations, listSlices } from "../../store/repositories/reevaluation-repository.ts";
import { listSheets, sheetNumbers } from "../../store/repositories/sheet-repository.ts";
import { listSignOffs } from "../../store/repositories/sign-off-repository.ts";
import { findTrain } from "../../store/repositories/train-repository.ts";
import {
  compareWithTrail,
  factsFromTrail,
  type StoredFact,
  storedFacts,
  type TrailFact,
} from "./compare-with-trail.ts";
import { correctedBy } from "./corrected-detail.ts";
import type { Differences } from "./differences.ts";
import type { Made, TrailIndex } from "./trail-index.ts";

/** A sheet is opened by hand or with an import, which tells of itself in a line of its own. */
const HEAD_ACTS = [
  "sheets.open",
  "imports.accept",
  "sheets.chooseObjective",
  "sheets.confirmTrain",
  "records.correct",
] as const;
type HeadEvent = Made<(typeof HEAD_ACTS)[number], "sheet">;

function sheetFromTrail(db: ReadableDb, event: HeadEvent): StoredFact["fields"] {
  const { act, at, by, detail } = event;
  if (act === "sheets.open" || act === "imports.accept") {
    if ("import" in detail) return {};
    const { number, sample, customer, note, methodId, trainId, ...amount } = detail;
    const train = findTrain(db, String(trainId));
    const { microscopeId, eyepieceId, intermediateMagnification, objectiveId } = train ?? {};
    const parts = { microscopeId, eyepieceId, intermediateMagnification, objectiveId };
    const opened = { openedAt: at, openedBy: by, lastConfirmed: null };
    return { number, sample, customer, note, methodId, ...amountOf(amount), ...parts, ...opened };
  }
  if (act === "sheets.chooseObjective") {
    const { objectiveId, intermediateMagnification: changer } = detail;
    return { objectiveId: objectiveId?.to, ...(changer ? { intermediateMagnification: changer.to } : {}) };
  }
  if (act === "records.correct") return correctedBy({}, [event]);
  if (act === "sheets.confirmTrain") return { lastConfirmed: { at, by, ...detail.confirmed } };
  const { readIn: _, dataSha256: __, amendments: ___, superseded: ____, signOffs: _____, ...sheet } = detail;
  // Rows may have been added since.
  const { rowCount: ______, struckCount: _______, customer = null, ...read } = sheet;
  return { ...read, ...amountOf(read), customer };
}

/** What the specimens come from, null where it is not named. */
function amountOf({ containers, volume, portion }: TestedAmount): StoredFact["fields"] {
  return { containers: containers ?? null, volume: volume ?? null, portion: portion ?? null };
}

/** Sample, method, train and confirmation of every sheet, as opened and as changed since. */
export function verifySheetHeads(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const where = (sheet: Pick<Sheet, "number">): string => `sheet ${sheet.number}`;
  compareWithTrail(
    differences,
    storedFacts(
      listSheets(db),
      ({ id }) => id,
      (sheet) => ({
        where: where(sheet),
        fields: { ...sheet, ...amountOf(sheet), customer: sheet.customer ?? null },
      }),
    ),
    factsFromTrail(
      acts.made("sheet", ...HEAD_ACTS),
      (event) => event.subjectId,
      (event) => ({
        where: `sheet ${"number" in event.detail ? event.detail.number : event.subjectId}`,
        fields: sheetFromTrail(db, event),
      }),
    ),
  );
}

const KIND_OF = { "sheets.close": "closed", "sheets.review": "reviewed", "sheets.sign": "signed" } as const;
const SIGNING = ["sheets.close", "sheets.review", "sheets.sign"] as const;
const keyOf = ({ sheetId, kind, at }: Pick<SignOff, "sheetId" | "kind" | "at">): string =>
  `${sheetId} ${kind} ${at}`;

/** Ends what stands of a sheet, all of it or only review and signature. */
function endFromTrail(
  fromTrail: Map<string, TrailFact>,
  { act, subjectId, sequence, at, by, reason }: ToldEvent<"sheets.signatureFell" | "sheets.reopen">,
): void {
  for (const [key, fact] of fromTrail) {
    const { sheetId, kind, ended } = fact.fields;
    if (sheetId !== subjectId || ended !== null) continue;
    if (kind === "closed" && act !== "sheets.reopen") continue;
    fromTrail.set(key, { ...fact, sequence, fields: { ...fact.fields, ended: { at, by, reason } } });
  }
}

function signOffsFromTrail(acts: TrailIndex, numbers: ReadonlyMap<string, string>): Map<string, TrailFact> {
  const fromTrail = new Map<string, TrailFact>();
  const where = (id: string, kind: string): string => `sheet ${numbers.get(id) ?? id}, ${kind}`;
  for (const event of acts.made("sheet", ...SIGNING, "sheets.signatureFell", "sheets.reopen")) {
    const { subjectId: sheetId, sequence, at, by } = event;
    if (event.act === "documents.readIn") {
      for (const { id: _, pinReset = null, ...read } of event.detail.signOffs ?? []) {
        const fields = { ...read, pinReset };
        fromTrail.set(keyOf(read), { where: where(sheetId, read.kind), sequence, fields });
      }
    } else if (event.act === "sheets.signatureFell" || event.act === "sheets.reopen") {
      endFromTrail(fromTrail, event);
    } else {
      const kind = KIND_OF[event.act];
      const { words, dataSha256, pinReset = null } = event.detail;
      const fields = { sheetId, kind, at, by, words, dataSha256, pinReset, ended: null };
      fromTrail.set(keyOf({ sheetId, kind, at }), { where: where(sheetId, kind), sequence, fields });
    }
  }
  return fromTrail;
}

/** Every closing, review and signature there has been, and how it fell. */
export function verifySignOffActs(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const numbers = sheetNumbers(db);
  compareWithTrail(
    differences,
    storedFacts(listSignOffs(db), keyOf, ({ id: _, pinReset = null, ...fields }) => ({
      where: `sheet ${numbers.get(fields.sheetId) ?? fields.sheetId}, ${fields.kind}`,
      fields: { ...fields, pinReset },
    })),
    signOffsFromTrail(acts, numbers),
  );
}

function reevaluationFromTrail({
  act,
  at,
  by,
  reason,
  detail,
}: ToldEvent<"reevaluations.begin" | "reevaluations.finish">): StoredFact["fields"] {
  if (act === "reevaluations.finish") {
    const { done, reopenedSheets } = detail;
    return { state: "finished", isFinished: true, finishedAt: at, done, reopenedSheets };
  }
  return { ...detail, reason, startedAt: at, startedBy: by, isFinished: false, finishedAt: null };
}

/** Scope, reason and progress of every re-evaluation; the results it replaced are compared slice by slice elsewhere. */
export function verifyReevaluations(db: ReadableDb, acts: TrailIndex, differences: Differences): void {
  const slices = new Map<string, number>();
  for (const { reevaluationId, firstSupersededId, lastSupersededId } of listSlices(db)) {
    const results = lastSupersededId - firstSupersededId + 1;
    slices.set(reevaluationId, (slices.get(reevaluationId) ?? 0) + results);
  }
  const stored = listReevaluations(db);
  compareWithTrail(
    differences,
    storedFacts(
      stored,
      ({ id }) => id,
      (one) => ({
        where: `re-evaluation ${one.id}`,
        fields: { ...one, isFinished: one.state === "finished" },
      }),
    ),
    factsFromTrail(
      acts.of("reevaluations.begin", "reevaluations.finish"),
      (line) => line.subjectId,
      (line) => ({
        where: `re-evaluation ${line.subjectId}`,
        fields: reevaluationFromTrail(line),
      }),
    ),
  );
  for (const { id, done } of stored) {
    differences.compare(`re-evaluation ${id}, results converted`, done, slices.get(id) ?? 0);
  }
}
