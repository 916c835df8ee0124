/**
 * Reads every page of a copied bench. @returns what is wrong with it, in words; empty: it is a whole bench
 * A host does it in a process of its own: at 100,000 rows it takes seconds, in which no reading would be answered.
 */
export type CheckCopy = (file: string) => Promise<readonly string[]>;
