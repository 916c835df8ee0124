import { useEffect, useRef, useState } from "react";
import type { CallError } from "#core/contract/reply.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { Button } from "../../parts/Button.tsx";
import { CopyByHand } from "../../parts/clipboard/CopyByHand.tsx";
import { putOnClipboard } from "../../parts/clipboard/put-on-clipboard.ts";
import { TextField } from "../../parts/form/TextField.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { PaperFoot } from "../../parts/layout/PaperFoot.tsx";
import { PrintButton } from "../../parts/layout/PrintButton.tsx";
import { useRoving } from "../../parts/layout/use-roving.ts";
import { Notice } from "../../parts/Notice.tsx";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { useNavigation } from "../../window/navigation-context.tsx";
import { shown } from "../../window/notation.ts";
import {
  type JobSummary,
  MOST_OF_A_JOB,
  type SummaryLine,
  summaryOfJob,
  textOfSummary,
} from "./job-summary.ts";
import styles from "./RecordsTab.module.css";

type State =
  | { readonly at: "asking" }
  | { readonly at: "working"; readonly done: number; readonly of: number }
  | { readonly at: "done"; readonly words: string; readonly summary: JobSummary }
  | { readonly at: "refused"; readonly error: CallError };

/** The results of all sheets and counts of a job on one page. */
export function SummaryTab() {
  const client = useClient();
  const [words, setWords] = useState("");
  const [problem, setProblem] = useState<string | null>(null);
  const [state, setState] = useState<State>({ at: "asking" });
  const wanted = useRef(0);
  useEffect(
    () => () => {
      wanted.current += 1;
    },
    [],
  );
  const sumUp = async (): Promise<void> => {
    if (words.trim() === "") {
      setProblem("is empty: type what the sheets and counts of the job have in common");
      return;
    }
    setProblem(null);
    wanted.current += 1;
    const mine = wanted.current;
    const isWanted = (): boolean => wanted.current === mine;
    const tell = (done: number, of: number): void => {
      if (isWanted()) setState({ at: "working", done, of });
    };
    const reply = await summaryOfJob(client, words, tell, isWanted);
    if (!isWanted()) return;
    setState(reply.ok ? { at: "done", words, summary: reply.value } : { at: "refused", error: reply.error });
  };
  return (
    <Panel
      title="Summary of a job"
      lead="Means with U of every sheet and densities of every count, as their reports print them."
    >
      <div className={styles.stack}>
        <form
          noValidate
          data-screen-only
          aria-label="Which job"
          onSubmit={(event) => {
            event.preventDefault();
            void sumUp();
          }}
        >
          <TextField
            id="summary-words"
            label="Job"
            value={words}
            onChange={setWords}
            error={problem}
            hint={`Words of the number, the sample or the customer, all of them; at most ${MOST_OF_A_JOB} sheets and ${MOST_OF_A_JOB} counts.`}
          />
          <p className={styles.pages}>
            <Button look="main" type="submit" keyHint="Enter">
              Sum up
            </Button>
          </p>
        </form>
        <div role="status">
          {state.at === "working" ? <p>{`Summing up: ${state.done} of ${state.of} …`}</p> : null}
        </div>
        {state.at === "refused" ? <RefusalNotice error={state.error} /> : null}
        {state.at === "done" ? <Summary words={state.words} {...state.summary} /> : null}
        <PaperFoot />
      </div>
    </Panel>
  );
}

function Summary({ words, lines, more }: JobSummary & { words: string }) {
  const navigation = useNavigation();
  const roving = useRoving(lines.length);
  const [copied, setCopied] = useState<"yes" | "by hand" | null>(null);
  const text = shown(textOfSummary(lines));
  const columns: readonly Column<SummaryLine>[] = [
    { key: "number", title: "Number", names: true, unbroken: true, cell: (one) => one.number },
    { key: "sample", title: "Sample", words: true, cell: (one) => one.sample },
    { key: "state", title: "State", cell: (one) => one.state },
    { key: "what", title: "What", words: true, cell: (one) => one.what },
    { key: "n", title: "n", number: true, cell: (one) => one.n },
    {
      key: "result",
      title: "Result ± U",
      number: true,
      cell: (one) => `${one.result}${one.unit === "" ? "" : ` ${one.unit}`}`,
    },
    {
      key: "acts",
      title: <span data-screen-only>Look</span>,
      cell: (one) => (
        <Button
          look="quiet"
          {...roving(lines.indexOf(one))}
          aria-label={`Details of ${one.number}, ${one.what}`}
          onClick={() =>
            navigation.go(
              one.of === "sheet"
                ? { screen: "records", tab: "sheets", recordId: one.id }
                : { screen: "count", part: "counts", recordId: one.id },
            )
          }
        >
          Details
        </Button>
      ),
    },
  ];
  const copy = async (): Promise<void> => {
    setCopied((await putOnClipboard(text)) ? "yes" : "by hand");
  };
  return (
    <>
      {more > 0 ? (
        <Notice
          kind="care"
          live
          title={`${countedNoun(more, "more sheet or count holds", "more sheets or counts hold")} these words.`}
          hint="They are left out: type more words."
        />
      ) : null}
      {copied === "yes" ? <Notice kind="done" live title="Copied: paste it into a spreadsheet." /> : null}
      {copied === "by hand" ? <CopyByHand text={text} /> : null}
      {lines.length > 0 ? (
        <p className={styles.pages} data-screen-only>
          <Button onClick={() => void copy()}>Copy for a spreadsheet</Button>
          <PrintButton words="Print" />
        </p>
      ) : null}
      <DataTable
        caption={`Job “${words}”`}
        columns={columns}
        rows={lines}
        rowKey={(one) => one.key}
        empty="No sheet and no count holds these words."
      />
    </>
  );
}
