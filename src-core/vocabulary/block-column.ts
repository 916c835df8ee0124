/** What a pasted column may become beside a reading. */
export const BLOCK_COLUMN_KINDS = ["ignored", "label", "note", "stage-x", "stage-y", "stage-square"] as const;
export type BlockColumnKind = (typeof BLOCK_COLUMN_KINDS)[number];
