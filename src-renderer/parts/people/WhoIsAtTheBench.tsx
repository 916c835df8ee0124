import { useState } from "react";
import type { CallError } from "#core/contract/reply.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../Button.tsx";
import { PersonForm } from "../form/PersonForm.tsx";
import { onNumberedKey } from "../layout/NumberedChoices.tsx";
import { Ruler } from "../layout/Ruler.tsx";
import { useDigitsAhead } from "../layout/use-digits-ahead.ts";
import { RefusalNotice } from "../RefusalNotice.tsx";
import { DemoOffer } from "./DemoOffer.tsx";
import { usePeopleHere } from "./use-people-here.ts";
import styles from "./WhoIsAtTheBench.module.css";

export interface WhoProps {
  /** First run: stands alone on the screen under its own heading. */
  readonly first?: boolean;
  readonly onChosen: () => void;
}

/** Chooses who is at the bench, or registers a new person and chooses that one. */
export function WhoIsAtTheBench({ first = false, onChosen }: WhoProps) {
  const client = useClient();
  const { data: registered, error } = useCall("people.list", {});
  const here = usePeopleHere();
  const people = here ?? [];
  useDigitsAhead(here === undefined);
  const [refusal, setRefusal] = useState<CallError | null>(null);
  const [adding, setAdding] = useState(false);

  const choose = async (personId: string): Promise<void> => {
    const reply = await client("people.choose", { personId });
    if (reply.ok) onChosen();
    else setRefusal(reply.error);
  };

  const choices = people.map(({ id, name }) => ({ key: id, words: name }));
  // Not before it is known that nobody is there: what is typed at the sight of the form stays in it.
  const nobody = registered?.length === 0;
  const form = adding || nobody;
  const problem = refusal ?? error;
  return (
    <div className={styles.who} data-first={first}>
      {first ? (
        <header>
          <h1>Who is at the bench?</h1>
          <p className={styles.lead}>
            Linefall proves the reticle scale of each objective against a certified stage micrometer, takes
            readings by keypad, and keeps every size with what it rests on. Every reading and every decision
            is kept with the name of who made it: begin with yours.
          </p>
          <Ruler strong />
        </header>
      ) : null}
      {problem ? <RefusalNotice error={problem} /> : null}
      {people.length > 0 ? (
        <ul className={styles.people} onKeyDown={onNumberedKey(choices, (id) => void choose(id), null)}>
          {people.map((person, index) => (
            <li key={person.id}>
              <Button
                autoFocus={index === 0}
                keyHint={index < 9 ? String(index + 1) : undefined}
                onClick={() => void choose(person.id)}
              >
                <span>{person.name}</span>
                <span className={styles.initials}>{person.initials}</span>
              </Button>
            </li>
          ))}
        </ul>
      ) : null}
      {form ? (
        <PersonForm
          submit="Register and start"
          onSaved={(person) => void choose(person.id)}
          onCancel={nobody ? undefined : () => setAdding(false)}
        />
      ) : (
        <p>
          <Button onClick={() => setAdding(true)}>Someone else …</Button>
        </p>
      )}
      {first && nobody ? <DemoOffer /> : null}
    </div>
  );
}
