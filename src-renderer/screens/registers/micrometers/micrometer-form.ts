import type { CallInput } from "#core/contract/calls.ts";
import {
  NewStageMicrometer,
  type ScaleCover,
  type StageMicrometer,
  SUBSTRATES,
} from "#core/contract/records/stage-micrometer.ts";
import { problemsBySchema } from "../../../parts/form/form-checks.ts";
import type { FieldErrors } from "../../../parts/form/form-values.ts";

/** A stage micrometer as typed. */
export interface MicrometerTyped {
  readonly name: string;
  readonly serial: string;
  readonly maker: string;
  readonly scaleLengthMm: string;
  readonly divisions: string;
  readonly substrate: StageMicrometer["substrate"];
  /** Empty when not said. */
  readonly cover: ScaleCover | "";
  readonly keptAt: string;
}

/** The common scale stands there to be compared with the slide: 1 mm in 100 (common practice, no source). */
export const EMPTY_MICROMETER: MicrometerTyped = {
  name: "",
  serial: "",
  maker: "",
  scaleLengthMm: "1",
  divisions: "100",
  substrate: SUBSTRATES[0],
  cover: "",
  keptAt: "",
};

/** What the call takes. */
export function micrometerInput(typed: MicrometerTyped): CallInput<"micrometers.register">["micrometer"] {
  return { ...typed, cover: typed.cover || null };
}

/** Problems by field, before anything is sent. */
export function micrometerProblems(typed: MicrometerTyped): FieldErrors {
  return problemsBySchema(NewStageMicrometer, micrometerInput(typed));
}
