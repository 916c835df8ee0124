import { useState } from "react";
import { READY_METHODS, type ReadyMethod } from "#core/measurement/methods/ready-methods.ts";
import { Button } from "../../../parts/Button.tsx";
import { EVIDENCE_WORDS } from "../../../parts/bench-words/method-words.ts";
import { Caution } from "../../../parts/Caution.tsx";
import { SelectField } from "../../../parts/form/SelectField.tsx";
import { Facts } from "../../../parts/layout/Facts.tsx";

/** Ready methods to begin with: where each comes from and what to mind, before it fills the form. */
export function MethodStart({ onTake }: { onTake: (method: ReadyMethod) => void }) {
  const [id, setId] = useState("");
  const method = READY_METHODS.find((one) => one.id === id);
  return (
    <>
      <SelectField
        id="method-start"
        label="Start from a template"
        value={id}
        onChange={setId}
        error={null}
        none="blank form"
        hint="It fills the form below; nothing is defined until you have looked it through."
        choices={READY_METHODS.map((one) => ({ value: one.id, words: one.definition.name }))}
      />
      {method ? (
        <>
          <Facts
            facts={[
              ["Source", method.source],
              ["Standing", EVIDENCE_WORDS[method.standing]],
            ]}
          />
          {method.cautions.map((caution) => (
            <Caution key={caution}>{caution}</Caution>
          ))}
          <p>
            <Button onClick={() => onTake(method)}>Fill the form with it</Button>
          </p>
        </>
      ) : null}
    </>
  );
}
