import type { Location } from "../../window/location.ts";

/** A place within Records. */
export type RecordsLocation = Extract<Location, { screen: "records" }>;
