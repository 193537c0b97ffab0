import assert from "node:assert/strict";
import { test } from "node:test";
import type { Advice, Look, Visit } from "../ts/model";
import { checklist, gaps, nextAction } from "../ts/next_step";

const look = (id: string, held: boolean): Look => ({ id, kind: id.replace(/\d+/, "") as Look["kind"], title: id, when: "", film: held ? { pairs: [], sentence: "" } : null, marks: null, takes: [] });
const advice = (id: string, step: string, blocks: Advice["blocks"] = "done", marks: Advice["marks"] = []): Advice => ({ id, when: `When ${id}.`, suggestion: "", why: "", defersTo: "", evidence: [], step, blocks, marks });
const visit = (looks: readonly Look[], next: readonly Advice[], first: { step: string; look: string; rule: string } | null): Visit =>
  ({ id: "1", looks, next, firstStep: first && { ...first, how_to: [] }, signed: null, baselineOfEarlier: false }) as unknown as Visit;

test("The one button is what the rules put first, and says which look it is of", () => {
  const now = visit([look("before", true)], [advice("baseline-incomplete", "chart_centric")], { step: "chart_centric", look: "before", rule: "baseline-incomplete" });
  assert.deepEqual(nextAction(now), { word: "Marks, before", words: "Thin paper, dry teeth, tapping straight", target: { to: "marks", look: "before", stage: "centric" } });
});

test("A look that was begun and holds nothing is recorded before anything is said of the look before it", () => {
  const now = visit([look("before", true), look("after", true), look("after2", false)], [advice("changed-since", "new_look")], { step: "new_look", look: "after2", rule: "changed-since" });
  assert.deepEqual(nextAction(now)?.target, { to: "record", look: "after2" });
});

test("Every line opens what it speaks of, the marks at their tooth; what is only to be kept in mind opens nothing", () => {
  const marks = [{ tooth: "26", place: "CF", stage: "working" as const }];
  const now = visit([look("before", true), look("after", true)], [advice("place-not-said", "ask_mark_place", "judgement", marks), advice("warning-noted", "none", "nothing"), advice("ask-the-patient", "ask_patient")], { step: "ask_mark_place", look: "after", rule: "place-not-said" });
  assert.deepEqual(
    checklist(now).map((line) => line.action?.target ?? null),
    [{ to: "marks", look: "after", stage: "working", tooth: 26 }, null, { to: "patient" }],
  );
});

// The steps are those that FORMATS.md lists; `none` and `leave_alone` are nothing to do.
test("Every step of the rules opens something", () => {
  const steps = "chart_holds test_pairs chart_centric record compare_sound raise_warning start_work ask_mark_place ask_crossbite rest_and_repeat repeat_checks look_at_marks look_at_film record_again discuss ask_patient ask_numb wait recheck new_look mark_eccentric mark_centric_again sign".split(" ");
  for (const step of steps) {
    const now = visit([look("before", true), look("after", true)], [advice("a-rule", step)], { step, look: "after", rule: "a-rule" });
    assert.ok(nextAction(now), step);
  }
  for (const step of ["none", "leave_alone"]) assert.equal(checklist(visit([look("before", true)], [advice("a-rule", step)], null))[0]?.action, null);
});

test("What is open when somebody wants to sign is everything that holds something back", () => {
  const now = visit([look("before", true)], [advice("numb", "none", "done"), advice("warning-noted", "none", "nothing"), advice("place-not-said", "ask_mark_place", "judgement")], null);
  assert.deepEqual(gaps(now), ["When numb.", "When place-not-said."]);
});

test("A signed visit has nothing to do", () => {
  assert.equal(nextAction({ ...visit([look("before", true)], [], null), signed: { name: "S", role: "", when: "", comment: "", intact: true } }), null);
});
