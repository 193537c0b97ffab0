import assert from "node:assert/strict";
import { test } from "node:test";
import { kindOf, onScreen, outlineOf, widthOf } from "../ts/outline";
import { lowerRow, upperRow } from "../ts/teeth";

test("Every tooth has an outline inside its box, and grooves inside that", () => {
  for (const iso of [...upperRow, ...lowerRow]) {
    const { edge, grooves } = outlineOf(iso, 100, 80);
    assert.ok(grooves.length > 0);
    for (const path of [edge, ...grooves]) {
      const numbers = path.match(/-?[\d.]+/g)?.map(Number) ?? [];
      assert.ok(numbers.length >= 4, String(iso));
      numbers.forEach((value, i) => assert.ok(value >= 0 && value <= (i % 2 === 0 ? 100 : 80), `${iso}: ${path}`));
    }
  }
});

test("Left and right are mirrored, and the cheek is outside in both rows", () => {
  const cheekAndFront = { distal: 0.1, inward: 0.2 };
  const near = (iso: number, x: number, y: number): void => onScreen(iso, cheekAndFront).forEach((value, i) => assert.ok(Math.abs(value - ([x, y][i] ?? 0)) < 1e-12, String(iso)));
  near(16, 0.9, 0.2);
  near(26, 0.1, 0.2);
  near(36, 0.1, 0.8);
  near(46, 0.9, 0.8);
});

test("Kinds go by place in the row, and molars are the widest", () => {
  assert.deepEqual([11, 13, 15, 18, 48].map(kindOf), ["incisor", "canine", "premolar", "upper molar", "lower molar"]);
  assert.ok(widthOf(16) > widthOf(14) && widthOf(14) > widthOf(11));
});
