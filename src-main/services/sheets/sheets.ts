import type { z } from "zod";
import type { ParsedInput } from "#core/contract/calls.ts";
import type { NewSheet, Sheet } from "#core/contract/records/sheet.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { draftsOfSheet } from "../../store/repositories/draft-repository.ts";
import { findMicroscope } from "../../store/repositories/microscope-repository.ts";
import { columnsOfSheet } from "../../store/repositories/sheet-columns-repository.ts";
import {
  findSheet,
  insertSheet,
  listSheets,
  rowsByLabel,
  searchSheets,
  setConfirmed,
  setObjectiveInUse,
} from "../../store/repositories/sheet-repository.ts";
import { signOffStateOfSheet } from "../../store/repositories/sign-off-repository.ts";
import { historiesElsewhere } from "../../store/repositories/size-history-repository.ts";
import { requireObjective, requirePartsInService, requireTrain } from "../equipment/require-train.ts";
import { requireMethod } from "../methods/methods.ts";
import type { Deps } from "../write-context/deps.ts";
import {
  inTransactionOnce,
  inTransactionOnceAbout,
  type WriteContext,
} from "../write-context/in-transaction.ts";
import { readBetween } from "../write-context/typed-input.ts";

type Calls =
  | "sheets.list"
  | "sheets.search"
  | "rows.byLabel"
  | "sheets.get"
  | "sheets.open"
  | "sheets.openMany"
  | "sheets.chooseObjective"
  | "sheets.confirmTrain"
  | "sheets.columns"
  | "sheets.history";

/** @throws Refusal `sheet.unknown` */
export function requireSheet(db: ReadableDb, id: string): Sheet {
  const sheet = findSheet(db, id);
  if (sheet) return sheet;
  throw new Refusal("sheet.unknown", "That sheet is not on this bench.", {
    field: "sheetId",
    hint: "Open the list of sheets and choose one.",
  });
}

/**
 * Opens a sheet within the transaction of `ctx`. Fields of refusals begin with `sheet.`.
 * @param today null for an import of readings made earlier: their parts need not be in service now
 * @throws Refusal for the first part that is not there
 */
export function openSheet(
  { db, at, by, audit }: WriteContext,
  ids: Deps["ids"],
  wanted: z.output<typeof NewSheet>,
  today: string | null,
): Sheet {
  const {
    sample,
    customer,
    containers,
    volume,
    portion,
    note: words,
    methodId,
    microscopeId,
    eyepieceId,
    objectiveId,
  } = wanted;
  requireMethod(db, methodId, "sheet.methodId");
  const train = requireTrain(db, wanted, today, "sheet.");
  const id = ids.next();
  const amount = Object.fromEntries(
    Object.entries({ containers, volume, portion }).filter(([, typed]) => typed !== ""),
  );
  insertSheet(db, {
    id,
    sample,
    ...(customer === "" ? {} : { customer }),
    ...amount,
    note: words,
    methodId,
    microscopeId,
    eyepieceId,
    intermediateMagnification: train.intermediateMagnification,
    objectiveId,
    openedAt: at,
    openedBy: by.id,
  });
  const opened = requireSheet(db, id);
  const detail = {
    number: opened.number,
    sample,
    customer: opened.customer ?? null,
    ...amount,
    note: words,
    methodId,
    trainId: train.id,
  };
  const act = today === null ? "imports.accept" : "sheets.open";
  audit({ act, subject: "sheet", subjectId: id, detail });
  return opened;
}

/** The interpupillary setting as typed; empty when not said. @throws InputError `interpupillary` */
function readInterpupillary(typed: string): string {
  return typed.trim() === "" ? "" : readBetween("interpupillary", typed, 40, 90);
}

