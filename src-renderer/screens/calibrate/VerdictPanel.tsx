import type { DetectiveReport } from "#core/calibration/detective.ts";
import { PROPOSED_LIMITS } from "#core/calibration/limits.ts";
import type { Finding, FindingState, Verdict, VerdictOutcome } from "#core/calibration/verdict.ts";
import { DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { type MarkState, StateMark } from "../../parts/StateMark.tsx";
import styles from "./CalibrateScreen.module.css";
import type { CalibrationPreview } from "./calibration-preview.ts";

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

/** The calibration against its limits; it advises, the person decides. */
export function VerdictPanel({ preview }: { preview: CalibrationPreview }) {
  const { verdict, detective } = preview;
  return (
    <Panel title="Verdict" lead="Advice against stated limits; putting in force stays yours to decide.">
      {verdict ? (
        <VerdictWords verdict={verdict} />
      ) : (
        <p className={styles.soft}>The first complete setting can be judged.</p>
      )}
      {detective ? <Suspects of={detective} /> : null}
    </Panel>
  );
}

function VerdictWords({ verdict }: { verdict: Verdict }) {
  const outcome = OUTCOMES[verdict.outcome];
  return (
    <div className={styles.stack}>
      <Notice kind={outcome.kind} title={outcome.words}>
        {verdict.remarks.map((remark) => (
          <p key={remark}>{remark}</p>
        ))}
      </Notice>
      <DataTable<Finding>
        caption="Findings"
        captionHidden
        rows={verdict.findings}
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
          {verdict.findings.map((finding) => (
            <div key={finding.key}>
              <dt>{finding.name}</dt>
              <dd>
                {PROPOSED_LIMITS[finding.key].meaning} {PROPOSED_LIMITS[finding.key].origin}
              </dd>
            </div>
          ))}
        </dl>
      </details>
    </div>
  );
}

function Suspects({ of: report }: { of: DetectiveReport }) {
  if (report.normal) return null;
  return (
    <Notice
      kind="care"
      title={`The factor is ${report.ratio.toPrecision(3)} times what the engravings lead one to expect.`}
    >
      {report.suspects.length === 0 ? <p>No known cause fits this ratio.</p> : null}
      {report.suspects.map((suspect) => (
        <p key={suspect.cause}>
          <strong>{suspect.cause}.</strong> {suspect.whatToDo} ({suspect.origin})
        </p>
      ))}
    </Notice>
  );
}
