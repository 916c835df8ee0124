import { useSyncExternalStore } from "react";
import type { Eyes } from "#core/contract/records/eyes.ts";
import type { Person } from "#core/contract/records/person.ts";
import type { CallError } from "#core/contract/reply.ts";
import { eyesWords } from "#core/optics/confirmation-words.ts";
import { objectiveWords } from "#core/optics/train-name.ts";
import { objectiveInUse } from "../../../grid/grid-state.ts";
import type { GridStore } from "../../../grid/grid-store.ts";
import { useLivePart } from "../../../live/use-live-part.ts";
import { Button } from "../../../parts/Button.tsx";
import { StateMark } from "../../../parts/StateMark.tsx";
import { objectiveById, type SheetContext } from "../sheet-context.ts";
import styles from "./TrainQuestion.module.css";
import type { TrainOccasion, TrainWatch } from "./train-watch.ts";

export interface TrainQuestionProps {
  readonly store: GridStore;
  readonly context: SheetContext;
  readonly person: Person | null;
  readonly watch: TrainWatch;
  readonly problem: CallError | null;
  /** As the person had them at this train last; the answer takes them as unchanged. */
  readonly eyes: Eyes | null;
  readonly onEyes: () => void;
}

/** Asks, beside the work, whether the light goes through what the sheet says. Announced politely; takes no focus. */
export function TrainQuestion({ watch, ...around }: TrainQuestionProps) {
  const asked = useSyncExternalStore(watch.subscribe, watch.asked);
  return (
    <section className={styles.place} aria-label="Confirm the train" aria-live="polite">
      {asked ? <Question asked={asked} watch={watch} {...around} /> : null}
    </section>
  );
}

function Question({
  asked,
  store,
  context,
  person,
  watch,
  problem,
  eyes,
  onEyes,
}: TrainQuestionProps & { asked: TrainOccasion }) {
  const id = useLivePart(store, objectiveInUse);
  const objective = objectiveById(context, id);
  const { sheet, microscope, eyepiece } = context;
  if (!objective) return null;
  return (
    <div className={styles.question}>
      <p>
        <strong>{whyAsked(asked, person)}</strong> Is this set-up correct?
        {problem ? (
          <span className={styles.problem}>
            {" "}
            <StateMark state="bad" /> Not recorded: {problem.message} {problem.hint}
          </span>
        ) : null}
      </p>
      <ul className={styles.train}>
        <li className={styles.objective}>
          {objective.position} · {objectiveWords(objective)}
        </li>
        <li>
          intermediate <b>{sheet.intermediateMagnification}×</b>
        </li>
        <li>{eyepiece.name}</li>
        <li>
          interpupillary{" "}
          <b>{person?.interpupillaryMm ? `${person.interpupillaryMm} mm` : "not registered"}</b>
          {microscope.headCompensated ? "" : ", head not compensated"}
        </li>
        {eyes && eyesWords(eyes) !== "" ? <li>{eyesWords(eyes)}</li> : null}
      </ul>
      <p className={styles.answers}>
        <Button look="main" keyHint="Enter" onClick={() => watch.confirm(id)}>
          Yes, correct
        </Button>
        <Button keyHint="/" onClick={() => store.dispatch({ type: "turretOpen" })}>
          Another objective
        </Button>
        <Button keyHint="/ 0 5" onClick={onEyes}>
          {eyes ? "Other dioptre, sleeve or glasses" : "Dioptre, sleeve, glasses"}
        </Button>
      </p>
    </div>
  );
}

function whyAsked(occasion: TrainOccasion, person: Person | null): string {
  if (occasion === "person") return `${person?.name ?? "Somebody else"} is at the bench.`;
  return occasion === "idle" ? "After a break." : "Sheet opened.";
}
