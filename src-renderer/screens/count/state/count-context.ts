import type { Client } from "#core/contract/calls.ts";
import type { CountState } from "#core/contract/records/count.ts";
import type { CountMethod } from "#core/contract/records/count-method.ts";
import type { AreaFactor } from "#core/counting/areas/counting-area.ts";
import { decimal } from "#core/quantity/decimal.ts";
import type { Loaded } from "../../../live/use-opened.ts";

/** Everything that stands around the presses of one count. */
export interface CountContext {
  readonly state: CountState;
  readonly method: CountMethod;
  /** The frozen factor; null when the count has none. */
  readonly factor: AreaFactor | null;
}

/** The factor of a calibration, as the core takes it. */
export async function loadFactor(
  client: Client,
  calibrationId: string | null,
): Promise<Loaded<AreaFactor | null>> {
  if (calibrationId === null) return { ok: true, value: null };
  const reply = await client("calibrations.get", { calibrationId });
  if (!reply.ok) return reply;
  const { result } = reply.value;
  return {
    ok: true,
    value: result && {
      factor: decimal(result.factor),
      standardUncertainty: decimal(result.standardUncertainty),
    },
  };
}

/** Fetches a count with its method and factor; a refusal says why it cannot be shown. */
export async function loadCountContext(client: Client, countId: string): Promise<Loaded<CountContext>> {
  const state = await client("counts.state", { countId });
  if (!state.ok) return state;
  const { countMethodId, calibrationId } = state.value.count;
  const [method, factor] = await Promise.all([
    client("countMethods.get", { countMethodId }),
    loadFactor(client, calibrationId),
  ]);
  if (!method.ok) return method;
  if (!factor.ok) return factor;
  return { ok: true, value: { state: state.value, method: method.value, factor: factor.value } };
}
