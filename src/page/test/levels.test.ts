import assert from "node:assert/strict";
import { test } from "node:test";
import { levelWords, meterShare, tapsToGo } from "../ts/levels";
import type { Live } from "../ts/model";

const live: Live = { visit: "1", look: "1", device: "mic", seconds: 3, usable: 3, taps: 3, wanted: 8, peak: -12, noise: -70, advice: "" };

test("The meter runs from silence to full scale and takes anything", () => {
  assert.equal(meterShare(0), 1);
  assert.equal(meterShare(-36), 0.5);
  assert.equal(meterShare(-300), 0);
  assert.equal(meterShare(6), 1);
  assert.equal(meterShare(Number.NEGATIVE_INFINITY), 0);
  assert.equal(meterShare(Number.NaN), 0);
});

test("Advice about the sound comes first, then what the taps tell", () => {
  assert.deepEqual(levelWords(live), { words: "Level good", good: true });
  assert.deepEqual(levelWords({ ...live, advice: "Too loud.", taps: 9, usable: 3 }), { words: "Too loud.", good: false });
  assert.match(levelWords({ ...live, taps: 9, usable: 3 }).words, /evenly/);
  assert.match(levelWords({ ...live, taps: 0, usable: 0, seconds: 1 }).words, /Waiting/);
  assert.equal(levelWords({ ...live, taps: 0, usable: 0, seconds: 9 }).good, false);
});

test("What is missing is counted down to enough", () => {
  assert.equal(tapsToGo(live), "5 more");
  assert.equal(tapsToGo({ ...live, usable: 7 }), "1 more");
  assert.equal(tapsToGo({ ...live, usable: 9 }), "Enough");
});
