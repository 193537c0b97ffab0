import assert from "node:assert/strict";
import { test } from "node:test";
import { Landing, levelWords, meterShare, tapsToGo, zoneOf } from "../ts/levels";
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

test("A level is told from the sound: below the room and what a tap needs it is soft, at full scale loud", () => {
  assert.equal(zoneOf(-12, -70), "good");
  assert.equal(zoneOf(-60, -70), "soft");
  assert.equal(zoneOf(-0.5, -70), "loud");
  assert.equal(zoneOf(-300, -300), "silent");
});

test("The sound of the last tap comes first, then advice, then what the count tells", () => {
  const good = { peak: -12, zone: "good" } as const;
  assert.deepEqual(levelWords(live, good), { words: "Level good", good: true });
  assert.match(levelWords({ ...live, advice: "Too soft." }, { peak: -0.2, zone: "loud" }).words, /Too loud/);
  assert.deepEqual(levelWords({ ...live, advice: "Too noisy." }, good), { words: "Too noisy.", good: false });
  assert.match(levelWords({ ...live, taps: 9, usable: 3 }, good).words, /evenly/);
  assert.match(levelWords({ ...live, taps: 0, usable: 0, seconds: 1 }, undefined).words, /Waiting/);
  assert.equal(levelWords({ ...live, taps: 0, usable: 0, seconds: 9 }, undefined).good, false);
});

test("A tap lands when the count goes up, with the loudest level of the last moments", () => {
  const landing = new Landing();
  landing.see({ ...live, usable: 0, peak: -70 });
  landing.see({ ...live, usable: 0, peak: -9 });
  landing.see({ ...live, usable: 1, peak: -50 });
  assert.deepEqual(landing.taps, [{ peak: -9, zone: "good" }]);
  landing.see({ ...live, usable: 3, peak: -50 });
  assert.equal(landing.taps.length, 3);
});

test("What is missing is counted down to enough", () => {
  assert.equal(tapsToGo(live), "5 more");
  assert.equal(tapsToGo({ ...live, usable: 7 }), "1 more");
  assert.equal(tapsToGo({ ...live, usable: 9 }), "Enough");
});
