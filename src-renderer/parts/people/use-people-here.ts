import type { Person } from "#core/contract/records/person.ts";
import { useCall } from "../../bridge/use-call.ts";

/** Who works here now: who may be chosen for anything new. Undefined until it is known. */
export function usePeopleHere(): readonly Person[] | undefined {
  const people = useCall("people.list", {}).data;
  const standings = useCall("people.standings", {}).data;
  if (!people || !standings) return undefined;
  const away = new Set(
    standings.filter(({ standing }) => standing === "set aside").map(({ personId }) => personId),
  );
  return people.filter(({ id }) => !away.has(id));
}
