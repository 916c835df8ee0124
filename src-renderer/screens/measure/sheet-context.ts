import type { CallReply, Client } from "#core/contract/calls.ts";
import type { BenchOverview, TrainStatus } from "#core/contract/records/bench.ts";
import type { Method } from "#core/contract/records/method.ts";
import type { Eyepiece, Microscope, Objective } from "#core/contract/records/microscope.ts";
import type { Sheet } from "#core/contract/records/sheet.ts";
import type { Certificate, StageMicrometer } from "#core/contract/records/stage-micrometer.ts";
import type { CallError } from "#core/contract/reply.ts";
import type { Loaded } from "../../live/use-opened.ts";

/** Everything that stands around the rows of one sheet while it is measured. */
export interface SheetContext {
  readonly sheet: Sheet;
  readonly method: Method;
  readonly microscope: Microscope;
  readonly eyepiece: Eyepiece;
  /** Trains of the microscope, with the calibration in force of each. */
  readonly trains: readonly TrainStatus[];
  readonly micrometers: readonly StageMicrometer[];
}

/** Fetches it; a refusal says why it cannot be shown. */
export async function loadSheetContext(client: Client, sheetId: string): Promise<Loaded<SheetContext>> {
  const [opened, around] = await Promise.all([
    client("sheets.get", { sheetId }),
    Promise.all([client("bench.overview", {}), client("micrometers.list", {})]),
  ]);
  return opened.ok ? contextAround(client, opened.value.sheet, around) : opened;
}

/** The same of a sheet that is known already: nothing of its rows is asked for. */
export async function contextOfSheet(client: Client, sheet: Sheet): Promise<Loaded<SheetContext>> {
  return contextAround(
    client,
    sheet,
    await Promise.all([client("bench.overview", {}), client("micrometers.list", {})]),
  );
}

async function contextAround(
  client: Client,
  sheet: Sheet,
  [overview, micrometers]: readonly [CallReply<"bench.overview">, CallReply<"micrometers.list">],
): Promise<Loaded<SheetContext>> {
  if (!overview.ok) return overview;
  if (!micrometers.ok) return micrometers;
  const method = await client("methods.get", { methodId: sheet.methodId });
  if (!method.ok) return method;
  const found = partsOf(overview.value, sheet);
  if (!found) return { ok: false, error: PARTS_MISSING };
  return { ok: true, value: { sheet, method: method.value, ...found, micrometers: micrometers.value } };
}

const PARTS_MISSING: CallError = {
  code: "sheet.unknown",
  message: "The microscope or eyepiece of this sheet is not in the registers.",
  hint: "Look at Records, Verify: the bench may be damaged.",
};

function partsOf(
  overview: BenchOverview,
  sheet: Sheet,
): Pick<SheetContext, "microscope" | "eyepiece" | "trains"> | null {
  const found = overview.microscopes.find((one) => one.microscope.id === sheet.microscopeId);
  const eyepiece = found?.microscope.eyepieces.find((one) => one.id === sheet.eyepieceId);
  return found && eyepiece ? { microscope: found.microscope, eyepiece, trains: found.trains } : null;
}

/** The train an objective of this sheet's eyepiece and intermediate magnification belongs to. */
export function trainOfObjective(context: SheetContext, objectiveId: string): TrainStatus | undefined {
  const { sheet, trains } = context;
  return trains.find(
    ({ train }) =>
      train.objectiveId === objectiveId &&
      train.eyepieceId === sheet.eyepieceId &&
      train.intermediateMagnification === sheet.intermediateMagnification,
  );
}

export function objectiveById(context: SheetContext, objectiveId: string): Objective | undefined {
  return context.microscope.objectives.find((one) => one.id === objectiveId);
}

/** The certificate a calibration rests on, with its micrometer. */
export function certificateOf(
  context: Pick<SheetContext, "micrometers">,
  certificateId: string,
): { readonly micrometer: StageMicrometer; readonly certificate: Certificate } | undefined {
  for (const micrometer of context.micrometers) {
    const certificate = micrometer.certificates.find((one) => one.id === certificateId);
    if (certificate) return { micrometer, certificate };
  }
  return undefined;
}
