import { useState } from "react";
import type { EquipmentEvent } from "#core/contract/records/equipment-event.ts";
import type { Eyepiece, Microscope } from "#core/contract/records/microscope.ts";
import { lentWords, loanOf } from "#core/optics/lent-eyepiece.ts";
import { useCall } from "../../../bridge/use-call.ts";
import { Button } from "../../../parts/Button.tsx";
import { CallNotice } from "../../../parts/CallNotice.tsx";
import type { Column } from "../../../parts/layout/DataTable.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import styles from "../Registers.module.css";
import { LoanForm } from "./LoanForm.tsx";
import { type Part, PartTable } from "./PartTable.tsx";

const EYEPIECES: readonly Column<Eyepiece>[] = [
  { key: "name", title: "Eyepiece", names: true, words: true, cell: (one) => one.name },
  {
    key: "magnification",
    title: "× / field number in mm",
    cell: (one) =>
      `${one.magnification === null ? "–" : `${one.magnification}×`} / ${one.fieldNumber ?? "–"}`,
  },
  { key: "serial", title: "Serial number", cell: (one) => one.serial || "not recorded" },
  {
    key: "reticle",
    title: "Reticle",
    cell: (one) =>
      `${one.reticle.scaleLengthMm} mm in ${one.reticle.divisions}${one.reticle.engraving ? `, engraved ${one.reticle.engraving}` : ""}`,
  },
];

export interface EyepiecesPanelProps {
  readonly microscope: Microscope;
  readonly onAdd: () => void;
}

/** The eyepieces with their reticles, where each is, and the forms that lend one and bring it back. */
export function EyepiecesPanel({ microscope, onAdd }: EyepiecesPanelProps) {
  const events = useCall("events.list", { microscopeId: microscope.id });
  const [moving, setMoving] = useState<string | null>(null);
  const eyepiece = microscope.eyepieces.find((one) => one.id === moving);
  return (
    <Panel title="Eyepieces and reticles" actions={<Button onClick={onAdd}>Add an eyepiece</Button>}>
      <CallNotice calls={[events]} waiting="Reading where they are …" />
      <PartTable
        caption={`Eyepieces of ${microscope.name}`}
        columns={events.data ? [...EYEPIECES, ...whereColumns(events.data, setMoving)] : EYEPIECES}
        rows={microscope.eyepieces}
        partOf={eyepiecePart}
        empty="No eyepiece."
      />
      {eyepiece && events.data ? (
        <LoanForm
          key={eyepiece.id}
          eyepiece={eyepiece}
          loan={loanOf(events.data, eyepiece.id)}
          onDone={() => setMoving(null)}
        />
      ) : null}
    </Panel>
  );
}

function whereColumns(
  events: readonly EquipmentEvent[],
  onMove: (eyepieceId: string) => void,
): readonly Column<Eyepiece>[] {
  return [
    {
      key: "where",
      title: "Where it is",
      cell: ({ id, name }) => {
        const loan = loanOf(events, id);
        const act = loan ? "Bring back" : "Lend";
        return (
          <span className={styles.line}>
            {loan ? lentWords(loan).replace(/^is /, "") : "here"}
            <Button look="quiet" aria-label={`${act} eyepiece ${name}`} onClick={() => onMove(id)}>
              {act}
            </Button>
          </span>
        );
      },
    },
  ];
}

/** The reticle goes with its eyepiece: what the eyepiece touched is what its reticle was read for. */
export function eyepiecePart(one: Eyepiece): Part {
  const name = `eyepiece ${one.name} with its reticle`;
  return { kind: "eyepiece", id: one.id, name, touched: { kind: "reticle", id: one.reticle.id }, words: one };
}
