import type { Provenance } from "../../vocabulary/provenance.ts";

/** A suction trap with a trace on a moving drum. */
export interface DrumTrap extends Provenance {
  readonly id: string;
  readonly name: string;
  /** Width of the trace, mm, and air drawn, L/min. */
  readonly traceWidth: string;
  readonly airflow: string;
}

export const HIRST_DRUM: DrumTrap = {
  id: "hirst-drum",
  name: "Hirst-type drum",
  traceWidth: "14",
  airflow: "10",
  source: "Aerobiology practice for traps of the Hirst type: 14 mm trace, 10 L/min",
  standing: "from memory",
};
