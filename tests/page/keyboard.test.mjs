import assert from "node:assert/strict";
import { test } from "node:test";
import { Stage, key, recording } from "./harness.mjs";

const press = async (page, ...keys) => {
  for (const one of keys) await page.keyboard.press(one);
};
const focused = (page) => page.evaluate(() => document.activeElement?.dataset.key ?? document.activeElement?.tagName);

test("A foot pedal presses the named button of the record screen, and nothing elsewhere", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve([recording("before.flac"), recording("after-unchanged.flac")], 2));
  await page.waitForSelector(key("new-16"));
  await press(page, "Space", "Enter"); // no tooth is preselected
  await page.click(key("new-16"));
  await page.waitForSelector(".looks");
  assert.equal(await page.locator(".look").count(), 1);
  const home = page.url();
  await press(page, "Space", "Enter");
  assert.equal(page.url(), home);
  // What a finger touched last is not touched again by the foot.
  await page.click(key("film-before"));
  await page.click(key("pair-16/46"));
  await press(page, "Space", "Enter");
  assert.match(await page.textContent(key("pair-16/46")), /hold/);
  await page.click(key("done"));
  await page.click(key("sound-before"));
  await page.waitForSelector(".slot.heard");
  await page.waitForFunction(() => document.activeElement?.dataset.key === "stop");
  await press(page, "Space"); // stop and keep
  await page.waitForSelector(".outcome");
  if ((await page.locator(".outcome.good").count()) === 0) {
    await press(page, "Space"); // record again
    await page.waitForSelector(".outcome.good", { timeout: 120_000 });
  }
  await press(page, "Space"); // done
  await page.waitForSelector(".looks");
  await press(page, "Space", "Enter");
  assert.equal(page.url(), home);
  assert.equal(await page.locator(".look").count(), 1);
  stage.check();
});

test("Charts are entered with arrows, letters and Enter, and Escape leads back and keeps them", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve(["silence"]));
  await page.focus(key("new-16"));
  await press(page, "ArrowDown", "ArrowRight");
  assert.equal(await focused(page), "new-45");
  await press(page, "Enter");
  await page.waitForSelector(".looks");
  await page.focus(key("film-before"));
  await press(page, "Enter");
  await page.waitForSelector(".pairs");
  await page.focus(key("pair-18/48"));
  await press(page, "ArrowRight", "h", "ArrowRight", "Enter", "Enter", "End", "o", "ArrowLeft", "u");
  assert.equal(await focused(page), "pair-27/37");
  assert.match(await page.textContent(key("pair-27/37")), /no test/);
  assert.match(await page.textContent(key("pair-17/47")), /hold/);
  assert.match(await page.textContent(key("pair-16/46")), /slide/);
  assert.match(await page.textContent(key("pair-28/38")), /open/);
  await press(page, "Escape");
  await page.waitForSelector("text=Film of before kept.");
  assert.match(await page.textContent(key("film-before")), /1 of 3 hold/);
  stage.check();
});

test("Every target can be reached with Tab and shows that it has the focus", async (t) => {
  const stage = new Stage(t);
  const page = await stage.open(await stage.serve(["silence"]));
  await page.focus(key("new-16"));
  await press(page, "Space");
  await page.waitForSelector(".looks");
  await page.waitForFunction(() => document.activeElement?.tagName === "H1"); // the new screen has the focus
  const reached = new Set();
  for (let i = 0; i < 25; ++i) {
    await press(page, "Tab");
    reached.add(await focused(page));
    const ring = await page.evaluate(() => {
      const element = document.activeElement;
      return element === document.body || getComputedStyle(element).outlineStyle !== "none";
    });
    assert.ok(ring, `no focus ring on ${await focused(page)}`);
  }
  for (const target of ["back", "details", "display", "main", "film-before", "marks-before", "sound-before", "numb-yes", "feel-high", "report"]) {
    assert.ok(reached.has(target), `${target} cannot be reached`);
  }
  stage.check();
});
