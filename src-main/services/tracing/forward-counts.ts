import type { ParsedInput } from "#core/contract/calls.ts";
import { factorKey } from "#core/contract/records/cell-volume.ts";
import type { Count, CountHead } from "#core/contract/records/count.ts";
import type { DensityRecord } from "#core/contract/records/count-results.ts";
import type { TouchedCount } from "#core/contract/records/touched-count.ts";
import { densityUnderFactor } from "#core/counting/densities/density-under-factor.ts";
import { decimal, ONE } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import { handlers } from "../../dispatch/handlers.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { countsByCalibration, countsByCellVolume } from "../../store/repositories/count-repository.ts";
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
    control: _control,
    ...head
  } = count;
  return head;
}

const nameOfCategory = ({ categories }: Count, key: string): string =>
  categories.find((category) => category.key === key)?.name ?? "total";

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

/** The volumes measured with a factor. A volume follows its cube, where every cell was measured with it. */
function touchedVolumes(
  count: Count,
  { record, replacement }: ReachedCalibration,
): TouchedCount["cellVolumes"] {
  return (count.cellVolumes ?? []).flatMap(({ category, of }) => {
    const doubt = of.from === "sheet" && of.components.find(({ key }) => key === factorKey(record.id));
    if (!doubt || !record.result) return [];
    const { factor, standardUncertainty } = record.result;
    const ofAll = decimal(standardUncertainty).times(3).div(factor);
    const isOfAll = decimal(doubt.relative).minus(ofAll).abs().lessThan(ofAll.times("1e-9"));
    const cubed = replacement && isOfAll ? decimal(replacement.factor).div(factor).pow(3) : null;
    return {
      category,
      name: nameOfCategory(count, category),
      before: of.volume,
      after: cubed && textOfDecimal(decimal(of.volume).times(cubed)),
      relativeChange: cubed && textOfDecimal(cubed.minus(ONE)),
    };
  });
}

function touchedCount(db: ReadableDb, count: Count, reached: ReachedCalibration, now: string): TouchedCount {
  const { record, replacement } = reached;
  const isOfArea = count.calibrationId === record.id;
  const results = count.results ?? resultsOfCount(db, count, secondsCounted(count, now));
  return {
    count: headOf(count),
    countMethodName: requireCountMethodById(db, count.countMethodId, "countMethodId").definition.name,
    densities: results.densities
      .filter((density) => isOfArea && density.factor !== null)
      .map((density) => touchedDensity(nameOfCategory(count, density.of), density, replacement)),
    cellVolumes: touchedVolumes(count, reached),
  };
}

/** A count belongs to the day on which it was closed; while it is open, to the day on which it was opened. */
function isInside({ closedAt, openedAt }: Count, { notBefore, before }: ResolvedScope): boolean {
  const at = closedAt ?? openedAt;
  return at >= notBefore && at < before;
}

/** The counts a doubt reaches through the factor of their area or of their cells, as `trace.forward` tells of the sheets. */
export function forwardCountServices(deps: Deps) {
  return handlers({
    "counts.touchedBy": (scope: ParsedInput<"counts.touchedBy">) => {
      const resolved = resolveScope(deps.db, scope);
      return resolved.calibrations.flatMap((reached) => {
        const ofArea = countsByCalibration(deps.db, reached.record.id);
        const ofCells = countsByCellVolume(deps.db, reached.record.id).filter(
          ({ id }) => !ofArea.some((count) => count.id === id),
        );
        return [...ofArea, ...ofCells]
          .filter((count) => isInside(count, resolved))
          .map((count) => touchedCount(deps.db, count, reached, deps.clock.now()));
      });
    },
  });
}
