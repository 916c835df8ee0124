import { Button } from "../../../parts/Button.tsx";
import { keysOf } from "../../../window/keymap.ts";
import { useCommand } from "../../../window/use-command.tsx";
import styles from "./rest.module.css";
import type { RestClock } from "./rest-clock.ts";
import { useRestDue } from "./use-rest.ts";

/** Says politely that it is time to rest the eyes: it takes no focus, hides nothing, and goes with an answer or a long pause. */
export function RestReminder({ clock }: { clock?: RestClock }) {
  const { isDue, minutes, rested, later } = useRestDue(clock);
  useCommand("measure.rested", isDue ? rested : null);
  return (
    <div className={styles.place}>
      <p aria-live="polite" className={styles.words}>
        {isDue ? `${minutes} minutes at work: look far away for 20 s.` : null}
      </p>
      {isDue ? (
        <>
          <Button look="quiet" onClick={rested} keyHint={keysOf("measure.rested")[0]}>
            Rested
          </Button>
          <Button look="quiet" onClick={later}>
            Later
          </Button>
        </>
      ) : null}
    </div>
  );
}
