/**
 * Reads every page of a bench or of its copy. @returns what is wrong with it, in words; empty: it is a whole bench
 * A host does it in a process of its own: at 100,000 rows it takes seconds, in which no reading would be answered.
 * Once the signal is given the answer does not matter.
 */
export type CheckCopy = (file: string, signal?: AbortSignal) => Promise<readonly string[]>;
