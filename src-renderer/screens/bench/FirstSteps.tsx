import { Button } from "../../parts/Button.tsx";
import { classNames } from "../../parts/layout/class-names.ts";
import { Panel } from "../../parts/layout/Panel.tsx";
import { StateMark } from "../../parts/StateMark.tsx";
import { keysOf } from "../../window/keymap.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import type { FirstStep } from "./first-steps.ts";
import styles from "./JobList.module.css";
import { useNumberChoice } from "./use-number-choice.ts";

/** The guided way to the first calibration and the first sheet; the next step stands out. */
export function FirstSteps({ steps }: { steps: readonly FirstStep[] }) {
  const navigation = useNavigation();
  const next = steps.findIndex((step) => !step.done);
  const list = useNumberChoice(
    steps.map((step) => step.go),
    next,
  );
  return (
    <Panel
      title="First calibration"
      lead="From an empty bench to the first size in µm. Press the number to go there."
    >
      <ol ref={list} className={styles.jobs}>
        {steps.map((step, index) => (
          <li key={step.key}>
            <button
              type="button"
              className={classNames(styles.job, step.done && styles.done)}
              aria-current={index === next ? "step" : undefined}
              onClick={() => navigation.go(step.go)}
            >
              <span className={styles.number}>{index + 1}</span>
              <StateMark state={step.done ? "good" : "none"} />
              <span className={styles.words}>
                <span className={styles.what}>
                  {step.words}
                  {step.done ? ": done" : ""}
                  {index === next ? <span className={styles.next}>next</span> : null}
                </span>
                <span className={styles.why}>{step.detail}</span>
              </span>
            </button>
          </li>
        ))}
      </ol>
      <p>
        No microscope at hand?{" "}
        <Button onClick={() => navigation.go({ screen: "practice", part: "exercises", attemptId: null })}>
          Practise at a drawn eyepiece <kbd>{keysOf("go.practice")[0]}</kbd>
        </Button>
      </p>
    </Panel>
  );
}
