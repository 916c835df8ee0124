import { PRACTICE_CAUTION } from "#core/practice/practice-caution.ts";
import { useCall } from "../../bridge/use-call.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PaperFoot } from "../../parts/layout/PaperFoot.tsx";
import { PrintButton } from "../../parts/layout/PrintButton.tsx";
import { Notice } from "../../parts/Notice.tsx";
import { CompetenceTable } from "../../parts/people/CompetenceTable.tsx";
import { usePeopleHere } from "../../parts/people/use-people-here.ts";
import styles from "./Practice.module.css";

/** Who is proven for what in practice, and until when. */
export function CompetencePanel({ onOpen }: { onOpen: (attemptId: string) => void }) {
  const competence = useCall("practice.competence", {});
  const people = usePeopleHere();
  const laboratory = useCall("laboratory.settings", {});
  return (
    <Panel
      title="Practice: who has shown what"
      lead={
        laboratory.data?.practiceBySignature
          ? "A met attempt counts once an examiner has signed it."
          : "A met attempt counts at once; an examiner may sign its certificate."
      }
      actions={<PrintButton />}
    >
      <div className={styles.stack}>
        <CallNotice calls={[competence]} waiting="Reading who has shown what …" />
        {competence.data && people ? (
          <CompetenceTable
            competence={competence.data.filter(({ personId }) => people.some(({ id }) => id === personId))}
            onOpen={onOpen}
          />
        ) : null}
        <Notice kind="care">{PRACTICE_CAUTION}</Notice>
        <PaperFoot />
      </div>
    </Panel>
  );
}
