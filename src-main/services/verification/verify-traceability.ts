import { basisOf } from "#core/calibration/calculation-basis.ts";
import type { Attachment } from "#core/contract/records/attachment.ts";
import type { CheckRecord } from "#core/contract/records/check.ts";
import type { SignOff } from "#core/contract/records/sign-off.ts";
import type { ToldEvent } from "#core/contract/trail-events/read-event.ts";
import type { createYielder } from "../../long-work/yield-to-events.ts";
import { readKept } from "../../store/bench-file/attachment-files.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { listAttachments } from "../../store/repositories/attachment-repository.ts";
import { eventsOf } from "../../store/repositories/audit-trail.ts";
import { findCalibration } from "../../store/repositories/calibration-repository.ts";
import { listChecks } from "../../store/repositories/check-repository.ts";
import { findMicrometer } from "../../store/repositories/micrometer-repository.ts";
import { sliceSha256 } from "../../store/repositories/reevaluated-results.ts";
import { listSlices } from "../../store/repositories/reevaluation-repository.ts";
import { sheetDataSha256 } from "../../store/repositories/sheet-digest.ts";
import { sheetNumbers } from "../../store/repositories/sheet-repository.ts";
import { currentSignOffs } from "../../store/repositories/sign-off-repository.ts";
import { countSuperseded, supersededToVerify } from "../../store/repositories/superseded-repository.ts";
import { checkFromTyped } from "../calibration/checks.ts";
import type { Differences } from "./differences.ts";
import type { Made } from "./trail-index.ts";
import { checkRecord } from "./verify-calibrations.ts";

type YieldToEvents = ReturnType<typeof createYielder>;

function verifyAttachment(
  db: ReadableDb,
  databaseFile: string,
  attachment: Attachment,
  where: string,
  differences: Differences,
): void {
  const { subject, fileName, mediaType, bytes, sha256, caption } = attachment;
  const fromTrail = eventsOf(db, attachment.id).find(({ act }) => act === "attachments.finish")?.detail;
  if (!fromTrail) differences.add(`${where}, trail`, "no line", "a line that it was attached");
  else {
    differences.compare(
      `${where}, as told by the trail`,
      { subject, fileName, mediaType, bytes, sha256, caption },
      fromTrail,
    );
  }
  const kept = readKept(databaseFile, sha256);
  if (kept.state === "missing") differences.add(`${where}, file`, "missing attachment", sha256);
  if (kept.state === "damaged") differences.add(`${where}, file`, kept.found, sha256);
}

/** Reads every attached file and compares it with its SHA-256 and with the trail. @returns how many there are */
export async function verifyAttachments(
  db: ReadableDb,
  databaseFile: string,
  differences: Differences,
  yieldToEvents: YieldToEvents,
): Promise<number> {
  const attachments = listAttachments(db, null);
  for (const attachment of attachments) {
    const where = `attachment ${attachment.fileName} of ${attachment.subject.kind} ${attachment.subject.id}`;
    checkRecord(where, differences, () => verifyAttachment(db, databaseFile, attachment, where, differences));
    await yieldToEvents();
  }
  return attachments.length;
}

type CheckTold = Made<"checks.record", "calibration_check">;

const isCheckTold = (event: ToldEvent): event is CheckTold =>
  event.subject === "calibration_check" && event.act !== "checks.withdraw";

/** What was typed and what came out, without what a line of a file tells besides. */
function checkTyped(told: CheckTold["detail"]): CheckTold["detail"] {
  if (!("readIn" in told)) return told;
  const {
    id: _id,
    checkedAt: _at,
    checkedBy: _by,
    withdrawn: _w,
    stageMicrometerId: _s,
    readIn: _r,
    ...typed
  } = told;
  return typed;
}

function verifyCheck(db: ReadableDb, check: CheckRecord, where: string, differences: Differences): void {
  const calibration = findCalibration(db, check.calibrationId);
  const micrometer = findMicrometer(db, check.stageMicrometerId);
  const certificate = micrometer?.certificates.find((one) => one.id === check.certificateId);
  if (!calibration || !micrometer || !certificate) {
    throw new Error("its calibration, stage micrometer or certificate is missing");
  }
  // The suspects were named from the factors in force then; the trail keeps what was said.
  const { suspects: _, ...recomputed } = check.result;
  differences.compare(
    where,
    recomputed,
    checkFromTyped(check, calibration, micrometer, certificate, basisOf(check.result)),
  );
  const fromTrail = eventsOf(db, check.id).find(isCheckTold)?.detail;
  if (!fromTrail) {
    differences.add(`${where}, trail`, "no line", "a line that it was recorded");
    return;
  }
  const { trainId, calibrationId, certificateId, settings, temperature, remark, result } = check;
  const stored = { trainId, calibrationId, certificateId, settings, temperature, remark, result };
  differences.compare(`${where}, as told by the trail`, stored, checkTyped(fromTrail));
}

