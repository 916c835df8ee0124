import type { CertifiedLine } from "#core/calibration/certified-scale.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { Notice } from "../../../parts/Notice.tsx";
import { type CertificateTyped, certifiedLines, filledLines } from "./certificate-form.ts";
import { ErrorPlot } from "./ErrorPlot.tsx";

/** Says in one sentence what the table means as it is read, and draws it: a wrong sign shows at once. */
export function LinesPreview({ typed }: { typed: CertificateTyped }) {
  const lines = readLines(typed);
  if (lines === null) {
    return (
      <Notice>
        Enter goes to the next field; from the last field it opens a new row. Two columns copied from a
        spreadsheet can be pasted into the first field.
      </Notice>
    );
  }
  if (typeof lines === "string") return <Notice kind="care">{lines}</Notice>;
  const telling = lines.findLast((line) => !line.error.isZero()) ?? lines.at(-1);
  return (
    <div>
      {telling ? (
        <p>
          Read this way, the line marked {telling.nominal.toFixed()} µm really stands at{" "}
          <strong>{telling.nominal.plus(telling.error).toFixed()} µm</strong>.
        </p>
      ) : null}
      <ErrorPlot
        lines={lines.map((line) => ({ nominal: line.nominal.toFixed(), error: line.error.toFixed() }))}
        expandedUncertainty={typed.expandedUncertainty.replace(",", ".") || "0"}
      />
    </div>
  );
}

/** The lines; a sentence when they cannot be read that way; null while too little is typed to say anything. */
function readLines(typed: CertificateTyped): readonly CertifiedLine[] | string | null {
  const complete = filledLines(typed.lines).filter(
    (line) => line.nominal.trim() !== "" && line.value.trim() !== "",
  );
  if (typed.sign === "" || complete.length < 2) return null;
  try {
    return certifiedLines(typed.sign, complete);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const row = /^lines\.(\d+)/.exec(error.field)?.[1];
    const line = row === undefined ? undefined : complete[Number(row)];
    return `The line marked ${line?.nominal ?? "?"} ${error.reason}.`;
  }
}
