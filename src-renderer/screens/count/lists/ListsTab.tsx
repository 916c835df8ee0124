import { useState } from "react";
import type { CategoryList } from "#core/contract/records/category-list.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import { type Column, DataTable } from "../../../parts/layout/DataTable.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import { useNavigation } from "../../../window/navigation-context.tsx";
import styles from "../CountTab.module.css";
import { ListForm } from "./ListForm.tsx";
import { CATEGORY_COLUMNS } from "./ListPreview.tsx";

/** The category lists of the bench, and the form that makes one. */
export function ListsTab({ recordId }: { recordId: string | null }) {
  const navigation = useNavigation();
  const lists = useCall("categoryLists.list", {});
  const [making, setMaking] = useState<"new" | "next" | null>(null);
  const shown = lists.data?.find(({ id }) => id === recordId) ?? lists.data?.[0] ?? null;
  const show = (id: string): void => {
    setMaking(null);
    navigation.replace({ screen: "count", part: "lists", recordId: id });
  };
  // A bench without a list starts with the form for the first.
  const form = making ?? (lists.data?.length === 0 ? "new" : null);
  const isNext = form === "next";
  return (
    <>
      <CallNotice calls={[lists]} waiting="Fetching the lists …" />
      <div className={styles.tab}>
        <Panel
          title="Category lists"
          lead="Taxa or other categories that methods and counts take over."
          actions={<Button onClick={() => setMaking("new")}>New list …</Button>}
        >
          <DataTable
            caption="Lists of this bench"
            captionHidden
            columns={columnsOf(show)}
            rows={lists.data ?? []}
            rowKey={({ id }) => id}
            current={shown?.id ?? null}
            empty="No list yet: paste one from a spreadsheet."
          />
        </Panel>
        {form ? (
          <ListForm
            key={isNext ? shown?.id : "new"}
            list={isNext ? shown : null}
            onSaved={(list) => show(list.id)}
            onCancel={() => setMaking(null)}
          />
        ) : null}
        {shown && !form ? <ListFacts list={shown} onChange={() => setMaking("next")} /> : null}
      </div>
    </>
  );
}

function columnsOf(show: (id: string) => void): readonly Column<CategoryList>[] {
  return [
    { key: "name", title: "List", cell: ({ definition }) => definition.name, names: true },
    { key: "version", title: "Version", cell: ({ version }) => version, number: true },
    {
      key: "size",
      title: "Categories",
      cell: ({ definition }) => definition.categories.length,
      number: true,
    },
    {
      key: "show",
      title: <span className={styles.hidden}>Show</span>,
      cell: ({ id, definition }) => (
        <Button look="quiet" aria-label={`Show ${definition.name}`} onClick={() => show(id)}>
          Show
        </Button>
      ),
    },
  ];
}

function ListFacts({ list, onChange }: { list: CategoryList; onChange: () => void }) {
  const { name, categories, note } = list.definition;
  return (
    <Panel
      title={name}
      lead={`Version ${list.version}`}
      actions={<Button onClick={onChange}>Make the next version …</Button>}
    >
      {note ? <p>{note}</p> : null}
      <DataTable
        caption={`Categories of ${name}`}
        captionHidden
        columns={CATEGORY_COLUMNS}
        rows={categories.map((category, i) => ({
          line: i + 1,
          name: category.name,
          category,
          refused: null,
        }))}
        rowKey={({ line }) => String(line)}
        empty=""
      />
    </Panel>
  );
}
