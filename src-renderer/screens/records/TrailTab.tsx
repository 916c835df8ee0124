import { useState } from "react";
import type { CallReply } from "#core/contract/calls.ts";
import { TRAIL_HEAD_LABEL, type TrailLine } from "#core/contract/records/trail.ts";
import { subjectOfStored } from "#core/contract/stored-names.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { useClient } from "../../bridge/bridge-context.tsx";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { actWords } from "../../parts/bench-words/act-words.ts";
import { ExportNotice } from "../../parts/bench-words/ExportNotice.tsx";
import { shownInstant } from "../../parts/bench-words/instant.ts";
import { usePersonName } from "../../parts/bench-words/use-person-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { ListSearch } from "../../parts/list/ListSearch.tsx";
import { type ListPlace, spanOf, useListPlace } from "../../parts/list/list-place.ts";
import { useLastAnswer } from "../../parts/list/use-last-answer.ts";
import { usePersonFilter } from "../../parts/list/use-list-filters.ts";
import { RefusalNotice } from "../../parts/RefusalNotice.tsx";
import { HeadSigning } from "./HeadSigning.tsx";
import styles from "./RecordsTab.module.css";

const PAGE = 50;

/** Who did what and when, newest first, a page at a time. */
export function TrailTab() {
  const nameOf = usePersonName();
  // The sequence before which each page begins; the last one is shown.
  const [pages, setPages] = useState<readonly (number | null)[]>([null]);
  const place = useListPlace("the audit trail");
  const at = {
    ...place,
    change: (changed: Partial<ListPlace>) => {
      setPages([null]);
      place.change(changed);
    },
  };
  const { words, filters } = place.place;
  const search = { words: words.trim(), personId: filters.person || null, ...spanOf(place.place) };
  const page = useCall("trail.page", { before: pages.at(-1) ?? null, count: PAGE, search });
  const lines = useLastAnswer(page.data);
  const oldest = lines?.at(-1)?.sequence;
  const isLast = lines !== undefined && (lines.length < PAGE || (oldest ?? 0) <= 1);
  const people = usePersonFilter();
  const columns: readonly Column<TrailLine>[] = [
    { key: "sequence", title: "Line", number: true, names: true, cell: (line) => line.sequence },
    { key: "at", title: "When", unbroken: true, cell: (line) => shownInstant(line.at) },
    { key: "who", title: "Who", words: true, cell: (line) => nameOf(line.personId) },
    { key: "act", title: "What", cell: (line) => actWords(line.act) },
    { key: "reason", title: "Reason", cell: (line) => line.reason ?? "–" },
    {
      key: "detail",
      title: "In full",
      cell: (line) => (
        <details>
          <summary className={styles.summary}>{subjectOfStored(line.subject).replaceAll("_", " ")}</summary>
          <p data-as-written className={styles.detail}>
            {line.act} {line.subject} {line.subjectId}
            {"\n"}
            {line.detail}
            {"\n"}hash {line.hash}
          </p>
        </details>
      ),
    },
  ];
  return (
    <Panel
      title="Audit trail"
      lead="The program only adds lines, and every line's hash covers the line before it: a line changed or taken out afterwards is named by Verify. That alone does not prove that the whole was not written anew: somebody who can write the file could make every hash again."
    >
      <HeadElsewhere />
      <CallNotice calls={[page]} waiting="Reading the trail …" />
      <ListSearch
        at={at}
        asksFor="words of the act, the reason or what changed"
        filters={[people]}
        found={lines ? countedNoun(lines.length, "line on this page", "lines on this page") : ""}
        takesFocus
      />
      {lines ? (
        <DataTable
          caption="Audit trail, newest first"
          captionHidden
          columns={columns}
          rows={lines}
          rowKey={(line) => String(line.sequence)}
          empty="No line is as you look for it."
        />
      ) : null}
      <div className={styles.pages}>
        <Button disabled={pages.length === 1} onClick={() => setPages(pages.slice(0, -1))}>
          Newer
        </Button>
        <Button disabled={isLast} onClick={() => oldest !== undefined && setPages([...pages, oldest])}>
          Older
        </Button>
      </div>
    </Panel>
  );
}

/** How far the trail goes, and a copy of that for a place that whoever may write the bench cannot write too. */
function HeadElsewhere() {
  const client = useClient();
  const head = useCall("trail.head", {});
  const [saved, setSaved] = useState<CallReply<"trail.saveHeads"> | null>(null);
  const save = async (): Promise<void> => setSaved(await client("trail.saveHeads", {}));
  if (!head.data) return <CallNotice calls={[head]} waiting="Reading the trail …" />;
  return (
    <>
      <p>
        {TRAIL_HEAD_LABEL} <span className={styles.hash}>{head.data}</span>
      </p>
      <p>
        Every report and export bears this line and hash, as do the names of backups. One that is kept where
        nobody can change it together with the bench proves that history up to it is the same: the page Verify
        holds the trail against what was kept. What was entered since is not proven.
      </p>
      <div className={styles.pages}>
        <Button onClick={() => void save()}>Save the heads to keep elsewhere</Button>
      </div>
      {saved?.ok ? <ExportNotice file={saved.value} what="file of heads" /> : null}
      {saved?.ok === false ? <RefusalNotice error={saved.error} /> : null}
      <HeadSigning />
    </>
  );
}