function confirmTrain(ctx: WriteContext, input: ParsedInput<"sheets.confirmTrain">): Sheet {
  const { db, at, by, audit } = ctx;
  const sheet = requireSheet(db, input.sheetId);
  const { objectiveId, intermediateMagnification } = sheet;
  const step = textOfDecimal(decimal(input.intermediateMagnification));
  if (objectiveId !== input.objectiveId || intermediateMagnification !== step) {
    throw new Refusal("train.differs", "The sheet has another train in use than the one confirmed.", {
      field: objectiveId === input.objectiveId ? "intermediateMagnification" : "objectiveId",
      hint: "Choose the objective that is in the light path, or open a sheet for the other magnification.",
    });
  }
  const interpupillary = readInterpupillary(input.interpupillary);
  const seen = { objectiveId, intermediateMagnification, interpupillary };
  setConfirmed(db, sheet.id, { at, by: by.id, ...seen });
  audit({
    act: "sheets.confirmTrain",
    subject: "sheet",
    subjectId: sheet.id,
    detail: { confirmed: seen },
  });
  return requireSheet(db, sheet.id);
}

export function sheetServices(deps: Deps): HandlersOf<Calls> {
  return {
    "sheets.list": () => listSheets(deps.db),

    "rows.byLabel": ({ words, count }) => rowsByLabel(deps.db, words, count),

    "sheets.search": (search) => {
      const found = searchSheets(deps.db, search);
      const states = found.sheets.map(({ id }) => ({ sheetId: id, ...signOffStateOfSheet(deps.db, id) }));
      return { ...found, states: states.filter(({ state }) => state !== "open") };
    },

    "sheets.get": ({ sheetId }) => ({
      sheet: requireSheet(deps.db, sheetId),
      drafts: draftsOfSheet(deps.db, sheetId),
    }),

    "sheets.columns": ({ sheetId, ...span }) => {
      const sheet = requireSheet(deps.db, sheetId);
      const { definition } = requireMethod(deps.db, sheet.methodId, "sheetId");
      return columnsOfSheet(
        deps.db,
        sheet,
        definition.dimensions.map((one) => one.key),
        span,
      );
    },

    "sheets.history": ({ sheetId }) => {
      const sheet = requireSheet(deps.db, sheetId);
      return historiesElsewhere(
        deps.db,
        sheet.id,
        requireMethod(deps.db, sheet.methodId, "sheetId").familyId,
      );
    },

    "sheets.confirmTrain": (input, call) =>
      inTransactionOnce(deps, call, input, (ctx) => confirmTrain(ctx, input), findSheet),

    "sheets.open": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        (ctx) => openSheet(ctx, deps.ids, input.sheet, deps.clock.today()),
        findSheet,
      ),

    "sheets.openMany": (input, call) =>
      inTransactionOnceAbout<Sheet[]>(deps, call, input, {
        perform: (ctx) => {
          const today = deps.clock.today();
          return input.samples.map((sample) => openSheet(ctx, deps.ids, { ...input.sheet, sample }, today));
        },
        subjectOf: (sheets) => sheets.map(({ id }) => id).join(" "),
        find: (db, ids) => ids.split(" ").map((id) => requireSheet(db, id)),
      }),

    "sheets.chooseObjective": (input, call) =>
      inTransactionOnce(
        deps,
        call,
        input,
        ({ db, audit }) => {
          const sheet = requireSheet(db, input.sheetId);
          const microscope = findMicroscope(db, sheet.microscopeId);
          if (!microscope) throw new Error(`microscope ${sheet.microscopeId} of a sheet is missing`);
          requireObjective(microscope, input.objectiveId, "objectiveId");
          const parts = { ...sheet, objectiveId: input.objectiveId };
          requirePartsInService(db, parts, deps.clock.today(), "");
          if (sheet.objectiveId === input.objectiveId) return sheet;
          setObjectiveInUse(db, sheet.id, input.objectiveId);
          audit({
            act: "sheets.chooseObjective",
            subject: "sheet",
            subjectId: sheet.id,
            detail: { objectiveId: { from: sheet.objectiveId, to: input.objectiveId } },
          });
          return requireSheet(db, sheet.id);
        },
        findSheet,
      ),
  };
}
