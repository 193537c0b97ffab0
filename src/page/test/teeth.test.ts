import assert from "node:assert/strict";
import { test } from "node:test";
import { afterTouch, filmChart, filmDifference, filmNotation, filmResults, lowerRow, restOfFilmAsBefore, restUntestable, shownNumber, stepInRow, universalNumber, unusualPairs, upperRow, withFilm } from "../ts/teeth";

// ISO 3950 beside the Universal system: 1 is the upper right third molar, 16 the upper left one, 17 the lower left third
// molar, 32 the lower right one.
test("The two rows carry the Universal numbers 1 to 16 and 32 down to 17", () => {
  assert.deepEqual(upperRow.map(universalNumber), Array.from({ length: 16 }, (_, i) => i + 1));
  assert.deepEqual(lowerRow.map(universalNumber), Array.from({ length: 16 }, (_, i) => 32 - i));
});

test("A number means another tooth in the other system", () => {
  assert.equal(shownNumber(11, "universal"), "8");
  assert.equal(shownNumber(23, "universal"), "11");
  assert.equal(shownNumber(11, "iso"), "11");
});

test("Touching a pair goes round hold, slide, open, cannot be tested, nothing said", () => {
  assert.equal(afterTouch(null), "hold");
  assert.equal(afterTouch("hold"), "slide");
  assert.equal(afterTouch("slide"), "open");
  assert.equal(afterTouch("open"), "untestable");
  assert.equal(afterTouch("untestable"), null);
});

test("A chart is written in the notation the server reads, and nothing as nothing", () => {
  const chart = filmChart([
    { upper: 26, lower: 36, film: "slide" },
    { upper: 17, lower: 47, film: "hold" },
    { upper: 16, lower: 46, film: "hold" },
  ]);
  assert.equal(filmNotation(chart), "iso: hold 16/46 17/47; slide 26/36");
  assert.equal(filmNotation(withFilm(filmChart([{ upper: 16, lower: 46, film: "open" }]), "16/46", null)), "");
});

test("Changing a chart leaves the old one as it was", () => {
  const chart = filmChart([]);
  withFilm(chart, "16/46", "hold");
  assert.equal(chart.results.size, 0);
  assert.equal(chart.touched.size, 0);
});

test("Pairs that no button shows are not lost", () => {
  const chart = filmChart([
    { upper: 25, lower: 36, film: "hold" },
    { upper: 16, lower: 46, film: "hold" },
  ]);
  assert.deepEqual(unusualPairs(chart), ["25/36"]);
});

test("Arrows stop at the ends of a row", () => {
  assert.equal(stepInRow("ArrowLeft", 0, 16), 0);
  assert.equal(stepInRow("ArrowRight", 15, 16), 15);
  assert.equal(stepInRow("ArrowRight", 3, 16), 4);
  assert.equal(stepInRow("End", 3, 16), 15);
  assert.equal(stepInRow("a", 3, 16), null);
});

test("What cannot be tested comes through an edit, and the rest is said to be so in one touch", () => {
  const chart = restUntestable(filmChart([{ upper: 16, lower: 46, film: "hold" }, { upper: 18, lower: 48, film: "untestable" }]));
  assert.equal(chart.results.size, 16);
  assert.match(filmNotation(withFilm(chart, "17/47", "open")), /^iso: hold 16\/46; open 17\/47; untestable 11\/41 .*18\/48/);
});

test("The rest is as before: pairs that were touched keep what was said of them, also when nothing was", () => {
  const before = filmResults([{ upper: 16, lower: 46, film: "hold" }, { upper: 17, lower: 47, film: "slide" }, { upper: 26, lower: 36, film: "hold" }]);
  let now = withFilm(filmChart([]), "16/46", "slide");
  now = withFilm(withFilm(now, "26/36", "hold"), "26/36", null);
  now = restOfFilmAsBefore(now, before);
  assert.equal(filmNotation(now), "iso: slide 16/46 17/47");
  assert.deepEqual([...now.touched].sort(), ["16/46", "26/36"]);
});

test("A difference is a hold lost or gained, or another result; what was not tested makes none", () => {
  assert.equal(filmDifference("slide", "hold"), "lost");
  assert.equal(filmDifference("hold", "open"), "gained");
  assert.equal(filmDifference("open", "slide"), "changed");
  assert.equal(filmDifference("hold", "hold"), null);
  assert.equal(filmDifference(null, "hold"), null);
  assert.equal(filmDifference("untestable", "hold"), null);
});
