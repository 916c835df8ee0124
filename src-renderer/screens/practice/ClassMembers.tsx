import { useState } from "react";
import type { PracticeClass } from "#core/contract/records/practice-class.ts";
import type { CallError } from "#core/contract/reply.ts";
import { ALL_EXERCISES } from "#core/practice/exercises/all-exercises.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { newRequestId } from "../../bridge/request-id.ts";
import { Button } from "../../parts/Button.tsx";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { SelectField } from "../../parts/form/SelectField.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import styles from "./Practice.module.css";

/** Who takes part; each begins an exercise with the pictures of the class by one key. */
export function ClassMembers({ of, onOpen }: { of: PracticeClass; onOpen: (attemptId: string) => void }) {
  const client = useClient();
  const personName = usePersonName();
  const [name, setName] = useState<string>("tenths");
  const [error, setError] = useState<CallError | null>(null);
  const exercise = ALL_EXERCISES.find((one) => one.name === name) ?? ALL_EXERCISES[0];
  const begin = async (personId: string): Promise<void> => {
    if (!exercise) return;
    const chosen = await client("people.choose", { personId });
    if (!chosen.ok) return setError(chosen.error);
    const reply = await client("practice.begin", {
      requestId: newRequestId(),
      exercise: exercise.name,
      seed: of.seed,
    });
    if (!reply.ok) return setError(reply.error);
    onOpen(reply.value.id);
  };
  return (
    <div className={styles.stack} data-screen-only>
      <SelectField
        id="class-exercise"
        label="Exercise"
        value={name}
        choices={ALL_EXERCISES.map((one) => ({ value: one.name, words: one.title }))}
        onChange={setName}
      />
      {error ? <RefusalNotice error={error} /> : null}
      <div className={styles.members}>
        {of.memberIds.map((personId) => (
          <Button key={personId} onClick={() => void begin(personId)}>
            Begin as {personName(personId)}
          </Button>
        ))}
      </div>
    </div>
  );
}
