import type { PooledRecord } from "#core/contract/records/calibration.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { roundToSignificant } from "#core/quantity/rounding.ts";
import type { RepeatabilityOrigin } from "#core/vocabulary/repeatability-origin.ts";
import { useCall } from "../../bridge/use-call.ts";
import { CallNotice } from "../CallNotice.tsx";
import { type Column, DataTable } from "../layout/DataTable.tsx";

const ORIGIN: Readonly<Record<RepeatabilityOrigin, string>> = {
  person: "Settings of calibrations",
  bench: "Settings of calibrations, everybody's",
  default: "Assumed",
  "repeat readings": "Repeat readings of specimens",
  practice: "Practice at the drawn eyepiece",
};

const COLUMNS: readonly Column<PooledRecord>[] = [
  { key: "origin", title: "Origin", names: true, cell: ({ origin }) => ORIGIN[origin] },
  {
    key: "s",
    title: "s of two edges / div",
    number: true,
    cell: ({ deviation }) => roundToSignificant(decimal(deviation), 2).toFixed(),
  },
  {
    key: "nu",
    title: "Degrees of freedom",
    number: true,
    cell: ({ degreesOfFreedom }) => degreesOfFreedom,
  },
  { key: "from", title: "Series", number: true, cell: ({ calibrations }) => String(calibrations) },
];

/** How far a person's readings scatter, by where that was learnt; never pooled over origins. */
export function ScatterTable({ personId }: { personId: string }) {
  const scatters = useCall("calibrations.scatters", { personId });
  return (
    <>
      <CallNotice calls={[scatters]} waiting="Reading how readings scatter …" />
      <DataTable
        caption="Scatter of readings by origin"
        captionHidden
        columns={COLUMNS}
        rows={scatters.data ?? []}
        rowKey={({ origin }) => origin}
        empty="Too little is known yet: it takes settings of calibrations, repeat readings or practice."
      />
    </>
  );
}
