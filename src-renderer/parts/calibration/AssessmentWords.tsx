import { PROPOSED_LIMITS } from "#core/calibration/limits.ts";
import type { Assessment } from "#core/contract/records/assessment.ts";
import type { FindingState, VerdictOutcome } from "#core/vocabulary/rules.ts";
import { DataTable } from "../layout/DataTable.tsx";
import { Notice } from "../Notice.tsx";
import { type MarkState, StateMark } from "../StateMark.tsx";
import styles from "./Assessment.module.css";

const OUTCOMES: Readonly<
  Record<VerdictOutcome, { readonly kind: "done" | "care" | "fault"; readonly words: string }>
> = {
  accept: { kind: "done", words: "Within every limit that could be tested." },
  investigate: { kind: "care", words: "Look into it: something is beyond a limit." },
  stop: { kind: "fault", words: "Stop: the change from the factor before is beyond the stopping limit." },
};

const MARKS: Readonly<Record<FindingState, MarkState>> = {
  within: "good",
  beyond: "bad",
  "not tested": "none",
};

/** What stands in a verdict as it is shown: of the readings as they are typed, or as it was kept. */
export type ShownAssessment = Pick<Assessment, "outcome" | "single"> & {
  readonly remarks: readonly string[];
  readonly findings: readonly Pick<Assessment["findings"][number], "key" | "name" | "state" | "words">[];
};

/** The outcome of an assessment in a sentence. */
export function outcomeWords({ outcome, single }: Pick<Assessment, "outcome" | "single">): string {
  return `${single ? "One setting only. " : ""}${OUTCOMES[outcome].words}`;
}

const LIMITS: Readonly<Record<string, { readonly meaning: string; readonly origin: string }>> =
  PROPOSED_LIMITS;

/** An assessment with all its findings, and where the limits come from. */
export function AssessmentWords({ of: shown }: { of: ShownAssessment }) {
  return (
    <div className={styles.stack}>
      <Notice
        kind={shown.single && shown.outcome === "accept" ? "care" : OUTCOMES[shown.outcome].kind}
        title={outcomeWords(shown)}
      >
        {shown.remarks.map((remark) => (
          <p key={remark}>{remark}</p>
        ))}
      </Notice>
      <DataTable
        caption="Findings"
        captionHidden
        rows={shown.findings}
        rowKey={(finding) => finding.key}
        empty=""
        columns={[
          { key: "name", title: "Limit", cell: (finding) => finding.name, names: true },
          {
            key: "state",
            title: "State",
            cell: (finding) => (
              <span className={styles.state}>
                <StateMark state={MARKS[finding.state]} /> {finding.state}
              </span>
            ),
          },
          { key: "words", title: "Found", cell: (finding) => finding.words },
        ]}
      />
      <details>
        <summary>Where the limits come from</summary>
        <dl className={styles.origins}>
          {shown.findings.map(({ key, name }) => (
            <div key={key}>
              <dt>{name}</dt>
              <dd>
                {LIMITS[key]?.meaning} {LIMITS[key]?.origin}
              </dd>
            </div>
          ))}
        </dl>
      </details>
    </div>
  );
}
