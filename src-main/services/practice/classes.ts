import type { Person } from "#core/contract/records/person.ts";
import type { PracticeClass, SlideReading } from "#core/contract/records/practice-class.ts";
import { InputError } from "#core/quantity/input-error.ts";
import { handlers } from "../../dispatch/handlers.ts";
import { Refusal } from "../../dispatch/refusals.ts";
import type { ReadableDb } from "../../store/connection.ts";
import { findPersonNamed, insertPerson } from "../../store/repositories/people-repository.ts";
import {
  findClass,
  insertClass,
  insertSlideReading,
  listClasses,
  slideReadingsOf,
} from "../../store/repositories/practice-class-repository.ts";
import type { Deps } from "../write-context/deps.ts";
import {
  inTransactionOnce,
  inTransactionOnceAbout,
  type WriteContext,
} from "../write-context/in-transaction.ts";

/** @throws Refusal `class.unknown` */
export function requireClass(db: ReadableDb, id: string): PracticeClass {
  const found = findClass(db, id);
  if (found) return found;
  throw new Refusal("class.unknown", "That class is not on this bench.", { field: "classId" });
}

/** The person of that name; registered now where there is none. */
function personNamed(deps: Deps, { db, at, audit }: WriteContext, name: string): Person {
  const there = findPersonNamed(db, name);
  if (there) return there;
  const person: Person = {
    id: deps.ids.next(),
    name,
    initials: "",
    interpupillaryMm: null,
    registeredAt: at,
  };
  insertPerson(db, person);
  audit({
    act: "people.register",
    subject: "person",
    subjectId: person.id,
    detail: { name, initials: "", interpupillaryMm: null },
  });
  return person;
}

function membersOf(deps: Deps, ctx: WriteContext, names: readonly string[]): string[] {
  const ids: string[] = [];
  names.forEach((name, index) => {
    const { id } = personNamed(deps, ctx, name);
    if (ids.includes(id)) throw new InputError(`names.${index}`, `names ${name} a second time`);
    ids.push(id);
  });
  return ids;
}

/** The reading that a member takes next: all intervals once, then all of them again. */
function requireNext(
  of: PracticeClass,
  readings: readonly SlideReading[],
  { interval, repeat }: Pick<SlideReading, "interval" | "repeat">,
): void {
  const taken = readings.length;
  const next = { interval: (taken % of.intervals) + 1, repeat: Math.floor(taken / of.intervals) + 1 };
  if (taken === of.intervals * of.repeats) {
    throw new Refusal("reading.order", "You have taken every reading of this class.", { field: "interval" });
  }
  if (next.interval === interval && next.repeat === repeat) return;
  throw new Refusal("reading.order", `Interval ${next.interval}, time ${next.repeat}, comes next.`, {
    field: "interval",
    hint: "Nothing was changed.",
  });
}

/** Classes of practice: lists of names, and what they read of real material. Nothing of it is put in force. */
export function classServices(deps: Deps) {
  const { db } = deps;
  return handlers({
    "practice.classes": () => listClasses(db),

    "practice.makeClass": (input, call) =>
      inTransactionOnce<PracticeClass>(
        deps,
        call,
        input,
        (ctx) => {
          const { requestId: _, names, ...plan } = input;
          const made: PracticeClass = {
            ...plan,
            id: deps.ids.next(),
            memberIds: membersOf(deps, ctx, names),
            madeAt: ctx.at,
            madeBy: ctx.by.id,
          };
          insertClass(ctx.db, made);
          const { id, madeAt: __, madeBy: ___, ...detail } = made;
          ctx.audit({ act: "practice.makeClass", subject: "practice_class", subjectId: id, detail });
          return made;
        },
        findClass,
      ),

    "practice.slideReadings": ({ classId }) => slideReadingsOf(db, requireClass(db, classId).id),

    "practice.readSlide": (input) =>
      inTransactionOnceAbout<{ readonly classId: string; readonly readings: SlideReading[] }>(
        deps,
        "practice.readSlide",
        input,
        {
          perform(ctx) {
            const of = requireClass(ctx.db, input.classId);
            if (!of.memberIds.includes(ctx.by.id)) {
              throw new Refusal("class.notMember", `${ctx.by.name} is not on the list of this class.`, {
                hint: "Change the person at the bench (F4) to the one who reads.",
              });
            }
            const mine = slideReadingsOf(ctx.db, of.id).filter(({ personId }) => personId === ctx.by.id);
            requireNext(of, mine, input);
            const { interval, repeat, left, right } = input;
            const reading = { personId: ctx.by.id, interval, repeat, left, right, at: ctx.at };
            insertSlideReading(ctx.db, of.id, reading);
            ctx.audit({
              act: "practice.readSlide",
              subject: "practice_class",
              subjectId: of.id,
              detail: { interval, repeat, left, right },
            });
            return { classId: of.id, readings: slideReadingsOf(ctx.db, of.id) };
          },
          subjectOf: ({ classId }) => classId,
          find: (there, classId) => ({ classId, readings: slideReadingsOf(there, classId) }),
        },
      ),
  });
}
