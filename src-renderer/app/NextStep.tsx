import { useEffect, useState } from "react";
import { useCall } from "../bridge/use-call.ts";
import { Button } from "../parts/Button.tsx";
import { firstSteps } from "../screens/bench/first-steps.ts";
import { useNavigation, useNavigationState } from "../window/navigation-context.tsx";
import styles from "./NextStep.module.css";

/** While the bench has no sheet yet: which step of the first hour is next, and the way to it from any other screen. */
export function NextStep() {
  // A bench never loses its sheets: from the first one on nothing is read here, as every reading would be reason to.
  const [isOver, setOver] = useState(false);
  return isOver ? null : <StepOfFirstHour onOver={() => setOver(true)} />;
}

function StepOfFirstHour({ onOver }: { onOver: () => void }) {
  const navigation = useNavigation();
  const { location } = useNavigationState();
  const overview = useCall("bench.overview", {}).data;
  const micrometers = useCall("micrometers.list", {}).data;
  const isOver = overview !== undefined && overview.counts.sheets > 0;
  useEffect(() => {
    if (isOver) onOver();
  }, [isOver, onOver]);
  if (!overview || isOver || location.screen === "bench") return null;
  const steps = firstSteps(overview, micrometers?.[0]?.id ?? null);
  const at = steps.findIndex((step) => !step.done);
  const next = steps[at];
  if (!next) return null;
  return (
    <p className={styles.next}>
      Step {at + 1} of {steps.length}
      {isThere(next.go, location) ? (
        `: ${next.words}`
      ) : (
        <Button look="quiet" onClick={() => navigation.go(next.go)}>
          {next.words}
        </Button>
      )}
    </p>
  );
}

/** A step that was begun, such as a calibration of a certain train, is the same place. */
function isThere(wanted: object, location: object): boolean {
  const there = new Map(Object.entries(location));
  return Object.entries(wanted).every(([key, value]) => value === null || there.get(key) === value);
}
