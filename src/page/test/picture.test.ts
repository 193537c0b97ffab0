import assert from "node:assert/strict";
import { test } from "node:test";
import { momentAt, moved, placeOf, usualRange, zoomed } from "../ts/picture";

test("Zooming goes around the middle, stays inside what can be drawn, and ends at half a millisecond", () => {
  assert.deepEqual(zoomed([-2, 6], 0.5), [0, 4]);
  assert.deepEqual(zoomed(usualRange, 100), [-10, 12]);
  const [from, to] = zoomed([1, 1.6], 0.01);
  assert.ok(Math.abs(to - from - 0.5) < 1e-9);
});

test("Moving stops at the ends", () => {
  assert.deepEqual(moved([-2, 2], 0.5), [0, 4]);
  assert.deepEqual(moved([-9, -5], -0.5), [-10, -6]);
  assert.deepEqual(moved([9, 12], 1), [9, 12]);
});

test("The line stands where the sound is: so many seconds of slow motion are so many times fewer of the tap", () => {
  assert.equal(placeOf(0, [-5, 7], [110, 950]), 110 + (5 / 12) * 840);
  assert.equal(placeOf(8, [-5, 7], [110, 950]), null);
  assert.equal(momentAt(0), -8);
  assert.equal(momentAt(0.128), 0); // 128 ms at a sixteenth of the speed are 8 ms
});
