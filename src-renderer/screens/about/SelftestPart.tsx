import { useEffect, useRef, useState } from "react";
import type { ReferenceCase } from "#core/selftest/reference-case.ts";
import { countsByGrade, type SelftestRow } from "#core/selftest/run-selftest.ts";
import { Button } from "../../parts/Button.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { StateMark } from "../../parts/StateMark.tsx";
import styles from "./About.module.css";
import { runInChunks } from "./run-in-chunks.ts";

const COLUMNS: readonly Column<SelftestRow>[] = [
  {
    key: "agrees",
    title: "Verdict",
    cell: (row) => (
      <span className={styles.state}>
        <StateMark state={row.agrees ? "good" : "bad"} />
        {row.agrees ? "agrees" : "disagrees"}
      </span>
    ),
  },
  { key: "standing", title: "Standing", unbroken: true, cell: (row) => row.standing },
  {
    key: "what",
    title: "What",
    names: true,
    cell: (row) => (
      <>
        {row.what}
        <span className={styles.case}>{row.id}</span>
      </>
    ),
  },
  { key: "expected", title: "Expected", cell: (row) => <Value text={row.expected} /> },
  { key: "got", title: "Here", cell: (row) => <Value text={shortened(row.got) || (row.error ?? "")} /> },
  { key: "source", title: "Source", cell: (row) => row.source },
];

function Value({ text }: { text: string }) {
  return <span className={styles.value}>{text}</span>;
}

/** Digits shown of a result; comparison uses all of them. */
const MOST_DIGITS = 20;
const shortened = (got: string): string =>
  got.length > MOST_DIGITS && /^-?\d+\.\d+$/.test(got) ? `${got.slice(0, MOST_DIGITS)}…` : got;

const nextFrame = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

/** The reference cases, run at the user's own machine against values from outside the program. */
export function SelftestPart() {
  const [rows, setRows] = useState<readonly SelftestRow[]>([]);
  const [total, setTotal] = useState(0);
  const [running, setRunning] = useState(false);
  const [onlyWrong, setOnlyWrong] = useState(false);
  const stop = useRef<AbortController | null>(null);
  useEffect(() => () => stop.current?.abort(), []);

  const run = async (): Promise<void> => {
    const controller = new AbortController();
    stop.current = controller;
    setRunning(true);
    setRows([]);
    const cases = await loadCases();
    setTotal(cases.length);
    await runInChunks(cases, {
      budget: 24,
      now: () => performance.now(),
      yieldToEvents: nextFrame,
      onProgress: setRows,
      signal: controller.signal,
    });
    if (stop.current === controller) setRunning(false);
  };

  const wrong = rows.filter((row) => !row.agrees);
  return (
    <Panel
      title="Self-test"
      lead="All reference calculations, recomputed here and compared with a published, computed or recalled value, marked as such."
    >
      <div className={styles.stack}>
        <div className={styles.controls}>
          <Button look="main" onClick={() => void run()} disabled={running}>
            {running ? "Running …" : "Run the self-test"}
          </Button>
          {running ? <Button onClick={() => stop.current?.abort()}>Stop</Button> : null}
          {running ? (
            <progress
              className={styles.progress}
              aria-label="Cases run"
              max={total || 1}
              value={rows.length}
            />
          ) : null}
          <label className={styles.check}>
            <input
              type="checkbox"
              checked={onlyWrong}
              onChange={(event) => setOnlyWrong(event.target.checked)}
            />
            Show disagreements only
          </label>
        </div>
        {rows.length > 0 ? (
          <p role="status">
            <span className={styles.count}>{rows.length - wrong.length}</span> of {rows.length} agree
            {running ? "" : rows.length < total ? `, ${total - rows.length} not run` : ""};{" "}
            <span className={styles.count}>{wrong.length}</span> disagree.{" "}
            {countsByGrade(rows)
              .map(([standing, n]) => `${standing}: ${n}`)
              .join(", ")}
            .
          </p>
        ) : null}
        {rows.length > 0 && !running ? (
          <DataTable
            caption="Reference cases"
            captionHidden
            columns={COLUMNS}
            rows={onlyWrong ? wrong : rows}
            rowKey={(row) => row.id}
            empty="No disagreement."
          />
        ) : null}
      </div>
    </Panel>
  );
}

/** Fetched when wanted: the cases with their data are a large part of the program. */
async function loadCases(): Promise<readonly ReferenceCase[]> {
  return (await import("#core/selftest/all-cases.ts")).ALL_CASES;
}
