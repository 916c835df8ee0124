import type { StagePosition } from "../contract/records/sheet.ts";
import { trueMinus } from "../quantity/printed-number.ts";

/** Where a row lies, as one reads it out: “stage x 12.4, y 101.5; square M23”. */
export function placeWords({ x, y, square = "" }: StagePosition): string {
  const verniers = x === "" && y === "" ? "" : trueMinus(`stage x ${x || "?"}, y ${y || "?"}`);
  return [verniers, square === "" ? "" : `square ${square}`].filter((words) => words !== "").join("; ");
}
