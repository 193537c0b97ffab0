// From what is usually next, as the rules say it, to the button that does it: which words it has, and which chart,
// recorder or question it opens.
import type { Advice, Look, Stage, Visit } from "./model";

export type Target =
  | { readonly to: "film" | "record" | "compare"; readonly look: string }
  | { readonly to: "marks"; readonly look: string; readonly stage: Stage; readonly tooth?: number }
  | { readonly to: "begin"; readonly kind: "after" | "recheck"; readonly record: boolean }
  | { readonly to: "follow-up" }
  | { readonly to: "patient" | "decision" | "warning" | "crossbite" | "sign" };

export interface Action {
  readonly word: string;
  readonly words: string;
  readonly target: Target;
}

const last = (visit: Visit): Look | null => visit.looks.at(-1) ?? null;
export const isEmpty = (look: Look): boolean => look.film === null && look.marks === null && look.takes.length === 0;
const small = (title: string): string => title.toLowerCase();
const titleOf = (visit: Visit, id: string): string => small(visit.looks.find((look) => look.id === id)?.title ?? id.replace(/(\d+)$/, " $1"));

/** What doing this step opens; null for what is only to be kept in mind. `look`: which it speaks of. */
export function actionOf(visit: Visit, step: string, look: string, marks: Advice["marks"] = []): Action | null {
  const title = titleOf(visit, look);
  const first = marks[0];
  const stage = first?.stage ?? "centric";
  const chart = (of: Stage): Target => ({ to: "marks", look, stage: of, ...(first && { tooth: Number(first.tooth) }) });
  switch (step) {
    case "chart_holds":
      return { word: `Film, ${title}`, words: "Every pair that can be tested", target: { to: "film", look } };
    case "test_pairs":
      return { word: `Film, ${title}`, words: "Some pairs are left", target: { to: "film", look } };
    case "look_at_film":
      return { word: "Test film again", words: title, target: { to: "film", look } };
    case "chart_centric":
      return { word: `Marks, ${title}`, words: "Thin paper, dry teeth, tapping straight", target: chart("centric") };
    case "look_at_marks":
      return { word: "Look at the marks again", words: "Fresh thin paper on a dry tooth", target: chart(stage) };
    case "mark_eccentric":
      return { word: "Mark the movements", words: "In another colour: to each side, and forward", target: { to: "marks", look, stage: "working" } };
    case "mark_centric_again":
      return { word: "Mark centric again", words: "In its own colour, over the movements", target: { to: "marks", look, stage: "centric" } };
    case "ask_mark_place":
      return { word: "Say where the marks lie", words: "On the restoration or beside it", target: chart(stage) };
    case "record":
      return { word: `Record ${look === "before" ? "the baseline" : title}`, words: "Ask the patient to tap", target: { to: "record", look } };
    case "record_again":
      return { word: `Record ${title} again`, words: "Same seat, same place of the pick-up, same effort", target: { to: "record", look } };
    case "compare_sound":
      return { word: "Compare", words: "The sound of before and now", target: { to: "compare", look } };
    case "start_work":
      return { word: "Record after", words: "When the restoration is in", target: { to: "begin", kind: "after", record: true } };
    case "rest_and_repeat":
      return { word: "Repeat film and marks", words: "Let the patient rest first", target: { to: "film", look } };
    case "repeat_checks":
      return { word: "Repeat film and marks", words: "With fresh paper and dry teeth", target: { to: "film", look } };
    case "new_look":
      return { word: "Look again", words: "Film, marks and sound, all three", target: { to: "begin", kind: look.startsWith("recheck") ? "recheck" : "after", record: true } };
    case "raise_warning":
      return { word: "Raise it with your supervisor", words: "And note what was decided", target: { to: "warning" } };
    case "ask_crossbite":
      return { word: "Crossbite or not?", words: "Of the teeth whose marks sit on guiding cusps", target: { to: "crossbite" } };
    case "ask_patient":
      return { word: "Ask the patient", words: "How the bite feels, and whether they are numb", target: { to: "patient" } };
    case "ask_numb":
      return { word: "Numb or not?", words: "Ask the patient", target: { to: "patient" } };
    case "wait":
    case "discuss":
      return { word: "Decide with your supervisor", words: step === "wait" ? "Usually: wait, and recheck on another day" : "What was found is below", target: { to: "decision" } };
    case "recheck":
      return { word: "Recheck on another day", words: "Opens the visit that goes on with this one", target: { to: "follow-up" } };
    case "sign":
      return { word: "Show it and sign", words: "Everything agrees", target: { to: "sign" } };
    default:
      return null;
  }
}

/** The look that a piece of advice speaks of: the newest that holds something, or the baseline before there is any. */
function spokenOf(visit: Visit): string {
  const held = visit.looks.filter((look) => !isEmpty(look)).at(-1);
  return held?.id ?? (visit.baselineOfEarlier ? "recheck" : "before");
}

/** What the one big button does. A look that was begun and is still empty comes before what the rules say of the one before it. */
export function nextAction(visit: Visit): Action | null {
  if (visit.signed) return null;
  const now = last(visit);
  if (now && now.kind !== "before" && isEmpty(now)) return { word: `Record ${small(now.title)}`, words: "Film and marks belong to this look too", target: { to: "record", look: now.id } };
  return visit.firstStep ? actionOf(visit, visit.firstStep.step, visit.firstStep.look, visit.next.find((advice) => advice.id === visit.firstStep?.rule)?.marks) : null;
}

export interface Line {
  readonly advice: Advice;
  readonly action: Action | null;
}

/** All advice, each with what it opens; the first of them that is to be done is the big button's. */
export const checklist = (visit: Visit): readonly Line[] =>
  visit.next.map((advice) => ({ advice, action: actionOf(visit, advice.step, advice.id === visit.firstStep?.rule ? visit.firstStep.look : spokenOf(visit), advice.marks) }));

/** What is still open when somebody wants to sign, in a few words each. */
export const gaps = (visit: Visit): readonly string[] => visit.next.filter((advice) => advice.blocks !== "nothing").map((advice) => advice.when);
