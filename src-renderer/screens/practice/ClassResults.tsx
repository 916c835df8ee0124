import type { PracticeAttempt } from "#core/contract/records/practice.ts";
import { exerciseOf } from "#core/practice/exercises/all-exercises.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PrintButton } from "../../parts/layout/PrintButton.tsx";
import { headlineWords, untilWords, verdictWords } from "./practice-words.ts";
import { useProof } from "./use-proof.ts";

/** Everyone's attempts, newest first. */
export function ClassResults({ onOpen }: { onOpen: (attemptId: string) => void }) {
  const attempts = useCall("practice.list", { personId: null });
  const personName = usePersonName();
  const proven = useProof();
  const columns: readonly Column<PracticeAttempt>[] = [
    { key: "person", title: "Person", names: true, cell: ({ personId }) => personName(personId) },
    { key: "exercise", title: "Exercise", cell: (attempt) => exerciseOf(attempt).title },
    { key: "begun", title: "Begun", unbroken: true, cell: ({ begunAt }) => shownInstant(begunAt) },
    { key: "verdict", title: "Result", cell: verdictWords },
    { key: "figures", title: "Figures", words: true, cell: headlineWords },
    { key: "until", title: "Proven until", unbroken: true, cell: (attempt) => untilWords(proven(attempt)) },
    {
      key: "open",
      title: "",
      cell: ({ id, answers }) => (
        <Button look="quiet" onClick={() => onOpen(id)}>
          Open{answers.length === 0 ? "" : ` (${answers.length})`}
        </Button>
      ),
    },
  ];
  return (
    <Panel
      title="Results of practice"
      lead="Of everybody at this bench, newest first; the number is that of the answers."
      actions={<PrintButton />}
    >
      <CallNotice calls={[attempts]} waiting="Reading the attempts …" />
      <DataTable
        caption="Attempts"
        captionHidden
        columns={columns}
        rows={attempts.data ?? []}
        rowKey={({ id }) => id}
        empty="Nobody has practised on this bench yet."
      />
    </Panel>
  );
}
