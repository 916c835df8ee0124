import type { CheckRecord } from "#core/contract/records/check.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { asPercent, toFour } from "../bench-words/figures.ts";
import { shownInstant } from "../bench-words/instant.ts";
import { type Column, DataTable } from "../layout/DataTable.tsx";
import { StateMark } from "../StateMark.tsx";
import styles from "./CheckTable.module.css";

export interface CheckTableProps {
  readonly checks: readonly CheckRecord[];
  readonly nameOf: (id: string | null) => string;
}

/** Quick checks against the factor in force, with the limit each was held to. */
export function CheckTable({ checks, nameOf }: CheckTableProps) {
  const columns: readonly Column<CheckRecord>[] = [
    { key: "at", title: "Checked", names: true, unbroken: true, cell: (one) => shownInstant(one.checkedAt) },
    { key: "by", title: "By", cell: (one) => nameOf(one.checkedBy) },
    {
      key: "factor",
      title: "Factor then / µm per div",
      number: true,
      cell: (one) => toFour(one.result.factor),
    },
    {
      key: "difference",
      title: "From the factor in force",
      number: true,
      cell: (one) => asPercent(one.result.relativeDifference),
    },
    {
      key: "limit",
      title: "Limit",
      number: true,
      cell: (one) => asPercent(decimal(one.result.limit).div(one.result.factorInForce).toFixed()),
    },
    {
      key: "passed",
      title: "Verdict",
      cell: (one) => (
        <span className={styles.state}>
          <StateMark state={one.result.passed ? "good" : "bad"} />
          {one.result.passed ? "passed" : "not passed"}
        </span>
      ),
    },
    { key: "remark", title: "Remark", cell: (one) => one.remark || "–" },
  ];
  return (
    <DataTable
      caption="Quick checks"
      columns={columns}
      rows={checks}
      rowKey={(one) => one.id}
      empty="Not checked since it was put in force."
    />
  );
}
