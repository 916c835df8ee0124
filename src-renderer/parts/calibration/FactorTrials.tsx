import { FACTOR_TRIALS, type FactorUnderTrial, MORE_TRIALS } from "#core/calibration/factor-simulation.ts";
import { printedNumber } from "#core/quantity/printed-number.ts";
import { Button } from "../Button.tsx";
import { Notice } from "../Notice.tsx";
import styles from "./FactorTrials.module.css";
import { FactorTrialsOutcome } from "./FactorTrialsOutcome.tsx";
import { useFactorTrials } from "./use-factor-trials.ts";

/** The budget's interval held against a simulation, on request; shown and printed, never stored. */
export function FactorTrials({ factor }: { factor: FactorUnderTrial }) {
  // Another budget is another question: what was found for the one before goes.
  return <Trials key={JSON.stringify(factor)} factor={factor} />;
}

function Trials({ factor }: { factor: FactorUnderTrial }) {
  const { view, start, stop } = useFactorTrials(factor);
  // Without any uncertainty there is no interval to check.
  if (!(factor.gum.standard > 0)) return null;
  const isUnclear = view.at === "done" && view.simulation.validation.outcome === "unclear";
  const more = isUnclear && view.simulation.simulated.trials < MORE_TRIALS;
  const trials = more ? MORE_TRIALS : FACTOR_TRIALS.trials;
  return (
    <div className={styles.stack}>
      <div className={styles.acts}>
        {/* One button for both, so that the focus stays where the hand is. */}
        <Button onClick={() => (view.at === "running" ? stop() : start(trials))}>
          {view.at === "running"
            ? "Stop"
            : more
              ? `Check again with ${printedNumber(String(trials))} trials`
              : "Check by simulation (JCGM 101)"}
        </Button>
        {view.at === "running" ? (
          <progress className={styles.progress} aria-label="Trials done" max={view.of} value={view.done} />
        ) : null}
      </div>
      {view.at === "stopped" ? (
        <Notice
          live
          title={`Stopped after ${printedNumber(String(view.done))} trials: nothing is concluded.`}
        />
      ) : null}
      {view.at === "failed" ? (
        <Notice
          kind="fault"
          live
          title={`The simulation stopped by itself: ${view.reason || "its file could not be started"}.`}
          hint="Nothing was changed. Start it again; if it stops again, start Linefall anew."
        />
      ) : null}
      {view.at === "done" ? <FactorTrialsOutcome factor={factor} simulation={view.simulation} /> : null}
    </div>
  );
}
