import type { CheckRecord } from "#core/contract/records/check.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { Button } from "../Button.tsx";
import { asPercent, toFour } from "../bench-words/figures.ts";
import { shownInstant } from "../bench-words/instant.ts";
import { type Column, DataTable } from "../layout/DataTable.tsx";
import { StateMark } from "../StateMark.tsx";
import styles from "./CheckTable.module.css";

export interface CheckTableProps {
  readonly checks: readonly CheckRecord[];
  readonly nameOf: (id: string | null) => string;
  /** Left out where the checks are only read. */
  readonly onWithdraw?: (check: CheckRecord) => void;
}

/** Passed, not passed, or withdrawn and why. */
function Verdict({ check }: { check: CheckRecord }) {
  const { result, withdrawn } = check;
  const outcome = result.passed ? "passed" : "not passed";
  const mark = result.passed ? "good" : "bad";
  return (
    <>
      <span className={styles.state}>
        <StateMark state={withdrawn ? "none" : mark} />
        {withdrawn ? "withdrawn" : outcome}
      </span>
      {withdrawn ? ` ${shownInstant(withdrawn.at)}: ${withdrawn.reason} (it had ${outcome})` : null}
      {!withdrawn && result.suspects?.[0] ? ` ${result.suspects[0].cause}.` : null}
    </>
  );
}

/** Quick checks against the factor in force, with the limit each was held to. */
export function CheckTable({ checks, nameOf, onWithdraw }: CheckTableProps) {
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
      cell: (one) => <Verdict check={one} />,
    },
    { key: "remark", title: "Remark", cell: (one) => one.remark || "–" },
    ...(onWithdraw
      ? [
          {
            key: "actions",
            title: "Actions",
            cell: (one: CheckRecord) =>
              one.withdrawn ? null : (
                <Button
                  look="quiet"
                  aria-label={`Withdraw the check of ${shownInstant(one.checkedAt)}`}
                  onClick={() => onWithdraw(one)}
                >
                  Withdraw
                </Button>
              ),
          },
        ]
      : []),
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
