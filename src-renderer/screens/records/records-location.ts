import type { Location } from "../../app/location.ts";

/** A place within Records. */
export type RecordsLocation = Extract<Location, { screen: "records" }>;
