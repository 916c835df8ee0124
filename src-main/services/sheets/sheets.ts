import { isDeepStrictEqual } from "node:util";
import type { z } from "zod";
import type { ParsedInput } from "#core/contract/calls.ts";
import type { Eyes } from "#core/contract/records/eyes.ts";
import type { NewSheet, Sheet } from "#core/contract/records/sheet.ts";
import { decimal } from "#core/quantity/decimal.ts";
import { textOfDecimal } from "#core/quantity/decimal-text.ts";
import type { HandlersOf } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { draftsOfSheet } from "../../store/repositories/draft-repository.ts";
import { eyesAt, keepEyes, listEyes } from "../../store/repositories/eyes-repository.ts";
import { columnsOfSheet } from "../../store/repositories/sheet-columns-repository.ts";
import {
  findSheet,
  insertSheet,
  listSheets,
  rowsByLabel,
  searchSheets,
  setConfirmed,
  setTrainInUse,
} from "../../store/repositories/sheet-repository.ts";
import { signOffStateOfSheet } from "../../store/repositories/sign-off-repository.ts";
import { historiesElsewhere } from "../../store/repositories/size-history-repository.ts";
import { findTrainOf } from "../../store/repositories/train-repository.ts";
import { requireTrain } from "../equipment/require-train.ts";
import { requireTrainThere } from "../equipment/train-there.ts";
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
  | "sheets.eyesAtTrains"
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

/** Beyond every eye lens, and beyond every tube and sleeve, mm. */
const MOST_DIOPTRES = 20;
const LONGEST_SLEEVE_MM = 400;

/** @throws InputError `eyes.dioptre`, `eyes.sleeve` */
function readEyes({ dioptre, sleeve, glasses }: Eyes): Eyes {
  const between = (field: string, typed: string, least: number, most: number): string =>
    typed.trim() === "" ? "" : readBetween(field, typed, least, most);
  return {
    dioptre: between("eyes.dioptre", dioptre, -MOST_DIOPTRES, MOST_DIOPTRES),
    sleeve: between("eyes.sleeve", sleeve, 0, LONGEST_SLEEVE_MM),
    glasses,
  };
}

/** As said now, else as this person had them at this train last. */
function eyesNow({ db, at, by }: WriteContext, trainId: string, said: Eyes | undefined): Eyes | undefined {
  const kept = eyesAt(db, by.id, trainId);
  const last = kept ? { dioptre: kept.dioptre, sleeve: kept.sleeve, glasses: kept.glasses } : undefined;
  if (!said) return last;
  const eyes = readEyes(said);
  if (!isDeepStrictEqual(eyes, last)) keepEyes(db, { personId: by.id, trainId, ...eyes, at });
  return eyes;
}

function confirmTrain(ctx: WriteContext, input: ParsedInput<"sheets.confirmTrain">, today: string): Sheet {
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
  const train = findTrainOf(db, sheet);
  if (!train) throw new Error(`the train in use of sheet ${sheet.number} is missing`);
  requireTrainThere(db, train, today, "objectiveId");
  const eyes = eyesNow(ctx, train.id, input.eyes);
  const seen = { objectiveId, intermediateMagnification, interpupillary, ...(eyes ? { eyes } : {}) };
  setConfirmed(db, sheet.id, { at, by: by.id, ...seen });
  audit({
    act: "sheets.confirmTrain",
    subject: "sheet",
    subjectId: sheet.id,
    detail: { confirmed: seen },
  });
  return requireSheet(db, sheet.id);
}

/** Another objective, another setting of the changer, or both: the train of every row begun from now on. */
function chooseTrain(
  { db, audit }: WriteContext,
  input: ParsedInput<"sheets.chooseObjective">,
  today: string,
): Sheet {
  const sheet = requireSheet(db, input.sheetId);
  const wanted = {
    ...sheet,
    objectiveId: input.objectiveId,
    intermediateMagnification: input.intermediateMagnification ?? sheet.intermediateMagnification,
  };
  const { objectiveId, intermediateMagnification } = requireTrain(db, wanted, today, "");
  const isSameChanger = intermediateMagnification === sheet.intermediateMagnification;
  if (objectiveId === sheet.objectiveId && isSameChanger) return sheet;
  setTrainInUse(db, sheet.id, { objectiveId, intermediateMagnification });
  audit({
    act: "sheets.chooseObjective",
    subject: "sheet",
    subjectId: sheet.id,
    detail: {
      objectiveId: { from: sheet.objectiveId, to: objectiveId },
      ...(isSameChanger
        ? {}
        : {
            intermediateMagnification: {
              from: sheet.intermediateMagnification,
              to: intermediateMagnification,
            },
          }),
    },
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
      inTransactionOnce(deps, call, input, (ctx) => confirmTrain(ctx, input, deps.clock.today()), findSheet),

    "sheets.eyesAtTrains": ({ personId }) => listEyes(deps.db, personId),

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
      inTransactionOnce(deps, call, input, (ctx) => chooseTrain(ctx, input, deps.clock.today()), findSheet),
  };
}
