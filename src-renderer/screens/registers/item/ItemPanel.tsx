import type { ReactNode } from "react";
import { shownInstant } from "../../../parts/bench-words/instant.ts";
import { TouchedButton } from "../../../parts/bench-words/TouchedButton.tsx";
import { CorrectionForm } from "../../../parts/form/CorrectionForm.tsx";
import { Facts } from "../../../parts/layout/Facts.tsx";
import { Panel } from "../../../parts/layout/Panel.tsx";
import styles from "../Registers.module.css";
import { AttachmentsPanel } from "./AttachmentsPanel.tsx";
import { HistoryPanel } from "./HistoryPanel.tsx";
import { type Item, ServiceStatePanel } from "./ServiceStatePanel.tsx";

export interface ItemPanelProps {
  readonly item: {
    readonly kind: "microscope" | "stage micrometer";
    readonly id: string;
    readonly name: string;
    readonly maker: string;
    readonly model?: string;
    readonly serial: string;
  };
  readonly facts: readonly (readonly [name: string, value: ReactNode])[];
  readonly registeredAt: string;
  /** Its parts, each of which may be out of service by itself. */
  readonly parts?: readonly Item[];
  readonly actions: ReactNode;
}

/** A thing of the register: what it is, whether it is in service, what is kept with it, and what has happened to it. */
export function ItemPanel({ item, facts, registeredAt, parts = [], actions }: ItemPanelProps) {
  const subject = { kind: item.kind, id: item.id };
  return (
    <Panel
      title={item.name}
      actions={
        <>
          {actions}
          <TouchedButton subject={subject} />
        </>
      }
    >
      <div className={styles.stack}>
        <Facts facts={[...facts, ["Registered", shownInstant(registeredAt)]]} />
        <CorrectionForm key={item.id} subject={subject} words={item} />
        <ServiceStatePanel items={[item, ...parts]} />
        <AttachmentsPanel subject={subject} name={item.name} />
        <HistoryPanel item={subject} name={item.name} />
      </div>
    </Panel>
  );
}
