import type { ReportSecondReading, SheetReport } from "#core/contract/records/exchange.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { printedInstant } from "../../parts/bench-words/instant.ts";
import { Lines } from "./Lines.tsx";

function readingLines(one: ReportSecondReading): string[] {
  const who = `${one.reader}${one.sameReader ? " (who took first readings too)" : ""}`;
  const rows = `${countedNoun(one.rows, "row")} ${one.drawn ? "drawn by chance" : "chosen"}`;
  const head = `Second reading ${one.number}: ${rows}, read blind by ${who}`;
  if (one.closedAt === null) return [`${head}; not finished, so there is nothing to compare yet.`];
  const closed = `${head}, closed ${printedInstant(one.closedAt)}.`;
  if (one.agreement.length === 0) return [`${closed} No dimension has two pairs of sizes to compare.`];
  return [
    closed,
    ...one.agreement.map(
      ({ name, n, bias, limits, technicalError }) =>
        `${name}, ${countedNoun(n, "pair")}: mean difference ${bias} µm (second less first), 95 % limits of agreement ${limits} µm, technical error of measurement ${technicalError} µm.`,
    ),
  ];
}

/** What happened to the figures after they were first read: second readings, amendments, re-evaluations. */
export function ReportHistory({ report }: { report: SheetReport }) {
  const { secondReadings, amendments, amendmentsTotal } = report;
  return (
    <>
      {secondReadings.length === 0 ? null : (
        <Lines title="Second reading" lines={secondReadings.flatMap(readingLines)} />
      )}
      {amendmentsTotal === 0 ? null : (
        <Lines
          title="Amendments and re-evaluations"
          lines={amendments.map(
            ({ at, by, what, reason }) =>
              `${printedInstant(at)}, ${by}: ${what}.${reason === "" ? "" : ` Reason: ${reason}`}`,
          )}
          more={amendmentsTotal - amendments.length}
        />
      )}
    </>
  );
}
