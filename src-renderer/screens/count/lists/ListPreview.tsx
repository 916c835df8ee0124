import type { CountCategory } from "#core/contract/records/count-method.ts";
import { countsAsText } from "#core/counting/lists/counts-as.ts";
import { keyTextOf } from "#core/counting/lists/key-text.ts";
import { listChanges } from "#core/counting/lists/list-changes.ts";
import type { ListLine, ReadList } from "#core/counting/lists/list-text.ts";
import { textOfSums } from "#core/counting/lists/sums-text.ts";
import { countedNoun } from "#core/quantity/counted-noun.ts";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { StateMark } from "../../../parts/StateMark.tsx";
import styles from "../CountTab.module.css";
import { takenOf } from "./list-draft.ts";

/** What the text makes: every line with its category, or with the reason why it is refused. */
export function ListPreview({ read, before }: { read: ReadList; before: readonly CountCategory[] }) {
  if (read.lines.length === 0) return null;
  const taken = takenOf(read);
  const refused = read.lines.length - taken.length;
  return (
    <section aria-label="Preview of the list" className={styles.stack}>
      <p role="status">
        <StateMark state={refused > 0 ? "warn" : "good"} />{" "}
        {countedNoun(taken.length, "category", "categories")}
        {refused > 0 ? `, ${countedNoun(refused, "refused line")}` : ""}
      </p>
      {read.unused.length > 0 ? (
        <p className={styles.soft}>Columns that are not read: {read.unused.join(", ")}.</p>
      ) : null}
      {before.length > 0 ? <Changes before={before} after={taken} /> : null}
      <DataTable
        caption="Lines of the list"
        captionHidden
        columns={COLUMNS}
        rows={read.lines}
        rowKey={({ line }) => String(line)}
        empty=""
      />
    </section>
  );
}

function Changes({ before, after }: { before: readonly CountCategory[]; after: readonly CountCategory[] }) {
  const { added, renamed, removed } = listChanges(before, after);
  const words = [
    ...(added.length > 0 ? [`New: ${added.join(", ")}.`] : []),
    ...(renamed.length > 0
      ? [`Renamed: ${renamed.map(({ from, to }) => `${from} → ${to}`).join(", ")}.`]
      : []),
    ...(removed.length > 0 ? [`Left out: ${removed.join(", ")}.`] : []),
  ];
  return words.length === 0 ? null : <p>{words.join(" ")}</p>;
}

const of = (cell: (category: CountCategory) => string) => (line: ListLine) =>
  line.category ? cell(line.category) : "";

export const CATEGORY_COLUMNS: readonly Column<ListLine>[] = [
  { key: "name", title: "name", cell: ({ name }) => name, names: true },
  { key: "code", title: "code", cell: of(({ code = "" }) => code), unbroken: true },
  { key: "group", title: "group", cell: of(({ group = "" }) => group) },
  { key: "sums", title: "sums", cell: of(({ sums = [] }) => textOfSums(sums)) },
  { key: "as", title: "counts as", cell: of(countsAsText) },
  { key: "key", title: "key", cell: of(({ keyCode }) => keyTextOf(keyCode)), unbroken: true },
  { key: "enough", title: "stop at", cell: of(({ enough }) => String(enough ?? "")), number: true },
];

const COLUMNS: readonly Column<ListLine>[] = [
  { key: "line", title: "line", cell: ({ line }) => line, number: true },
  ...CATEGORY_COLUMNS,
  {
    key: "refused",
    title: "refused because",
    cell: ({ refused }) =>
      refused === null ? null : (
        <>
          <StateMark state="bad" /> {refused}
        </>
      ),
  },
];
