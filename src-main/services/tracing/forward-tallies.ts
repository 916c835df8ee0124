import type { ParsedInput } from "#core/contract/calls.ts";
import type { Tally, TallyHead } from "#core/contract/records/tally.ts";
import type { DensityRecord } from "#core/contract/records/tally-results.ts";
import type { TouchedTally } from "#core/contract/records/touched-tally.ts";
import { densityUnderFactor } from "#core/counting/densities/density-under-factor.ts";
import { decimal, ONE } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { talliesByCalibration } from "../../store/repositories/tally-repository.ts";
import { resultsOfTally, secondsCounted } from "../counts/tally-ground.ts";
import { requireMethodOfCount } from "../methods/count-methods.ts";
import type { Deps } from "../write-context/deps.ts";
import { type ReachedCalibration, type ResolvedScope, resolveScope } from "./trace-scope.ts";

type Replacement = ReachedCalibration["replacement"];

function headOf(tally: Tally): TallyHead {
  const {
    results: _results,
    categories: _categories,
    inputs: _inputs,
    trainCautions: _said,
    ...head
  } = tally;
  return head;
}

function touchedDensity(name: string, before: DensityRecord, replacement: Replacement) {
  const after = replacement
    ? densityUnderFactor(before, {
        factor: decimal(replacement.factor),
        standardUncertainty: decimal(replacement.standardUncertainty),
      })
    : null;
  const old = decimal(before.perObject);
  const change = after ? decimal(after.perObject).div(old).minus(ONE) : null;
  return { name, before, after, relativeChange: change ? textOfDecimal(change) : null };
}

function touchedTally(db: ReadableDb, tally: Tally, replacement: Replacement, now: string): TouchedTally {
  const results = tally.results ?? resultsOfTally(db, tally, secondsCounted(tally, now));
  const nameOf = (of: string) => tally.categories.find((category) => category.key === of)?.name ?? "total";
  return {
    tally: headOf(tally),
    countMethodName: requireMethodOfCount(db, tally.countMethodId, "countMethodId").definition.name,
    densities: results.densities
      .filter((density) => density.factor !== null)
      .map((density) => touchedDensity(nameOf(density.of), density, replacement)),
  };
}

/** A count belongs to the day on which it was closed; while it is open, to the day on which it was opened. */
function isInside({ closedAt, openedAt }: Tally, { notBefore, before }: ResolvedScope): boolean {
  const at = closedAt ?? openedAt;
  return at >= notBefore && at < before;
}

/** The counts a doubt reaches through the factor of their area, as `trace.forward` tells of the sheets. */
export function forwardTallyServices(deps: Deps): HandlersOf<"tallies.touchedBy"> {
  return {
    "tallies.touchedBy": (scope: ParsedInput<"tallies.touchedBy">) => {
      const resolved = resolveScope(deps.db, scope);
      return resolved.calibrations.flatMap(({ record, replacement }) =>
        talliesByCalibration(deps.db, record.id)
          .filter((tally) => isInside(tally, resolved))
          .map((tally) => touchedTally(deps.db, tally, replacement, deps.clock.now())),
      );
    },
  };
}
