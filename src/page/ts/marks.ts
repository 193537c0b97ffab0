// Paper marks while they are edited: what a touch does, what was there before, and the notation the server reads.
import type { Facing, Mark, Stage, Weight, Where } from "./model";

export const stages: readonly Stage[] = ["centric", "working", "non-working", "protrusive"];
export const facings: readonly (readonly [Facing, string])[] = [
  ["", "On it"],
  ["/in", "Inner incline"],
  ["/out", "Outer incline"],
  ["/mes", "Mesial incline"],
  ["/dis", "Distal incline"],
];

export interface At {
  readonly tooth: number; // ISO
  readonly place: string; // code, e.g. "MB/in"
  readonly stage: Stage;
}

export interface MarkEdit extends At {
  readonly weight: Weight;
  readonly where: Where;
}

/** What one touch makes of a place that has a mark: heavy, light, no mark. */
export function weightAfterTouch(weight: Weight): Weight | null {
  const next: Record<Weight, Weight | null> = { even: "heavy", heavy: "light", light: null };
  return next[weight];
}

const same = (a: At, b: At): boolean => a.tooth === b.tooth && a.place === b.place && a.stage === b.stage;
const keyOf = (at: At): string => `${at.stage} ${at.tooth} ${at.place}`;

export interface MarkSheet {
  readonly stages: ReadonlySet<Stage>; // those the paper was used for
  readonly marks: readonly MarkEdit[];
  readonly again: boolean; // centric was marked again over a movement
  readonly touched: ReadonlySet<string>; // places that were said by hand while this chart was edited
}

type Charted = { readonly stages: readonly Stage[]; readonly marks: readonly Mark[]; readonly again: boolean };

export const sheetOf = (marks: Charted | null): MarkSheet => ({ stages: new Set(marks?.stages ?? []), marks: marks?.marks ?? [], again: marks?.again ?? false, touched: new Set() });

export const markAt = (sheet: { readonly marks: readonly MarkEdit[] }, at: At): MarkEdit | null => sheet.marks.find((mark) => same(mark, at)) ?? null;
export const wasTouched = (sheet: MarkSheet, at: At): boolean => sheet.touched.has(keyOf(at));

/** The first touch of a place makes what was there before the work, else an even mark; then heavy, light, no mark. */
export function touchMark(sheet: MarkSheet, at: At, before: Charted | null = null): MarkSheet {
  const now = markAt(sheet, at);
  const first = before?.marks.find((mark) => same(mark, at))?.weight ?? "even";
  return withWeight(sheet, at, now ? weightAfterTouch(now.weight) : first);
}

/** The place with this mark, or with none. Its paper was used, and it was said by hand. */
export function withWeight(sheet: MarkSheet, at: At, weight: Weight | null): MarkSheet {
  const now = markAt(sheet, at);
  const others = sheet.marks.filter((mark) => !same(mark, at));
  return {
    ...sheet,
    stages: new Set([...sheet.stages, at.stage]),
    touched: new Set([...sheet.touched, keyOf(at)]),
    marks: weight === null ? others : [...others, { tooth: at.tooth, place: at.place, stage: at.stage, weight, where: now?.where ?? "not said" }],
  };
}

/** A mark lies on another place of its tooth: the same mark, there. */
export function moveMark(sheet: MarkSheet, from: At, place: string): MarkSheet {
  const mark = markAt(sheet, from);
  if (!mark || mark.place === place) return sheet;
  const to = { ...mark, place };
  return { ...sheet, touched: new Set([...sheet.touched, keyOf(from), keyOf(to)]), marks: [...sheet.marks.filter((one) => !same(one, from) && !same(one, to)), to] };
}

/** Says where a mark lies; the same said twice is taken back. */
export const sayWhere = (sheet: MarkSheet, at: At, where: Where): MarkSheet => ({
  ...sheet,
  touched: new Set([...sheet.touched, keyOf(at)]),
  marks: sheet.marks.map((mark) => (same(mark, at) ? { ...mark, where: mark.where === where ? "not said" : where } : mark)),
});

/** Paper used for a stage that left no mark is a finding of its own. Taking a stage away takes its marks away. */
export function setStage(sheet: MarkSheet, stage: Stage, used: boolean): MarkSheet {
  const kept = new Set(sheet.stages);
  if (used) kept.add(stage);
  else kept.delete(stage);
  const moved = [...kept].some((one) => one !== "centric");
  return { ...sheet, stages: kept, marks: used ? sheet.marks : sheet.marks.filter((mark) => mark.stage !== stage), again: sheet.again && moved };
}

/** Whether centric was marked again over the movements, in its own colour. */
export const setAgain = (sheet: MarkSheet, again: boolean): MarkSheet => ({ ...sheet, again });

/**
 * Every place of this stage that was not touched is as it was before the work. Where a mark lies on a treated tooth is
 * not taken over: the restoration is a new one.
 */
export function restAsBefore(sheet: MarkSheet, before: Charted, stage: Stage, treated: readonly number[]): MarkSheet {
  const added = before.marks.filter((mark) => mark.stage === stage && !wasTouched(sheet, mark) && !markAt(sheet, mark));
  return {
    ...sheet,
    stages: before.stages.includes(stage) ? new Set([...sheet.stages, stage]) : sheet.stages,
    marks: [...sheet.marks, ...added.map(({ tooth, place, weight, where }) => ({ tooth, place, stage, weight, where: treated.includes(tooth) ? ("not said" as const) : where }))],
  };
}

export type Difference = "new" | "gone" | "heavier" | "lighter";
const order: Record<Weight, number> = { light: 0, even: 1, heavy: 2 };

/** How a place stands to the baseline; null: as before, not said yet, or nothing to compare it with. */
export function differenceAt(sheet: MarkSheet, before: Charted | null, at: At): Difference | null {
  if (!before?.stages.includes(at.stage)) return null;
  const was = before.marks.find((mark) => same(mark, at));
  const now = markAt(sheet, at);
  if (!now) return was && wasTouched(sheet, at) ? "gone" : null;
  if (!was) return "new";
  return now.weight === was.weight ? null : order[now.weight] > order[was.weight] ? "heavier" : "lighter";
}

const signs: Record<Weight, string> = { light: "-", even: "", heavy: "+" };
export const whereSigns: Record<Where, string> = { "not said": "", restoration: "*", beside: "~" };

/** "iso: centric 16 MB+ CF*; working none"; empty when no paper was used. */
export function markNotation(sheet: MarkSheet): string {
  const groups = stages
    .filter((stage) => sheet.stages.has(stage))
    .map((stage) => {
      const teeth = new Map<number, string[]>();
      for (const mark of sheet.marks.filter((m) => m.stage === stage)) {
        teeth.set(mark.tooth, [...(teeth.get(mark.tooth) ?? []), `${mark.place}${signs[mark.weight]}${whereSigns[mark.where]}`]);
      }
      const listed = [...teeth].sort(([a], [b]) => a - b).map(([tooth, places]) => `${tooth} ${places.join(" ")}`);
      return `${stage} ${listed.length === 0 ? "none" : listed.join(" ")}`;
    });
  return groups.length === 0 ? "" : `iso: ${groups.join("; ")}${sheet.again ? "; again" : ""}`;
}
