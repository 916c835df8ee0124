import { useState } from "react";
import type { DocumentCounts, DocumentLook } from "#core/contract/records/read-in.ts";
import type { CallError } from "#core/contract/reply.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { FieldGrid } from "../../parts/form/FieldGrid.tsx";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import styles from "./Exchange.module.css";

type SheetLine = DocumentLook["sheets"][number];

const SHEETS: readonly Column<SheetLine>[] = [
  { key: "number", title: "Sheet", names: true, unbroken: true, cell: (one) => one.number },
  { key: "sample", title: "Sample", cell: (one) => one.sample },
  { key: "rows", title: "Rows", number: true, cell: (one) => one.rows },
];

const COUNTED: readonly (readonly [key: keyof DocumentCounts, one: string, many: string])[] = [
  ["people", "person", "people"],
  ["microscopes", "microscope", "microscopes"],
  ["stageMicrometers", "stage micrometer", "stage micrometers"],
  ["certificates", "certificate", "certificates"],
  ["methods", "method", "methods"],
  ["calibrations", "calibration", "calibrations"],
  ["rows", "row", "rows"],
  ["amendments", "amendment", "amendments"],
  ["supersededResults", "replaced result", "replaced results"],
  ["assessments", "verdict on a calibration", "verdicts on calibrations"],
  ["checks", "quick check", "quick checks"],
  ["signOffs", "closing, review or signature", "closings, reviews and signatures"],
];

function countedWords(counts: DocumentCounts): string {
  return COUNTED.filter(([key]) => counts[key] > 0)
    .map(([key, one, many]) => `${counts[key]} ${counts[key] === 1 ? one : many}`)
    .join(", ");
}

export interface ReadInContentsProps {
  readonly look: DocumentLook;
  readonly error: CallError | null;
  /** @param personId of the file; null: the person at the bench */
  readonly onReadIn: (personId: string | null) => void;
}

/** What a file holds, who reads it in, and what stands in the way. */
export function ReadInContents({ look, error, onReadIn }: ReadInContentsProps) {
  const status = useCall("bench.status", {});
  const present = status.data?.personInUse ?? null;
  // Somebody who moves to a new bench is most often the person of that name in the file.
  const namesake = look.people.find((one) => one.name === present?.name);
  const [chosen, setChosen] = useState<string | null>(null);
  const personId = chosen ?? namesake?.id ?? "";
  const free = look.benchHolds.length === 0;
  return (
    <>
      <Notice
        kind={free ? "done" : "care"}
        live
        title={
          free
            ? `${look.fileName} is whole, as it was exported.`
            : `${look.fileName} is whole, but this bench is not empty.`
        }
      >
        {free ? null : (
          <p>
            It holds {look.benchHolds.join(", ")}. Start the program on a new, empty folder and read the file
            in there.
          </p>
        )}
      </Notice>
      {error ? <RefusalNotice error={error} /> : null}
      <Facts
        facts={[
          ["Exported", shownInstant(look.exportedAt)],
          ["By", look.program],
          ["It holds", countedWords(look.counts)],
          [
            "All records, SHA-256",
            <span key="data" className={styles.hash}>
              {look.dataSha256}
            </span>,
          ],
          [
            "SHA-256 of the file",
            <span key="file" className={styles.hash}>
              {look.sha256}
            </span>,
          ],
        ]}
      />
      {look.counts.pictures > 0 ? (
        <p>
          {countedNoun(look.counts.pictures, "picture")} on rows: the file names them and does not hold them.
          They are not read in; attach the files to their rows again, or hand over the whole bench as one
          file.
        </p>
      ) : null}
      <DataTable
        caption="Sheets in the file"
        columns={SHEETS}
        rows={look.sheets}
        rowKey={(one) => one.id}
        empty=""
      />
      {free ? (
        <>
          <FieldGrid>
            <SelectField
              id="read-in-person"
              label="Read in by"
              hint="The audit trail keeps this name. Somebody of the file goes on under the record they have there."
              value={personId}
              onChange={setChosen}
              choices={[
                ...(present ? [{ value: "", words: `${present.name}, registered on this bench` }] : []),
                ...look.people.map((one) => ({ value: one.id, words: `${one.name}, of the file` })),
              ]}
            />
          </FieldGrid>
          <div className={styles.acts}>
            <Button look="main" onClick={() => onReadIn(personId === "" ? null : personId)}>
              Read in {look.sheets.length === 1 ? "this sheet" : `these ${look.sheets.length} sheets`}
            </Button>
          </div>
        </>
      ) : null}
    </>
  );
}
