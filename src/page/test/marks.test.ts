import assert from "node:assert/strict";
import { test } from "node:test";
import { differenceAt, markAt, markNotation, moveMark, restAsBefore, sayWhere, setStage, sheetOf, touchMark, weightAfterTouch } from "../ts/marks";

const fossa = { tooth: 16, place: "CF", stage: "centric" } as const;

test("Touching a mark goes round heavy, light, no mark", () => {
  assert.equal(weightAfterTouch("even"), "heavy");
  assert.equal(weightAfterTouch("heavy"), "light");
  assert.equal(weightAfterTouch("light"), null);
});

test("The first touch says that paper was used, and four touches leave used paper without a mark", () => {
  let sheet = sheetOf(null);
  assert.equal(markNotation(sheet), "");
  sheet = touchMark(sheet, fossa);
  assert.equal(markNotation(sheet), "iso: centric 16 CF"); // where it lies is not said, and not assumed
  for (let i = 0; i < 3; ++i) sheet = touchMark(sheet, fossa);
  assert.equal(markAt(sheet, fossa), null);
  assert.equal(markNotation(sheet), "iso: centric none");
});

test("Where a mark lies is said by touch, kept while its weight goes round, and taken back by the same touch", () => {
  let sheet = sayWhere(touchMark(sheetOf(null), fossa), fossa, "restoration");
  sheet = touchMark(sheet, fossa);
  assert.deepEqual(markAt(sheet, fossa), { ...fossa, weight: "heavy", where: "restoration" });
  assert.equal(markNotation(sheet), "iso: centric 16 CF+*");
  sheet = sayWhere(sheet, fossa, "beside");
  assert.equal(markNotation(sheet), "iso: centric 16 CF+~");
  assert.equal(markAt(sayWhere(sheet, fossa, "beside"), fossa)?.where, "not said");
});

test("What was charted elsewhere comes through an edit: marks beside the restoration, and centric marked again", () => {
  const charted = sheetOf({ stages: ["centric", "working"], marks: [{ ...fossa, name: "", weight: "even", where: "beside" }], again: true });
  assert.equal(markNotation(charted), "iso: centric 16 CF~; working none; again");
  assert.equal(markNotation(setStage(charted, "working", false)), "iso: centric 16 CF~"); // nothing to mark again over
});

test("Stages, teeth and weights are written in the notation the server reads", () => {
  let sheet = touchMark(sheetOf(null), { tooth: 46, place: "DB/in", stage: "non-working" });
  sheet = touchMark(touchMark(sheet, fossa), fossa);
  sheet = touchMark(sheet, { tooth: 14, place: "BC", stage: "centric" });
  sheet = setStage(sheet, "working", true);
  assert.equal(markNotation(sheet), "iso: centric 14 BC 16 CF+; working none; non-working 46 DB/in");
});

test("Taking a stage away takes its marks away", () => {
  const sheet = setStage(touchMark(sheetOf(null), fossa), "centric", false);
  assert.equal(markNotation(sheet), "");
  assert.equal(sheet.marks.length, 0);
});

const before = {
  stages: ["centric", "working"] as const,
  marks: [
    { ...fossa, name: "", weight: "heavy", where: "restoration" },
    { tooth: 17, place: "MP", stage: "centric", name: "", weight: "light", where: "not said" },
    { tooth: 26, place: "CF", stage: "centric", name: "", weight: "even", where: "not said" },
    { tooth: 26, place: "DB/in", stage: "working", name: "", weight: "even", where: "not said" },
  ] as const,
  again: false,
};

test("After the work the first touch of a place makes what was there before", () => {
  const sheet = touchMark(sheetOf(null), fossa, before);
  assert.equal(markAt(sheet, fossa)?.weight, "heavy");
  assert.equal(differenceAt(sheet, before, fossa), null);
  assert.equal(differenceAt(touchMark(sheet, fossa, before), before, fossa), "lighter");
});

test("The rest as before is of one stage, leaves alone what was touched, and does not say where marks of the treated tooth lie", () => {
  const opposite = { tooth: 26, place: "CF", stage: "centric" } as const;
  let sheet = sheetOf(null);
  for (let i = 0; i < 4; ++i) sheet = touchMark(sheet, opposite, before); // even, heavy, light, gone
  assert.equal(differenceAt(sheet, before, opposite), "gone");
  sheet = restAsBefore(sheet, before, "centric", [16]);
  assert.equal(markNotation(sheet), "iso: centric 16 CF+ 17 MP-");
  assert.equal(markNotation(restAsBefore(sheet, before, "working", [16])), "iso: centric 16 CF+ 17 MP-; working 26 DB/in");
});

test("A mark that moves to an incline is one mark, and what stage paper was not used in before says nothing of new", () => {
  const sheet = moveMark(touchMark(sheetOf(null), { tooth: 16, place: "MP", stage: "centric" }), { tooth: 16, place: "MP", stage: "centric" }, "MP/in");
  assert.equal(markNotation(sheet), "iso: centric 16 MP/in");
  assert.equal(differenceAt(sheet, before, { tooth: 16, place: "MP/in", stage: "centric" }), "new");
  const protrusive = { tooth: 16, place: "MP", stage: "protrusive" } as const;
  assert.equal(differenceAt(touchMark(sheet, protrusive), before, protrusive), null);
});
