import assert from "node:assert/strict";
import { test } from "node:test";
import { line, rounded, scale, smooth } from "../ts/svg";

test("Numbers are written to a hundredth, and nothing has no sign", () => {
  assert.equal(rounded(1.005), "1");
  assert.equal(rounded(2.346), "2.35");
  assert.equal(rounded(-0.001), "0");
});

test("A line goes through its points, and a closed one back to the first", () => {
  assert.equal(line([[0, 1], [2.5, 3]]), "M0 1L2.5 3");
  assert.equal(line([[0, 1], [2, 3]], true), "M0 1L2 3Z");
  assert.equal(line([], true), "");
});

test("A smooth outline begins and ends at its first point and passes through each", () => {
  const path = smooth([[0, 0], [1, 0], [1, 1], [0, 1]]);
  assert.match(path, /^M0 0C.* 1 0C.* 1 1C.* 0 1C.* 0 0Z$/);
  // The tangent at a corner is parallel to the line between its neighbours: from (0,1) to (1,0), a sixth of it.
  assert.match(path, /^M0 0C0.17 -0.17 /);
  assert.equal(smooth([]), "");
});

test("A scale maps its ends onto the ends of the drawing, in either direction", () => {
  const down = scale([0, 100], [200, 0]);
  assert.deepEqual([0, 25, 100].map(down), [200, 150, 0]);
});
