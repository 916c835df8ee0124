import type { Attachment } from "#core/contract/records/attachment.ts";
import { useLivePart } from "../../../live/use-live-part.ts";
import { PictureAside } from "../../../parts/attachments/PictureAside.tsx";
import type { CountingState } from "../state/counting-state.ts";
import type { CountingStore } from "../state/counting-store.ts";

import { ownerOfField } from "./use-field-pictures.ts";

const fieldOf = ({ fields }: CountingState): number => fields.length;
const countOf = ({ count }: CountingState): string => count.id;

export interface FieldPictureAsideProps {
  readonly store: CountingStore;
  /** Of this count, those that stand beside its fields now, newest first; at least one. */
  readonly pictures: readonly Attachment[];
}

/** The newest picture of the field in hand, beside the pad. */
export function FieldPictureAside({ store, pictures }: FieldPictureAsideProps) {
  const field = useLivePart(store, fieldOf);
  const countId = useLivePart(store, countOf);
  return (
    <PictureAside label="Picture of the field" owner={ownerOfField(countId, field)} pictures={pictures} />
  );
}
