import { datedObjectiveWords } from "#core/optics/train-name.ts";
import { useCall } from "../../bridge/use-call.ts";
import type { ListFilter } from "./ListSearch.tsx";

interface Family {
  readonly familyId: string;
  readonly definition: { readonly name: string };
}

/** The person at the bench first, as “mine”, then the others. */
export function usePersonFilter(): ListFilter {
  const own = useCall("bench.status", {}).data?.personInUse?.id;
  const people = useCall("people.list", {}).data ?? [];
  const others = people.filter(({ id }) => id !== own).map(({ id, name }) => ({ value: id, words: name }));
  return {
    key: "person",
    label: "By",
    choices: own === undefined ? others : [{ value: own, words: "me" }, ...others],
  };
}

/** What sheets and counts can be narrowed by besides their state. `families`: their methods, the newest version of each last. */
export function useListFilters(families: readonly Family[]): readonly ListFilter[] {
  const microscopes = useCall("bench.overview", {}).data?.microscopes ?? [];
  const names = new Map(families.map(({ familyId, definition }) => [familyId, definition.name]));
  return [
    usePersonFilter(),
    {
      key: "method",
      label: "Method",
      choices: [...names].map(([value, words]) => ({ value, words })),
    },
    {
      key: "objective",
      label: "Objective",
      choices: microscopes.flatMap(({ microscope }) =>
        microscope.objectives.map((one) => ({
          value: one.id,
          words: `${microscope.name}, ${datedObjectiveWords(one)}`,
        })),
      ),
    },
  ];
}
