import type { CountMethodDefinition } from "../../contract/records/count-method.ts";
import { EGGS_KATO_KATZ, EGGS_MCMASTER, FIBRES_ON_FILTER, HAEMOCYTOMETER } from "./ready-bench-methods.ts";
import { PARTICLES_PER_CONTAINER, PARTICLES_PER_ML } from "./ready-particle-methods.ts";
import { PALMER_MALONEY_FIELDS, SEDGEWICK_RAFTER_STRIPS, UTERMOHL_FIELDS } from "./ready-plankton-methods.ts";
import {
  AIRBORNE_POLLEN,
  HONEY_CLASSES,
  POLLEN_MARKER,
  POLLEN_PER_TEN_GRAMS,
} from "./ready-pollen-methods.ts";

/** A method offered for a bench to take over and change; nothing is defined on a bench until somebody does so. */
export interface ReadyCountMethod {
  readonly id: string;
  readonly definition: CountMethodDefinition;
}

export const READY_COUNT_METHODS: readonly ReadyCountMethod[] = [
  { id: "utermohl-fields", definition: UTERMOHL_FIELDS },
  { id: "sedgewick-rafter-strips", definition: SEDGEWICK_RAFTER_STRIPS },
  { id: "palmer-maloney-fields", definition: PALMER_MALONEY_FIELDS },
  { id: "pollen-marker", definition: POLLEN_MARKER },
  { id: "honey-classes", definition: HONEY_CLASSES },
  { id: "honey-absolute", definition: POLLEN_PER_TEN_GRAMS },
  { id: "airborne-drum", definition: AIRBORNE_POLLEN },
  { id: "haemocytometer", definition: HAEMOCYTOMETER },
  { id: "fibres-on-filter", definition: FIBRES_ON_FILTER },
  { id: "particles-per-container", definition: PARTICLES_PER_CONTAINER },
  { id: "particles-per-ml", definition: PARTICLES_PER_ML },
  { id: "eggs-mcmaster", definition: EGGS_MCMASTER },
  { id: "eggs-kato-katz", definition: EGGS_KATO_KATZ },
];