/** Recomputes every quick check from its typed settings. @returns how many there are */
export async function verifyChecks(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: YieldToEvents,
): Promise<number> {
  const checks = listChecks(db, null);
  for (const check of checks) {
    const where = `check ${check.id} of ${check.checkedAt.slice(0, 10)}`;
    checkRecord(where, differences, () => verifyCheck(db, check, where, differences));
    await yieldToEvents();
  }
  return checks.length;
}

const ACT_OF = { closed: "sheets.close", reviewed: "sheets.review", signed: "sheets.sign" } as const;

/** Who, in which words, over which data, by the line of the act itself or of the file it was read from. */
function signOffFromTrail(db: ReadableDb, { id, sheetId, kind, at }: SignOff) {
  for (const { act, detail, sequence, at: toldAt, by } of eventsOf(db, sheetId)) {
    if (act === ACT_OF[kind] && toldAt === at && "words" in detail) {
      return { sequence, by, words: detail.words, dataSha256: detail.dataSha256 };
    }
    const read = "signOffs" in detail && detail.signOffs?.find((one) => one.id === id);
    if (read) return { sequence, by: read.by, words: read.words, dataSha256: read.dataSha256 };
  }
  return null;
}

function verifySignOff(
  db: ReadableDb,
  signOff: SignOff,
  isNewest: boolean,
  where: string,
  differences: Differences,
): void {
  const found = signOffFromTrail(db, signOff);
  if (found) {
    const stored = { by: signOff.by, words: signOff.words, dataSha256: signOff.dataSha256 };
    const { sequence, ...fromTrail } = found;
    differences.compare(`${where}, as told by trail line ${sequence}`, stored, fromTrail);
  } else differences.add(`${where}, trail`, "no line", "a line that tells of it");
  // After an amendment only the closing stands, and it stood for the data before.
  if (isNewest && signOff.kind !== "closed") {
    differences.compare(
      `${where}, data of the sheet`,
      sheetDataSha256(db, signOff.sheetId),
      signOff.dataSha256,
    );
  }
}

/** Compares what every standing review and signature stands for with the data of its sheet. @returns how many there are */
export async function verifySignOffs(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: YieldToEvents,
): Promise<number> {
  const current = currentSignOffs(db);
  const numbers = sheetNumbers(db);
  for (const [i, signOff] of current.entries()) {
    const isNewest = !current.slice(i + 1).some((one) => one.sheetId === signOff.sheetId);
    const where = `sheet ${numbers.get(signOff.sheetId) ?? signOff.sheetId}, ${signOff.kind}`;
    checkRecord(where, differences, () => verifySignOff(db, signOff, isNewest, where, differences));
    await yieldToEvents();
  }
  return current.length;
}

const PAGE = 500;

/** Every result that was kept when it was replaced: its columns against its record, and the hash of each slice. */
export async function verifySuperseded(
  db: ReadableDb,
  differences: Differences,
  yieldToEvents: YieldToEvents,
): Promise<number> {
  for (const slice of listSlices(db)) {
    const where = `re-evaluation ${slice.reevaluationId}, slice ${slice.ordinal}`;
    checkRecord(where, differences, () => {
      const range = { first: slice.firstSupersededId, last: slice.lastSupersededId };
      const told = eventsOf(db, slice.reevaluationId).find((event) => event.sequence === slice.auditSequence);
      const detail = told?.act === "reevaluations.slice" ? told.detail : null;
      const { ordinal, fromCalibrationId: from, toCalibrationId: to, sha256 } = slice;
      differences.compare(
        `${where}, as told by trail line ${slice.auditSequence}`,
        { slice: ordinal, from, to, superseded: range, sha256 },
        {
          slice: detail?.slice,
          from: detail?.from,
          to: detail?.to,
          superseded: detail?.superseded,
          sha256: detail?.sha256,
        },
      );
      differences.compare(`${where}, results kept`, sliceSha256(db, range), sha256);
    });
    await yieldToEvents();
  }
  for (let after = 0; ; ) {
    const page = supersededToVerify(db, after, PAGE);
    for (const { id, rowId, columns, record } of page) {
      after = id;
      differences.compare(`superseded result ${id} of row ${rowId}`, columns, record);
    }
    if (page.length < PAGE) return countSuperseded(db);
    await yieldToEvents();
  }
}
