import type { TrailLine } from "../records/trail.ts";
import { storedAct, subjectOfStored } from "../stored-names.ts";
import { type LACKING, presentDetail } from "./legacy-trail.ts";
import { type Act, type DetailOf, type SubjectOf, TRAIL_DETAILS } from "./trail-event.ts";

type Without<D, K extends PropertyKey> = D extends unknown
  ? Omit<D, K> & Partial<Pick<D, Extract<K, keyof D>>>
  : never;
type ToldDetail<A extends Act, S extends SubjectOf<A>> = A extends keyof typeof LACKING
  ? Without<DetailOf<A, S>, (typeof LACKING)[A][number]>
  : DetailOf<A, S>;

type ToldOf<A extends Act> = {
  readonly [S in SubjectOf<A>]: {
    readonly sequence: number;
    readonly at: string;
    readonly by: string | null;
    readonly act: A;
    readonly subject: S;
    readonly subjectId: string;
    readonly reason: string | null;
    readonly detail: ToldDetail<A, S>;
  };
}[SubjectOf<A>];

/** A line of the trail as the event it tells. */
export type ToldEvent<A extends Act = Act> = { readonly [One in A]: ToldOf<One> }[A];

const ACTS: ReadonlyMap<string, string> = new Map(
  Object.keys(TRAIL_DETAILS).map((act) => [storedAct(act), act]),
);

/**
 * Reads a line. Its detail is taken for what its act writes, and not parsed by its schema: verify reads a hundred
 * thousand lines and names what differs, and the hash tells of a detail that was changed.
 * @throws SyntaxError for a detail that is no JSON
 */
export function eventOf({ personId, act, subject, detail, hash: _, ...line }: TrailLine): ToldEvent {
  const known = ACTS.get(act) ?? act;
  const told = presentDetail(known, JSON.parse(detail));
  return { ...line, by: personId, act: known, subject: subjectOfStored(subject), detail: told } as ToldEvent;
}
