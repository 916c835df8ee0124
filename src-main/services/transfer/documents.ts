import type { ParsedInput } from "#core/contract/calls.ts";
import type { DocumentLook, ReadIn } from "#core/contract/records/read-in.ts";
import type { SheetDocument } from "#core/contract/records/sheet-document.ts";
import type { TrailEvent } from "#core/contract/trail-events/trail-event.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import { readDocument, UnfitDocument } from "../../exchange/read-document.ts";
import { fileSha256, type UploadStore } from "../../exchange/upload-store.ts";
import { contradictionIn } from "../../store/bench-file/store-failure.ts";
import type { WritableDb } from "../../store/connection.ts";
import { appendTrail } from "../../store/repositories/audit-trail.ts";
import { choosePersonInUse, personInUse } from "../../store/repositories/people-repository.ts";
import { benchHolds, findReadIn, insertReadIn } from "../../store/repositories/read-in-repository.ts";
import { jointDigest } from "../../workbook/sheet-book/data-digest.ts";
import type { Deps } from "../write-context/deps.ts";
import { oncePerRequest, requirePerson } from "../write-context/in-transaction.ts";
import { checkedRecords } from "./document-check.ts";
import { countsOf, type DocumentRecords } from "./document-records.ts";
import { storeDocument, storePeople } from "./store-document.ts";

const READ_IN = "documents.readIn";

interface Found {
  readonly facts: Omit<DocumentLook, "people" | "benchHolds">;
  readonly records: DocumentRecords;
}

function unfit(fileName: string, { message, field }: UnfitDocument): Refusal {
  return new Refusal("document.unfit", `${fileName} cannot be read in: ${message}.`, {
    field: "uploadId",
    hint:
      field === ""
        ? "Choose a JSON file that this program exported."
        : "Export the sheets again from the bench they come from, and choose that file. Nothing was stored.",
  });
}

function factsOf(
  document: SheetDocument,
  records: DocumentRecords,
): Omit<Found["facts"], "fileName" | "sha256"> {
  return {
    dataSha256: jointDigest(document.sheets.map((one) => one.dataSha256)),
    exportedAt: document.madeAt,
    program: `${document.program.name} ${document.program.version}`,
    sheets: document.sheets.map(({ sheet }) => ({
      id: sheet.id,
      number: sheet.number,
      sample: sheet.sample,
      rows: sheet.rowCount,
    })),
    counts: countsOf(records),
  };
}

/** Reads and checks a file from the uploads. @throws Refusal `document.unfit` naming the field in the file */
async function findIn(uploads: UploadStore, uploadId: string): Promise<Found> {
  const { path, fileName } = uploads.finished(uploadId);
  try {
    const document = await readDocument(path);
    const records = await checkedRecords(document);
    const sha256 = await fileSha256(path);
    return { facts: { fileName, sha256, ...factsOf(document, records) }, records };
  } catch (error) {
    throw error instanceof UnfitDocument ? unfit(fileName, error) : error;
  }
}

function requireEmpty(db: WritableDb, fileName: string): void {
  const holds = benchHolds(db);
  if (holds.length === 0) return;
  throw new Refusal(
    "bench.not-empty",
    `${fileName} can only be read into an empty bench, and this one holds ${holds.join(", ")}.`,
    {
      field: "uploadId",
      hint: "Start the program on a new, empty folder and read the file in there. Nothing was stored.",
    },
  );
}

/** Puts the people of the file on the bench, and says who reads it in. */
function readerOf(
  db: WritableDb,
  records: DocumentRecords,
  { personId }: Pick<ParsedInput<typeof READ_IN>, "personId">,
): string {
  if (personId === null) {
    const { id } = requirePerson(db);
    storePeople({ db }, records);
    return id;
  }
  if (!records.people.has(personId)) {
    throw new Refusal("person.unknown", "That person is not among the people of the file.", {
      field: "personId",
      hint: "Choose one of the people listed, or the person who is at the bench.",
    });
  }
  storePeople({ db }, records);
  return personId;
}

function store(
  deps: Deps,
  db: WritableDb,
  input: ParsedInput<typeof READ_IN>,
  { facts, records }: Found,
): ReadIn {
  requireEmpty(db, facts.fileName);
  const before = personInUse(db);
  const readIn: ReadIn = {
    ...facts,
    id: deps.ids.next(),
    readAt: deps.clock.now(),
    readBy: readerOf(db, records, input),
  };
  const note = (event: TrailEvent): void => {
    appendTrail(db, event, { at: readIn.readAt, personId: readIn.readBy });
  };
  const { id, readAt: _, readBy: __, ...detail } = readIn;
  note({ act: READ_IN, subject: "read_in", subjectId: id, detail });
  storeDocument({ db, ids: deps.ids, readInId: id, note }, records);
  if (before?.id !== readIn.readBy) {
    choosePersonInUse(db, readIn.readBy);
    const to = records.people.get(readIn.readBy)?.name ?? "";
    note({
      act: "people.choose",
      subject: "person",
      subjectId: readIn.readBy,
      detail: { from: before?.name ?? null, to },
    });
  }
  insertReadIn(db, readIn);
  return readIn;
}

/** JSON files of sheets: looked at, and read whole into an empty bench. */
export function documentServices(deps: Deps, uploads: UploadStore) {
  return handlers({
    "documents.look": async ({ uploadId }) => {
      const { facts, records } = await findIn(uploads, uploadId);
      const people = [...records.people.values()].map(({ id, name, initials }) => ({ id, name, initials }));
      return { ...facts, people, benchHolds: benchHolds(deps.db) };
    },

    "documents.readIn": async (input) => {
      const found = await findIn(uploads, input.uploadId);
      try {
        return oncePerRequest<ReadIn>(deps, READ_IN, input, {
          perform: (db) => store(deps, db, input, found),
          subjectOf: (readIn) => readIn.id,
          find: findReadIn,
        });
      } catch (error) {
        const words = contradictionIn(error);
        if (words === null) throw error;
        throw unfit(found.facts.fileName, new UnfitDocument("sheets", `contradict each other (${words})`));
      }
    },
  });
}
