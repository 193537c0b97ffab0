import assert from "node:assert/strict";
import { test } from "node:test";
import { balancedBite, benchQuery, benchSound } from "../ts/bench";

test("A balanced bite asks for no height, slide or side", () => {
  assert.equal(benchQuery(balancedBite, "iso"), "tooth=16&speed=50&pickup=forehead&room=quiet&numbering=iso");
});

test("A tooth out of contact is asked for as a negative height, whatever the slider says", () => {
  const query = new URLSearchParams(benchQuery({ ...balancedBite, height: 60, out: true }, "iso"));
  assert.equal(query.get("height"), "-100");
});

test("Height, slide and side are told each by itself", () => {
  const query = new URLSearchParams(benchQuery({ ...balancedBite, height: 60, slide: 400, side: "left", sideHeight: 80 }, "universal"));
  assert.deepEqual([query.get("height"), query.get("slide"), query.get("side"), query.get("side_height"), query.get("numbering")], ["60", "400", "left", "80", "universal"]);
});

test("Slow motion and the balanced bite are in the address of a sound, and keeping the pitch only with slow motion", () => {
  assert.equal(benchSound("a=1", { slow: 1, keepPitch: true }, false), "/api/learn/bench/sound?a=1");
  assert.equal(benchSound("a=1", { slow: 16, keepPitch: true }, true), "/api/learn/bench/sound?a=1&slow=16&keep_pitch=1&balanced=1");
});
