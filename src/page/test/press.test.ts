import assert from "node:assert/strict";
import { mock, test } from "node:test";
import { betweenPresses } from "../ts/press";

test("Nothing is drawn while something is pressed, and what was missed is drawn once after the click", () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  let drawn = 0;
  const presses = betweenPresses(() => (drawn += 1));
  presses.draw();
  assert.equal(drawn, 1);
  presses.press();
  presses.draw();
  presses.draw();
  assert.equal(drawn, 1);
  presses.release();
  assert.equal(drawn, 1); // the click is still to come
  mock.timers.tick(0);
  assert.equal(drawn, 2);
  presses.press();
  presses.release();
  mock.timers.tick(0);
  assert.equal(drawn, 2);
  mock.timers.reset();
});

test("A press whose release is never seen holds the page up for a second at most", () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  let drawn = 0;
  const presses = betweenPresses(() => (drawn += 1), 1000);
  presses.press();
  presses.draw();
  mock.timers.tick(999);
  assert.equal(drawn, 0);
  mock.timers.tick(1);
  mock.timers.tick(0);
  assert.equal(drawn, 1);
  mock.timers.reset();
});

test("What the click itself draws is drawn at once, and not again", () => {
  mock.timers.enable({ apis: ["setTimeout"] });
  let drawn = 0;
  const presses = betweenPresses(() => (drawn += 1));
  presses.press();
  presses.draw();
  presses.release();
  presses.draw();
  assert.equal(drawn, 1);
  mock.timers.tick(0);
  assert.equal(drawn, 1);
  mock.timers.reset();
});
