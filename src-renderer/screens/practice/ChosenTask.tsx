import { useLayoutEffect, useRef, useState } from "react";
import { Button } from "../../parts/Button.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { NumberedChoices } from "../../parts/layout/NumberedChoices.tsx";
import { numberedKey } from "../../parts/layout/numbered-key.ts";
import { DrawnView } from "./DrawnView.tsx";
import styles from "./Practice.module.css";
import { KeyList, SlideStage } from "./SlideStage.tsx";
import type { TaskProps } from "./task-props.ts";
import { notesOf, useTask } from "./use-task.ts";

/** A task answered by choosing: what is known, the looks there are, and one question after the other. */
export function ChosenTask({ exercise, attempt: { seed }, answering }: TaskProps) {
  const { ordinal, take } = answering;
  const atWork = useTask(exercise, seed, ordinal);
  const { task, look, lookAt, lookNext } = atWork;
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const stage = useRef<HTMLElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new task is asked from its first question
  useLayoutEffect(() => {
    setChosen([]);
    stage.current?.focus();
  }, [task]);
  const question = exercise.fields[chosen.length];
  const choices = question?.choices ?? [];
  const choose = (value: string): void => {
    const answers = [...chosen, value];
    stage.current?.focus();
    if (answers.length < exercise.fields.length) {
      setChosen(answers);
      return;
    }
    const typed = exercise.fields.map(({ name }, index) => [name, answers[index] ?? ""]);
    take({ ...Object.fromEntries(typed), ...notesOf(exercise, atWork, look.view.placing.turnedDeg) });
  };
  const back = (): void => setChosen(chosen.slice(0, -1));

  return (
    <div className={styles.eyepiece}>
      <div className={`${styles.stack} ${styles.low}`}>
        <SlideStage
          ref={stage}
          label="View"
          onKey={(event) => {
            const answer = numberedKey(event.nativeEvent, choices.length);
            const value = typeof answer === "number" ? choices[answer - 1]?.value : undefined;
            if (value !== undefined) choose(value);
            else if (answer === "leave" && chosen.length > 0) back();
            else if (["0", "+", " "].includes(event.key)) lookNext();
            else return false;
            return true;
          }}
        >
          <DrawnView
            view={look.view}
            lookAtMm={look.lookAtMm}
            widthMm={look.widthMm}
            seed={seed}
            label={`View through the eyepiece: ${look.words}`}
          />
        </SlideStage>
        <div className={styles.looks}>
          {task.looks.map((one) => (
            <Button
              key={one.words}
              look="quiet"
              aria-pressed={one === look}
              onClick={() => {
                lookAt(one);
                stage.current?.focus();
              }}
            >
              {one.words}
            </Button>
          ))}
        </div>
        <h3>{question?.label}</h3>
        <div className={styles.inColumns}>
          <NumberedChoices
            choices={choices.map(({ value, words }) => ({ key: value, words }))}
            onChoose={choose}
            onLeave={back}
          />
        </div>
      </div>
      <div className={styles.answer}>
        <div className={styles.entered}>
          <Facts facts={task.facts} />
        </div>
        <KeyList
          keys={[
            ["1 to 9", "choose"],
            ["0 + or Space", "look at the next part"],
            ...(exercise.fields.length > 1 ? [["−", "back to the question before"] as const] : []),
          ]}
        />
      </div>
    </div>
  );
}
