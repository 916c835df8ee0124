import type { ParsedInput } from "#core/contract/calls.ts";
import type { Count, CountHead } from "#core/contract/records/count.ts";
import type { DensityRecord } from "#core/contract/records/count-results.ts";
import type { TouchedCount } from "#core/contract/records/touched-count.ts";
import { densityUnderFactor } from "#core/counting/densities/density-under-factor.ts";
import { decimal, ONE } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { countsByCalibration } from "../../store/repositories/count-repository.ts";
import { resultsOfCount, secondsCounted } from "../counts/count-lookup.ts";
import { requireCountMethodById } from "../methods/count-methods.ts";
import type { Deps } from "../write-context/deps.ts";
import { type ReachedCalibration, type ResolvedScope, resolveScope } from "./trace-scope.ts";

type Replacement = ReachedCalibration["replacement"];

function headOf(count: Count): CountHead {
  const {
    results: _results,
    categories: _categories,
    inputs: _inputs,
    trainCautions: _said,
    cellVolumes: _volumes,
    ...head
  } = count;
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

function touchedCount(db: ReadableDb, count: Count, replacement: Replacement, now: string): TouchedCount {
  const results = count.results ?? resultsOfCount(db, count, secondsCounted(count, now));
  const nameOf = (of: string) => count.categories.find((category) => category.key === of)?.name ?? "total";
  return {
    count: headOf(count),
    countMethodName: requireCountMethodById(db, count.countMethodId, "countMethodId").definition.name,
    densities: results.densities
      .filter((density) => density.factor !== null)
      .map((density) => touchedDensity(nameOf(density.of), density, replacement)),
  };
}

/** A count belongs to the day on which it was closed; while it is open, to the day on which it was opened. */
function isInside({ closedAt, openedAt }: Count, { notBefore, before }: ResolvedScope): boolean {
  const at = closedAt ?? openedAt;
  return at >= notBefore && at < before;
}

/** The counts a doubt reaches through the factor of their area, as `trace.forward` tells of the sheets. */
export function forwardCountServices(deps: Deps): HandlersOf<"counts.touchedBy"> {
  return {
    "counts.touchedBy": (scope: ParsedInput<"counts.touchedBy">) => {
      const resolved = resolveScope(deps.db, scope);
      return resolved.calibrations.flatMap(({ record, replacement }) =>
        countsByCalibration(deps.db, record.id)
          .filter((count) => isInside(count, resolved))
          .map((count) => touchedCount(deps.db, count, replacement, deps.clock.now())),
      );
    },
  };
}
