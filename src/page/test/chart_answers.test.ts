import assert from "node:assert/strict";
import { test } from "node:test";
import { answersOf, leftToSay, nothingSaid, withChoice, withSheet } from "../ts/chart_answers";
import { sayWhere, touchMark } from "../ts/marks";
import { withFilm } from "../ts/teeth";

test("What is charted of a drawn patient is sent in the notation, a chart for each drawing", () => {
  let said = nothingSaid(2, 2);
  said = { ...said, film: withFilm(said.film, "16/46", "hold") };
  const at = { tooth: 16, place: "CF", stage: "centric" } as const;
  said = withSheet(said, 0, sayWhere(touchMark(said.sheets[0]!, at), at, "restoration"));
  said = withSheet(said, 1, touchMark(said.sheets[1]!, { tooth: 26, place: "MP/in", stage: "centric" }));
  said = withChoice(withChoice(said, 0, 2), 1, 0);
  assert.deepEqual(answersOf(said), { holds: "iso: hold 16/46", marks: ["iso: centric 16 CF*", "iso: centric 26 MP/in"], choices: [2, 0] });
});

test("What was not answered is named before anything is checked", () => {
  const said = nothingSaid(1, 2);
  assert.deepEqual(leftToSay(said), ["the film", "the marks of drawing 1", "2 questions"]);
  assert.deepEqual(leftToSay(withChoice(said, 0, 1)).at(-1), "one question");
  const all = withChoice(withChoice({ ...withSheet(said, 0, touchMark(said.sheets[0]!, { tooth: 16, place: "CF", stage: "centric" })), film: withFilm(said.film, "16/46", "slide") }, 0, 0), 1, 0);
  assert.deepEqual(leftToSay(all), []);
});
