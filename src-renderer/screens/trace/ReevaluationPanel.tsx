import { useEffect, useState } from "react";
import type { Reevaluation } from "#core/contract/records/reevaluation.ts";
import type { CallError } from "#core/contract/reply.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useBridge } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { Facts } from "../../parts/layout/Facts.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import styles from "./Trace.module.css";

/** How often a running re-evaluation is asked how far it has come, ms. */
const ASK_EVERY = 500;

/** The re-evaluations of this bench, newest first; the one under way with its progress. */
export function ReevaluationPanel() {
  const list = useCall("reevaluations.list", {});
  const running = list.data?.some((one) => one.state === "running") ?? false;
  const { reload } = list;
  const { elsewhere } = useBridge();
  useEffect(() => {
    if (!running) return;
    const timer = setInterval(reload, ASK_EVERY);
    return () => {
      clearInterval(timer);
      // What it converted is seen everywhere else from now on.
      void elsewhere.look();
    };
  }, [running, reload, elsewhere]);
  if (list.data?.length === 0) return null;
  return (
    <Panel title="Re-evaluations">
      <div className={styles.stack}>
        <CallNotice calls={[list]} waiting="Reading the re-evaluations …" />
        {list.data?.map((one) => (
          <OneReevaluation key={one.id} reevaluation={one} />
        ))}
      </div>
    </Panel>
  );
}

function OneReevaluation({ reevaluation }: { reevaluation: Reevaluation }) {
  const { client } = useBridge();
  const nameOf = usePersonName();
  const [error, setError] = useState<CallError | null>(null);
  const { id, state, done, total, reason, startedAt, startedBy, trouble, reopenedSheets } = reevaluation;
  const act = async (name: "reevaluations.stop" | "reevaluations.resume"): Promise<void> => {
    const reply = await client(name, { reevaluationId: id });
    setError(reply.ok ? null : reply.error);
  };
  return (
    <section className={styles.stack} aria-label={`Re-evaluation of ${shownInstant(startedAt)}`}>
      <Facts
        facts={[
          ["Begun", `${shownInstant(startedAt)}, ${nameOf(startedBy)}`],
          ["Reason", reason],
          [
            "State",
            state === "finished"
              ? `finished: ${countedNoun(done, "result")} converted`
              : `${state}: ${done} of ${countedNoun(total, "result")} converted`,
          ],
          ["Sheets that ask for signature again", reopenedSheets],
        ]}
      />
      {state === "finished" ? null : (
        <>
          <progress
            className={styles.progress}
            value={done}
            max={Math.max(total, 1)}
            aria-label="Converted"
          />
          <p className={styles.acts}>
            {state === "running" ? (
              <Button onClick={() => void act("reevaluations.stop")}>Stop</Button>
            ) : (
              <Button onClick={() => void act("reevaluations.resume")}>Go on</Button>
            )}
            <span>What is converted stays converted; entry can go on meanwhile.</span>
          </p>
        </>
      )}
      {trouble ? <Notice kind="fault" live title={trouble} /> : null}
      {error ? <RefusalNotice error={error} /> : null}
    </section>
  );
}
