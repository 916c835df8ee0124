import { useState } from "react";
import type { TouchedResult, TouchedSheet } from "#core/contract/records/trace.ts";
import { useCall } from "../../bridge/use-call.ts";
import { Button } from "../../parts/Button.tsx";
import { useDimensionName } from "../../parts/bench-words/use-dimension-name.ts";
import { CallNotice } from "../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../parts/layout/DataTable.tsx";
import { Panel } from "../../parts/layout/Panel.tsx";
import { useRoving } from "../../parts/layout/use-roving.ts";
import { useNavigation } from "../../window/navigation-context.tsx";
import type { Scope } from "./forward-scope.ts";
import { changeWords, differenceWords } from "./forward-words.ts";
import styles from "./Trace.module.css";

const PAGE = 200;

/** The results of one sheet, old and new, a page at a time. */
export function SheetRows({ scope, touched }: { scope: Scope; touched: TouchedSheet }) {
  const navigation = useNavigation();
  // The row number after which each page begins; the last one is shown.
  const [pages, setPages] = useState<readonly number[]>([0]);
  const after = pages.at(-1) ?? 0;
  const page = useCall("trace.forwardRows", { ...scope, sheetId: touched.sheet.id, after, count: PAGE });
  const dimensionName = useDimensionName(touched.sheet.methodId);
  const next = page.data?.next ?? null;
  const results = (page.data?.results ?? []).map((one, index) => ({ ...one, index }));
  const roving = useRoving(results.length);
  const columns: readonly Column<TouchedResult & { readonly index: number }>[] = [
    { key: "row", title: "Row", names: true, number: true, cell: (one) => one.ordinal },
    { key: "label", title: "Label", cell: (one) => one.label || "–" },
    { key: "dimension", title: "Dimension", cell: (one) => dimensionName(one.dimension) },
    { key: "div", title: "div", number: true, cell: (one) => one.divisions },
    {
      key: "old",
      title: "Size ± U, µm",
      number: true,
      cell: (one) => `${one.before.shownValue} ± ${one.before.shownUncertainty}`,
    },
    {
      key: "new",
      title: "With the replacement",
      number: true,
      cell: (one) => (one.after ? `${one.after.shownValue} ± ${one.after.shownUncertainty}` : "–"),
    },
    {
      key: "difference",
      title: "Difference / µm",
      number: true,
      cell: (one) => differenceWords(one.difference),
    },
    {
      key: "relative",
      title: "Change",
      number: true,
      cell: (one) => (one.relativeDifference === null ? "–" : changeWords(one.relativeDifference)),
    },
    {
      key: "acts",
      title: <span data-screen-only>Look</span>,
      unbroken: true,
      cell: (one) => (
        <Button
          look="quiet"
          {...roving(one.index)}
          aria-label={`Trace back: row ${one.ordinal}, ${dimensionName(one.dimension)}`}
          onClick={() =>
            navigation.go({
              screen: "trace",
              result: { rowId: one.rowId, dimension: one.dimension },
              subject: null,
            })
          }
        >
          Trace back
        </Button>
      ),
    },
  ];
  return (
    <Panel
      title={`Rows of ${touched.sheet.number}`}
      lead={`${touched.sheet.sample}. ↑ and ↓ step through the rows.`}
    >
      <CallNotice calls={[page]} waiting="Reading the rows …" />
      {page.data ? (
        <DataTable
          caption={`Results of ${touched.sheet.number}, old and new`}
          captionHidden
          columns={columns}
          rows={results}
          rowKey={(one) => `${one.rowId} ${one.dimension}`}
          empty="No result."
        />
      ) : null}
      {pages.length > 1 || next !== null ? (
        <div className={styles.pages}>
          <Button disabled={pages.length === 1} onClick={() => setPages(pages.slice(0, -1))}>
            Rows before
          </Button>
          <Button disabled={next === null} onClick={() => next !== null && setPages([...pages, next])}>
            More rows
          </Button>
        </div>
      ) : null}
    </Panel>
  );
}
