import type { DetectiveReport } from "#core/calibration/detective.ts";
import { AssessmentWords, outcomeWords } from "../../parts/calibration/AssessmentWords.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { StateMark } from "../../parts/StateMark.tsx";
import styles from "./CalibrateScreen.module.css";
import type { CalibrationPreview } from "./calibration-preview.ts";

/** The calibration against its limits; it advises, the person decides. */
export function VerdictPanel({ preview }: { preview: CalibrationPreview }) {
  const { verdict, detective } = preview;
  return (
    <Panel title="Verdict" lead="Advice against stated limits; putting in force stays yours to decide.">
      {verdict ? (
        <AssessmentWords of={verdict} />
      ) : (
        <p className={styles.soft}>The first complete setting can be judged.</p>
      )}
      {detective ? <Suspects of={detective} /> : null}
    </Panel>
  );
}

/** The verdict in a sentence, for beside the readings; what it rests on stands in the panel below. */
export function VerdictLine({ preview: { verdict, detective } }: { preview: CalibrationPreview }) {
  if (!verdict) return null;
  const isGood = verdict.outcome === "accept" && !verdict.single && detective?.normal !== false;
  return (
    <p className={styles.verdict} data-outcome={verdict.outcome} aria-live="polite">
      <StateMark state={verdict.outcome === "stop" ? "bad" : isGood ? "good" : "warn"} />{" "}
      <span>
        {outcomeWords(verdict)}
        {detective?.normal === false
          ? ` ${detective.ratio.toPrecision(3)} times what the engravings say: see the verdict below.`
          : ""}
      </span>
    </p>
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
