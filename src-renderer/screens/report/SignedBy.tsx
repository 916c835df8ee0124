import type { ReportSignOff, SheetReport } from "#core/contract/records/exchange.ts";
import { TRAIL_HEAD_LABEL } from "#core/contract/records/trail.ts";
import { printedInstant } from "../../parts/bench-words/instant.ts";
import { pinResetWords } from "../../parts/bench-words/pin-reset-words.ts";
import { Lines } from "./Lines.tsx";
import styles from "./report.module.css";

const STATE_WORDS: Readonly<Record<SheetReport["state"], string>> = {
  open: "This sheet is still open: the figures may change.",
  closed: "Closed; not reviewed and not signed.",
  reviewed: "Closed and reviewed; not signed.",
  signed: "Closed, reviewed where the laboratory asks for it, and signed.",
};

const ACT_WORDS = { closed: "Closed", reviewed: "Reviewed", signed: "Signed" } as const;

const asSentence = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;

function signOffWords({
  kind,
  at,
  by,
  words,
  isPresent,
  ended,
  rowsSha256,
  pinReset,
}: ReportSignOff): string {
  const said = words === "" ? "" : ` “${words}”.`;
  const mark = pinReset ? ` ${asSentence(pinResetWords(printedInstant(pinReset.at), pinReset.voucher))}` : "";
  const done = `${ACT_WORDS[kind]} by ${by}, ${printedInstant(at)}.${said}${mark}`;
  if (ended !== null) {
    return `${done} No longer valid since ${printedInstant(ended.at)} (${ended.by}): ${ended.reason}`;
  }
  return isPresent
    ? `${done} Fingerprint of rows and results as printed here.`
    : `${done} Its fingerprint of rows and results is another one: ${rowsSha256}`;
}

/** Review and signatures, places for hands where none has signed, and what each fingerprint covers. */
export function SignedBy({ report }: { report: SheetReport }) {
  return (
    <>
      <Lines
        title="Review and signatures"
        lines={[STATE_WORDS[report.state], ...report.signOffs.map(signOffWords)]}
      />
      <section aria-label="Fingerprints" className={styles.together}>
        <h3>Fingerprints</h3>
        <dl className={styles.hashes}>
          <dt>Rows and results</dt>
          <dd>
            <span className={styles.hash}>{report.rowsSha256}</span>
            SHA-256 of the sheet’s sample, note and identifiers and of every row with its readings and
            results. Closing, review and signature name this one, and the foot of every page.
          </dd>
          <dt>All records</dt>
          <dd>
            <span className={styles.hash}>{report.dataSha256}</span>
            SHA-256 of the same rows with the method, the microscope, the calibrations, the certificates and
            the amendments. The workbook, the CSV and the JSON file name this one too.
          </dd>
          {report.trailHead === null ? null : (
            <>
              <dt>{TRAIL_HEAD_LABEL}</dt>
              <dd>
                <span className={styles.hash}>{report.trailHead}</span>
                Line of the bench’s audit trail when this was made, and its hash, which stands for every line
                before it. On paper it cannot be written anew: held against the bench it shows whether history
                was.
                {report.headSigned === null ? null : (
                  <span data-as-written className={styles.hash}>
                    {report.headSigned}
                  </span>
                )}
              </dd>
            </>
          )}
        </dl>
      </section>
      <div className={styles.signatures}>
        <p className={styles.signature}>Measured by, date</p>
        <p className={styles.signature}>Reviewed by, date</p>
      </div>
    </>
  );
}
