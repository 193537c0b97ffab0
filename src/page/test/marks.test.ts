import assert from "node:assert/strict";
import { test } from "node:test";
import { markAt, markNotation, setOnRestoration, setStage, sheetOf, touchMark, weightAfterTouch } from "../ts/marks";

const fossa = { tooth: 16, place: "CF", stage: "centric" } as const;

test("Touching a place goes round even, heavy, light, no mark", () => {
  assert.equal(weightAfterTouch(null), "even");
  assert.equal(weightAfterTouch("even"), "heavy");
  assert.equal(weightAfterTouch("heavy"), "light");
  assert.equal(weightAfterTouch("light"), null);
});

test("The first touch says that paper was used, and four touches leave used paper without a mark", () => {
  let sheet = sheetOf(null);
  assert.equal(markNotation(sheet), "");
  sheet = touchMark(sheet, fossa, true);
  assert.equal(markNotation(sheet), "iso: centric 16 CF*");
  for (let i = 0; i < 3; ++i) sheet = touchMark(sheet, fossa, true);
  assert.equal(markAt(sheet, fossa), null);
  assert.equal(markNotation(sheet), "iso: centric none");
});

test("A mark keeps its restoration flag while its weight goes round", () => {
  let sheet = setOnRestoration(touchMark(sheetOf(null), fossa, false), fossa, true);
  sheet = touchMark(sheet, fossa, false);
  assert.deepEqual(markAt(sheet, fossa), { ...fossa, weight: "heavy", restoration: true });
});

test("Stages, teeth and weights are written in the notation the server reads", () => {
  let sheet = touchMark(sheetOf(null), { tooth: 46, place: "DB/in", stage: "non-working" }, false);
  sheet = touchMark(touchMark(sheet, fossa, true), fossa, true);
  sheet = touchMark(sheet, { tooth: 14, place: "BC", stage: "centric" }, false);
  sheet = setStage(sheet, "working", true);
  assert.equal(markNotation(sheet), "iso: centric 14 BC 16 CF+*; working none; non-working 46 DB/in");
});

test("Taking a stage away takes its marks away", () => {
  const sheet = setStage(touchMark(sheetOf(null), fossa, false), "centric", false);
  assert.equal(markNotation(sheet), "");
  assert.equal(sheet.marks.length, 0);
});
