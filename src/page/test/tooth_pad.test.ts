import assert from "node:assert/strict";
import { test } from "node:test";
import { padCell, spotOf } from "../ts/tooth_pad";

test("Mesial points to the midline of the screen on both sides", () => {
  assert.ok(padCell("MMR", 16).column > padCell("DMR", 16).column);
  assert.ok(padCell("MMR", 26).column < padCell("DMR", 26).column);
  assert.ok(padCell("MB", 46).column > padCell("DB", 46).column);
});

test("The cheek side is up on upper teeth and down on lower ones", () => {
  assert.equal(padCell("MB", 16).row, 1);
  assert.equal(padCell("MP", 16).row, 3);
  assert.equal(padCell("MB", 46).row, 3);
  assert.equal(padCell("ML", 46).row, 1);
});

test("The places of a tooth never share a cell", () => {
  const kinds: Record<number, string[]> = {
    16: ["MB", "DB", "MP", "DP", "CF", "MF", "DF", "MMR", "DMR"],
    46: ["MB", "DB", "D", "ML", "DL", "CF", "MF", "DF", "MMR", "DMR"],
    45: ["B", "L", "ML", "DL", "CF", "MF", "DF", "MMR", "DMR"],
    13: ["C", "PF", "MMR", "DMR"],
    31: ["E", "LF", "MMR", "DMR"],
  };
  for (const [iso, codes] of Object.entries(kinds)) {
    const taken = new Set(codes.map((code) => JSON.stringify(padCell(code, Number(iso)))));
    assert.equal(taken.size, codes.length, iso);
  }
});

test("A place names its spot", () => {
  assert.equal(spotOf("MB/in"), "MB");
  assert.equal(spotOf("CF"), "CF");
});
