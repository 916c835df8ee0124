import type { FieldObject, Kind } from "./count-field.ts";

/** One key press of a count: for which kind, and where the hairline stood, µm from the frame's middle. */
export interface Press {
  readonly kind: "1" | "2";
  readonly atUm: number;
}

/** What became of the objects of a field and of the presses. */
export interface FieldOutcome {
  /** Objects that count, and how many were pressed for. */
  readonly truth: number;
  readonly pressed: number;
  /** Kinds of the presses, in their order. */
  readonly pressedFor: readonly ("1" | "2")[];
  /** Of free objects: found or missed. */
  readonly found: readonly boolean[];
  /** Of objects on an edge: treated as the rule says or not. */
  readonly edges: readonly boolean[];
  /** Of each press: whether it was for an object that another one was pressed for, or for nothing. */
  readonly twice: readonly boolean[];
  /** Of each grain of dirt: counted or not. */
  readonly dirt: readonly boolean[];
  /** Of the objects found, what they are and what they were pressed as. */
  readonly named: readonly (readonly [is: Kind, pressed: "1" | "2"])[];
  /** Of everything there was: a kind that counts, one out by the edge rule, or dirt, and what it was pressed as. */
  readonly all: readonly (readonly [is: Kind | "out", pressed: "1" | "2" | null])[];
}

/** A press belongs to an object whose middle lies this near to the hairline, µm. */
const REACH_UM = 7;
/** Of two as near, the one of the kind pressed; an object that counts before one that does not, µm. */
const OTHER_KIND_UM = 2;
const NOT_COUNTED_UM = 3;

/** Gives each press the object that it most likely was for: the nearest pairs first. */
export function matchPresses(objects: readonly FieldObject[], presses: readonly Press[]): FieldOutcome {
  const pairs = presses.flatMap((press, pressIndex) =>
    objects.flatMap((object, objectIndex) => {
      const away = Math.abs(object.specimen.xUm - press.atUm);
      const cost =
        away + (object.kind === press.kind ? 0 : OTHER_KIND_UM) + (object.counts ? 0 : NOT_COUNTED_UM);
      return away <= REACH_UM ? [{ pressIndex, objectIndex, cost }] : [];
    }),
  );
  const objectOf = new Map<number, number>();
  const pressOf = new Map<number, number>();
  for (const { pressIndex, objectIndex } of pairs.sort((a, b) => a.cost - b.cost)) {
    if (objectOf.has(pressIndex) || pressOf.has(objectIndex)) continue;
    objectOf.set(pressIndex, objectIndex);
    pressOf.set(objectIndex, pressIndex);
  }
  const isPressed = (index: number): boolean => pressOf.has(index);
  const judged = <T>(of: (object: FieldObject, index: number) => readonly T[]): readonly T[] =>
    objects.flatMap(of);
  const pressedAs = (index: number): "1" | "2" | null => presses[pressOf.get(index) ?? -1]?.kind ?? null;
  return {
    truth: objects.filter(({ counts }) => counts).length,
    pressed: presses.length,
    pressedFor: presses.map(({ kind }) => kind),
    found: judged(({ kind, crossed }, index) =>
      kind !== "dirt" && crossed.length === 0 ? [isPressed(index)] : [],
    ),
    edges: judged(({ kind, crossed, counts }, index) =>
      kind !== "dirt" && crossed.length > 0 ? [isPressed(index) === counts] : [],
    ),
    twice: presses.map((_, index) => !objectOf.has(index)),
    dirt: judged(({ kind }, index) => (kind === "dirt" ? [isPressed(index)] : [])),
    named: judged(({ kind }, index) => {
      const pressed = pressedAs(index);
      return kind === "dirt" || pressed === null ? [] : [[kind, pressed] as const];
    }),
    all: objects.map(({ kind, counts }, index) => [
      counts || kind === "dirt" ? kind : "out",
      pressedAs(index),
    ]),
  };
}
