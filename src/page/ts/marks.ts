// Paper marks while they are edited: what a touch does, and the notation the server reads.
import type { Mark, Stage, Weight, Where } from "./model";

export const stages: readonly Stage[] = ["centric", "working", "non-working", "protrusive"];

export interface MarkEdit {
  readonly tooth: number; // ISO
  readonly place: string;
  readonly stage: Stage;
  readonly weight: Weight;
  readonly where: Where;
}

/** What one touch makes of a place: even, heavy, light, no mark, and round again. */
export function weightAfterTouch(weight: Weight | null): Weight | null {
  const next: Record<Weight, Weight | null> = { even: "heavy", heavy: "light", light: null };
  return weight === null ? "even" : next[weight];
}

const same = (a: MarkEdit, b: { tooth: number; place: string; stage: Stage }): boolean =>
  a.tooth === b.tooth && a.place === b.place && a.stage === b.stage;

export interface MarkSheet {
  readonly stages: ReadonlySet<Stage>; // those the paper was used for
  readonly marks: readonly MarkEdit[];
  readonly again: boolean; // centric was marked again over a movement
}

export const sheetOf = (marks: { stages: readonly Stage[]; marks: readonly Mark[]; again: boolean } | null): MarkSheet => ({
  stages: new Set(marks?.stages ?? []),
  marks: marks?.marks ?? [],
  again: marks?.again ?? false,
});

export const markAt = (sheet: MarkSheet, at: { tooth: number; place: string; stage: Stage }): MarkEdit | null =>
  sheet.marks.find((mark) => same(mark, at)) ?? null;

export function touchMark(sheet: MarkSheet, at: { tooth: number; place: string; stage: Stage }): MarkSheet {
  const before = markAt(sheet, at);
  const weight = weightAfterTouch(before?.weight ?? null);
  const others = sheet.marks.filter((mark) => !same(mark, at));
  return {
    ...sheet,
    stages: new Set([...sheet.stages, at.stage]),
    marks: weight === null ? others : [...others, { ...at, weight, where: before?.where ?? "not said" }],
  };
}

/** Says where a mark lies; the same said twice is taken back. */
export const sayWhere = (sheet: MarkSheet, at: { tooth: number; place: string; stage: Stage }, where: Where): MarkSheet => ({
  ...sheet,
  marks: sheet.marks.map((mark) => (same(mark, at) ? { ...mark, where: mark.where === where ? "not said" : where } : mark)),
});

/** Paper used for a stage that left no mark is a finding of its own. Taking a stage away takes its marks away. */
export function setStage(sheet: MarkSheet, stage: Stage, used: boolean): MarkSheet {
  const kept = new Set(sheet.stages);
  if (used) kept.add(stage);
  else kept.delete(stage);
  const moved = [...kept].some((one) => one !== "centric");
  return { stages: kept, marks: used ? sheet.marks : sheet.marks.filter((mark) => mark.stage !== stage), again: sheet.again && moved };
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
